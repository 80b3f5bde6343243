package forecast

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"wintertop/weather"
	"wintertop/weather/table"
)

// seattle gives the station file of Seattle airport, 2012–2015, from the
// open data in testdata (its README names the source).
func seattle(t testing.TB) string {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "testdata", "seattle-newyork-daily-2012-2015.csv"))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString("date,rain,tmax,tmin\n")
	for _, row := range strings.Split(string(raw), "\n") {
		if cells := strings.Split(strings.TrimSpace(row), ","); cells[0] == "Seattle" {
			b.WriteString(strings.Join(cells[1:5], ",") + "\n")
		}
	}
	return b.String()
}

// The trial that the tests share: Seattle's weather, invented lines.
const (
	siteCSV      = "item,value,unit\nname,invented field,\nlatitude,47.4,deg\n"
	linesCSV     = "line,kind,pedigree,note\nstout,candidate,,invented\nplain,check,,invented\nunseen,candidate,,invented\n"
	plantingsCSV = "planting,line,place,sown,plants_per_m2,last_cultivated\n" +
		"stout13,stout,,2013-07-05,80,2013-09-10\nplain13,plain,,2013-07-05,80,2013-09-10\n" +
		"stout14,stout,,2014-07-05,80,2014-09-10\nplain14,plain,,2014-07-05,80,2014-09-10\nunseen14,unseen,,2014-07-05,80,2014-09-10\n"
	notesCSV = "date,planting,trait,value,unit,plants\n" +
		"2013-10-15,stout13,leaf_mass,30,g,10\n2013-10-15,plain13,leaf_mass,22,g,10\n" +
		"2013-10-15,stout13,top_height,46,cm,10\n2013-10-15,plain13,top_height,39,cm,10\n" +
		"2014-02-20,stout13,leaf_mass,14,g,10\n2014-02-20,plain13,leaf_mass,3,g,10\n"
)

func folder(t testing.TB) fstest.MapFS {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, text := range map[string]string{
		"station.csv": seattle(t), "site.csv": siteCSV, "lines.csv": linesCSV, "plantings.csv": plantingsCSV, "notes.csv": notesCSV,
	} {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return fsys
}

func opener(fsys fs.FS) Open {
	return func(name string) (io.ReadCloser, error) { return fsys.Open(name) }
}

// with gives the folder with one file replaced.
func with(t testing.TB, name, text string) fstest.MapFS {
	t.Helper()
	fsys := folder(t)
	fsys[name] = &fstest.MapFile{Data: []byte(text)}
	return fsys
}

func day(t testing.TB, iso string) weather.Date {
	t.Helper()
	d, err := weather.ParseDate(iso)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func loadAsOf(t testing.TB, fsys fs.FS, asOf string) *Trial {
	t.Helper()
	trial, _, err := Load(opener(fsys), Files{}, weather.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	cut, _, err := trial.AsOf(day(t, asOf))
	if err != nil {
		t.Fatal(err)
	}
	return cut
}

func learn(t testing.TB, trial *Trial) *Learning {
	t.Helper()
	l, _, err := Learn(context.Background(), trial)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestLoadJoinsTheFiles(t *testing.T) {
	trial, findings, err := Load(opener(folder(t)), Files{}, weather.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	if len(trial.Places) != 1 || len(trial.Lines) != 3 || len(trial.Plantings) != 5 || len(trial.Notes) != 6 {
		t.Fatalf("%d places, %d lines, %d plantings, %d notes; findings %v", len(trial.Places), len(trial.Lines), len(trial.Plantings), len(trial.Notes), findings)
	}
	if w := trial.Plantings[0].Winter.String(); w != "2013/14" {
		t.Errorf("sown in July 2013: winter %s", w)
	}
	if got := trial.LastDay().String(); got != "2015-12-31" {
		t.Errorf("last day of the record %s", got)
	}
}

func TestFaultsNameFileAndLine(t *testing.T) {
	for _, c := range []struct{ name, file, text, want string }{
		{"unknown line", "plantings.csv", "planting,line,sown,plants_per_m2\nA,stuot,2013-07-05,80\n", `plantings.csv:2: line "stuot" is not in lines.csv`},
		{"sown before the record", "plantings.csv", "planting,line,sown,plants_per_m2\nA,stout,2011-07-05,80\n", "plantings.csv:2: sown on 2011-07-05, before the station record begins on 2012-01-01"},
		{"unknown planting", "notes.csv", "date,planting,trait,value\n2013-10-15,stout31,leaf_mass,3\n", `notes.csv:2: planting "stout31" is not in plantings.csv`},
		{"note before sowing", "notes.csv", "date,planting,trait,value\n2013-06-15,stout13,leaf_mass,3\n", "notes.csv:2: note of stout13 on 2013-06-15, before it was sown"},
		{"unknown trait", "notes.csv", "date,planting,trait,value\n2013-10-15,stout13,leaf_mas,3\n", `notes.csv:2: trait "leaf_mas" is not known`},
		{"unknown unit", "notes.csv", "date,planting,trait,value,unit\n2013-10-15,stout13,leaf_mass,3,lbs\n", `notes.csv:2: unit "lbs" is not known`},
		{"share above 1", "notes.csv", "date,planting,trait,value\n2013-10-15,stout13,weed_cover,30\n", "notes.csv:2: weed_cover of 30 is out of range"},
		{"unknown item", "site.csv", "item,value\nlatitude,47\nbelt_hight,20\n", `site.csv:3: item "belt_hight" is not known`},
		{"no latitude", "site.csv", "item,value\nbelt_height,20\n", "site.csv: no latitude"},
		{"unknown kind", "lines.csv", "line,kind\nstout,chek\nplain,check\nunseen,\n", `lines.csv:2: kind "chek" is not known`},
		{"two lines of one name", "lines.csv", "line\nstout\nplain\nunseen\nplain\n", `lines.csv:5: line "plain" stands on line 3 already`},
		{"text for a number", "plantings.csv", "planting,line,sown,plants_per_m2\nA,stout,2013-07-05,many\n", "plantings.csv:2: plants_per_m2"},
	} {
		_, _, err := Load(opener(with(t, c.file, c.text)), Files{}, weather.Reading{})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
		}
	}
}

func TestUnitsAreConverted(t *testing.T) {
	text := "date,planting,trait,value,unit,plants\n2013-10-15,stout13,leaf_mass,1,oz,10\n2013-10-15,stout13,top_height,18,in,10\n2013-10-15,stout13,weed_cover,30,%,\n"
	trial, _, err := Load(opener(with(t, "notes.csv", text)), Files{}, weather.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	// The international ounce is 28.349523125 g, the inch 2.54 cm, by definition.
	for i, want := range []float64{28.349523125, 45.72, 0.3} {
		if got := trial.Notes[i].Value; got < want-1e-9 || got > want+1e-9 {
			t.Errorf("note %d is %g, want %g", i, got, want)
		}
	}
}

func TestWideNotesAreTheLongOnes(t *testing.T) {
	wide := "Date;Planting;Leaf mass (g);top_height_cm;Plants\n2013-10-15;stout13;30,5;46;10\n2014-02-20;stout13;14;;10\n"
	trial, _, err := Load(opener(with(t, "notes.csv", wide)), Files{}, weather.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	want := []Note{
		{day(t, "2013-10-15"), "stout13", TopHeight, 46, 10, 2},
		{day(t, "2013-10-15"), "stout13", LeafMass, 30.5, 10, 2},
		{day(t, "2014-02-20"), "stout13", LeafMass, 14, 10, 3},
	}
	if len(trial.Notes) != len(want) {
		t.Fatalf("%d notes, want %d: %v", len(trial.Notes), len(want), trial.Notes)
	}
	for i, n := range trial.Notes {
		if n != want[i] {
			t.Errorf("note %d is %v, want %v", i, n, want[i])
		}
	}
}

func TestFrozenNoteIsSetAsideAndNamed(t *testing.T) {
	text := "date,planting,trait,value,state\n2013-12-08,stout13,leaf_mass,20,frozen\n2013-12-20,stout13,leaf_mass,15,\n"
	trial, findings, err := Load(opener(with(t, "notes.csv", text)), Files{}, weather.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	if len(trial.Notes) != 1 || trial.Notes[0].Value != 15 {
		t.Errorf("notes kept: %v", trial.Notes)
	}
	named := false
	for _, f := range findings {
		named = named || strings.Contains(f.String(), "notes.csv:2: note of stout13 taken on frozen tops is set aside")
	}
	if !named {
		t.Errorf("not named in %v", findings)
	}
}

func TestAsOfTakesAwayTheFuture(t *testing.T) {
	trial := loadAsOf(t, folder(t), "2013-12-01")
	if last := trial.Places[0].Filled.Last().String(); last != "2013-12-01" {
		t.Errorf("weather to %s", last)
	}
	if len(trial.Plantings) != 2 || len(trial.Notes) != 4 {
		t.Errorf("%d plantings and %d notes known on 2013-12-01, want 2 and 4", len(trial.Plantings), len(trial.Notes))
	}
}

func TestSeveralPlacesHaveTheirOwnFiles(t *testing.T) {
	fsys := folder(t)
	fsys["station-hill.csv"], fsys["station-shore.csv"] = fsys["station.csv"], fsys["station.csv"]
	fsys["site.csv"] = &fstest.MapFile{Data: []byte("item,value,unit,place\nlatitude,47.4,deg,\nbelt_height,15,cm,shore\n")}
	fsys["plantings.csv"] = &fstest.MapFile{Data: []byte("planting,line,place,sown,plants_per_m2\nA,stout,hill,2014-07-05,80\nB,stout,shore,2014-07-05,80\n")}
	delete(fsys, "notes.csv")
	trial, _, err := Load(opener(fsys), Files{}, weather.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	if len(trial.Places) != 2 || trial.Places[0].Site.Canopy.BeltHeightCM != 20 || trial.Places[1].Site.Canopy.BeltHeightCM != 15 {
		t.Errorf("places %+v", trial.Places)
	}
}

func TestOnePlaceMayGoUnnamedInSomeRows(t *testing.T) {
	text := "planting,line,place,sown,plants_per_m2\nA,stout,home,2014-07-05,80\nB,plain,,2014-07-05,80\n"
	fsys := with(t, "plantings.csv", text)
	delete(fsys, "notes.csv")
	trial, _, err := Load(opener(fsys), Files{}, weather.Reading{})
	if err != nil || len(trial.Places) != 1 {
		t.Fatalf("%v, places %v", err, trial)
	}
}

func TestMissingLinesFileIsNamed(t *testing.T) {
	fsys := folder(t)
	delete(fsys, "lines.csv")
	if _, _, err := Load(opener(fsys), Files{}, weather.Reading{}); !errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "lines.csv") {
		t.Errorf("error %v", err)
	}
}

func TestFindingsAboutLaterDaysAreDropped(t *testing.T) {
	all := table.Findings{{What: "a", Date: "2014-11-14"}, {What: "b", Date: "2014-11-16"}, {What: "c"}}
	if kept := Before(all, day(t, "2014-11-15")); len(kept) != 2 || kept[0].What != "a" || kept[1].What != "c" {
		t.Errorf("kept %v", kept)
	}
}

func TestMisspeltPlaceOfTheSiteIsRefused(t *testing.T) {
	fsys := with(t, "site.csv", "item,value,unit,place\nlatitude,47.4,deg,\nmin_offset,-3,C,shoe\nmax_offset,1,C,elsewhere\n")
	fsys["plantings.csv"] = &fstest.MapFile{Data: []byte("planting,line,place,sown,plants_per_m2\nA,stout,shore,2014-07-05,80\n")}
	delete(fsys, "notes.csv")
	_, findings, err := Load(opener(fsys), Files{}, weather.Reading{})
	if err == nil || !strings.Contains(err.Error(), `site.csv:3: no planting stands at the place "shoe"`) || !strings.Contains(err.Error(), `did you mean "shore"?`) {
		t.Errorf("error %v", err)
	}
	if !slices.ContainsFunc(findings, func(f table.Finding) bool { return f.Line == 4 && f.Severity == table.Warning }) {
		t.Errorf("a place without plantings is not named: %v", findings)
	}
}
