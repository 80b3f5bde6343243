package forecast

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"wintertop/weather"
	"wintertop/weather/table"
)

func TestARepeatedNoteCountsOnce(t *testing.T) {
	rows := "date,planting,trait,value,unit,plants\n" +
		"2013-10-15,a,leaf_mass,30,g,10\n" +
		"2013-10-15,a,Leaf Mass,30,g,10\n" + // the same, written otherwise
		"2013-10-15,a,LEAF-MASS,31,g,10\n" + // another value
		"2013-10-15,a,leaf_mass,30,g,12\n" + // other plants
		"2013-10-15,b,leaf_mass,30,g,10\n" + // another plot
		"2013-10-16,a,leaf_mass,30,g,10\n"
	notes, findings, err := readNotes(strings.NewReader(rows), "notes.csv")
	if err != nil || findings.Err() != nil {
		t.Fatal(err, findings)
	}
	var lines []int
	for _, n := range notes {
		if n.Trait != LeafMass {
			t.Errorf("trait %q", n.Trait)
		}
		lines = append(lines, n.FileLine)
	}
	if fmt.Sprint(lines) != "[2 4 5 6 7]" {
		t.Errorf("kept the notes of lines %v", lines)
	}
	if len(findings) != 1 || findings[0].Line != 3 || !strings.Contains(findings[0].What, "stands on line 2 already") {
		t.Errorf("found %v", findings)
	}
}

func TestTooManyLinesAndNotesAreRefused(t *testing.T) {
	for _, c := range []struct {
		read func(text string) (table.Findings, error)
		head string
		row  string
		most int
	}{
		{func(s string) (table.Findings, error) {
			_, found, err := readLines(strings.NewReader(s), "f.csv")
			return found, err
		}, "line\n", "a\n", 2000},
		{func(s string) (table.Findings, error) {
			_, found, err := readNotes(strings.NewReader(s), "f.csv")
			return found, err
		}, "date,planting,trait,value\n", "2013-10-15,a,leaf_mass,\n", 200_000},
	} {
		if c.most > 10_000 && os.Getenv("WINTERTOP_LONG") == "" {
			continue
		}
		found, err := c.read(c.head + strings.Repeat(c.row, c.most+1))
		want := fmt.Sprintf("f.csv:%d: more than %d rows", c.most+2, c.most)
		if err != nil || !strings.Contains(fmt.Sprint(found.Err()), want) {
			t.Errorf("%d rows: %v, %.200v", c.most+1, err, found.Err())
		}
	}
}

func TestSiteItemsHoweverWritten(t *testing.T) {
	rows, _, err := readSite(strings.NewReader("item,value\nLatitude,50\nBelt Height,25\n"), "site.csv")
	if err != nil {
		t.Fatal(err)
	}
	site, findings := siteOf(rows, "site.csv", "")
	if findings.Err() != nil || site.Canopy.BeltHeightCM != 25 {
		t.Errorf("belt height %g, %v", site.Canopy.BeltHeightCM, findings)
	}
}

func TestPlacesThatEndApartSaySo(t *testing.T) {
	place := func(name string, days int) *Place {
		r := weather.Record{File: name + ".csv"}
		for i := range days {
			r.Days = append(r.Days, weather.Day{Date: day(t, "2014-01-01") + weather.Date(i)})
		}
		return &Place{Name: name, Record: r}
	}
	trial := &Trial{Places: []*Place{place("north", 20), place("south", 10)}}
	found := trial.EndsApart()
	if len(found) != 1 || found[0].String() != "north.csv: goes on to 2014-01-20; as-of is 2014-01-10, the last day on which every place has a record" {
		t.Errorf("found %v", found)
	}
	trial.Places = trial.Places[1:]
	if found := trial.EndsApart(); found != nil {
		t.Errorf("one place: %v", found)
	}
}

// withoutRain blanks the rain of the days whose date begins so.
func withoutRain(text string, begins ...string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		cells := strings.Split(line, ",")
		if slices.ContainsFunc(begins, func(s string) bool { return strings.HasPrefix(line, s) }) {
			cells[1] = ""
		}
		b.WriteString(strings.Join(cells, ","))
	}
	return b.String()
}

// Fit days are known from the winters with rain, as long as these are most.
func TestFitDaysOfTheWintersWithRain(t *testing.T) {
	fit := func(blank ...string) (float64, string) {
		fsys := folder(t)
		fsys["station.csv"] = &fstest.MapFile{Data: []byte(withoutRain(seattle(t), blank...))}
		trial := loadAsOf(t, fsys, "2015-02-10")
		goal := goalOf(t, "2015-02-10")
		goal.Want = WantPicks
		looks, findings, err := Look(context.Background(), trial, learn(t, trial), goal)
		if err != nil {
			t.Fatal(err)
		}
		return looks[0].Picks.Rows[0].Dates[0].FitDaysLeft, fmt.Sprint(findings)
	}
	all, said := fit()
	if math.IsNaN(all) || strings.Contains(said, "rain is known in") {
		t.Errorf("with all rain %g fit days; %s", all, said)
	}
	// The two past winters are 2012/13 and 2013/14.
	one, said := fit("2013-02", "2013-01")
	if math.IsNaN(one) || !strings.Contains(said, "rain is known in 1 of the 2 past winters") {
		t.Errorf("with the rain of one winter %g fit days; %s", one, said)
	}
	other, _ := fit("2014-02", "2014-01")
	if mean := (one + other) / 2; math.Abs(mean-all) > 1e-9 {
		t.Errorf("each winter alone gives %g and %g fit days, both %g", one, other, all)
	}
	none, said := fit("2013-01", "2013-02", "2014-01", "2014-02")
	if !math.IsNaN(none) || strings.Contains(said, "rain is known in") {
		t.Errorf("without rain %g fit days; %s", none, said)
	}
}

// On the window's last day nothing is left to play, whatever else is wanted.
func TestNothingIsPlayedOnTheLastDay(t *testing.T) {
	_, _, o := look(t, folder(t), "2015-03-15")
	if r := o.Picks.Rows[0]; o.Picks.Traces != 0 || r.Winters != 0 || len(r.Dates) != 1 {
		t.Errorf("%d winters played, %d in the row, %d dates", o.Picks.Traces, r.Winters, len(r.Dates))
	}
	if o.Season.Traces == 0 {
		t.Error("the season goes on to June without past winters")
	}
}
