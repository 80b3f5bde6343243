package forecast

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"wintertop/weather"
)

func february(w weather.WinterYear) (from, to weather.Date) {
	return weather.NewDate(w.Year+1, time.February, 1), weather.NewDate(w.Year+1, time.March, 15)
}

func splitsOf(t *testing.T, notes string) ([]Split, string) {
	t.Helper()
	trial := loadAsOf(t, with(t, "notes.csv", notes), "2014-11-15")
	splits, findings := learn(t, trial).Splits(trial, february)
	var all []string
	for _, f := range findings {
		all = append(all, f.String())
	}
	return splits, strings.Join(all, "\n")
}

// The shares by hand from the notes: the last of late winter over the last
// before the first frost, the mean of the plots.
func TestSplitsByHand(t *testing.T) {
	splits, _ := splitsOf(t, notesCSV+"2013-11-05,stout13,leaf_mass,28,g,10\n2014-03-20,stout13,leaf_mass,1,g,10\n2014-01-10,stout13,leaf_mass,27,g,10\n")
	if len(splits) != 5 {
		t.Fatalf("%d rows, want the 5 plantings' lines", len(splits))
	}
	stout, plain := splits[0], splits[1]
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"stout kept", stout.KeptSeen, 14. / 28}, {"plain kept", plain.KeptSeen, 3. / 22},
		{"line part", stout.LinePart, math.Log(stout.KeptExpected / stout.KeptStandard)},
		{"unexplained", stout.Unexplained, math.Log(stout.KeptSeen / stout.KeptExpected)},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s %g, want %g", c.name, c.got, c.want)
		}
	}
	if !(stout.KeptExpected > plain.KeptExpected) || stout.LinePart <= 0 || plain.LinePart >= 0 {
		t.Errorf("stout %+v\nplain %+v", stout, plain)
	}
	if !(stout.ToldApart > 0.1 && stout.ToldApart < 1) {
		t.Errorf("told apart %g", stout.ToldApart)
	}
	if next := splits[2]; next.Winter.String() != "2014/15" || !math.IsNaN(next.KeptSeen) || next.Remark == "" {
		t.Errorf("a winter without notes: %+v", next)
	}
}

// A standard line in its weather is the model's own answer for top size 1 and
// hardiness -9.5.
func TestKeptStandardIsTheCanopys(t *testing.T) {
	trial := loadAsOf(t, folder(t), "2014-11-15")
	splits, _ := learn(t, trial).Splits(trial, february)
	c := trial.cropOf(&trial.Plantings[0])
	g := NewGrid(Standard())
	w := g.predict(c, []watch{{day(t, "2013-10-15"), LeafMass}, {day(t, "2014-02-20"), LeafMass}}, Standard())
	at := gridSizes/2*gridHards + gridHards/2
	kept := func(d string) float64 { return math.Exp(w[watch{day(t, d), LeafMass}][at]) - 0.02 }
	if want := kept("2014-02-20") / kept("2013-10-15"); math.Abs(splits[0].KeptStandard-want) > 1e-12 {
		t.Errorf("standard line keeps %g, the canopy %g", splits[0].KeptStandard, want)
	}
}

// A top that is gone is a share of 0, and its logarithm blank.
func TestNothingLeftIsBlank(t *testing.T) {
	splits, _ := splitsOf(t, strings.Replace(notesCSV, "plain13,leaf_mass,3,", "plain13,leaf_mass,0,", 1))
	if p := splits[1]; p.KeptSeen != 0 || !math.IsNaN(p.Unexplained) {
		t.Errorf("%+v", p)
	}
	var b bytes.Buffer
	if err := LossSplitTable(splits).CSV(&b); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "NaN") || strings.Contains(b.String(), "Inf") {
		t.Error(b.String())
	}
}

// Notes of a winter too mild for any line to lose by hardiness say so; the
// warm year is the same record 12 °C warmer.
func TestAMildWinterTeachesNothing(t *testing.T) {
	site := siteCSV + "min_offset,9,C\nmax_offset,9,C\n"
	fsys := with(t, "site.csv", site)
	trial := loadAsOf(t, fsys, "2014-11-15")
	splits, findings := learn(t, trial).Splits(trial, february)
	if splits[0].Remark != "too mild to tell hardiness apart" || splits[0].ToldApart > 0.1 {
		t.Errorf("%+v", splits[0])
	}
	if len(findings) != 1 || !strings.Contains(findings[0].What, "2013/14 tells little of hardiness: too mild") {
		t.Errorf("%v", findings)
	}
}

// So does one so hard that no line has anything left: a week of -25 °C.
func TestAKillingWinterTeachesNothing(t *testing.T) {
	notes := strings.NewReplacer("stout13,leaf_mass,14", "stout13,leaf_mass,0", "plain13,leaf_mass,3", "plain13,leaf_mass,0").Replace(notesCSV)
	var rows strings.Builder
	for _, r := range strings.SplitAfter(seattle(t), "\n") {
		if strings.HasPrefix(r, "2014-01-2") {
			r = r[:10] + ",0,-15,-25\n"
		}
		rows.WriteString(r)
	}
	fsys := with(t, "station.csv", rows.String())
	fsys["notes.csv"].Data = []byte(notes)
	trial := loadAsOf(t, fsys, "2014-11-15")
	splits, _ := learn(t, trial).Splits(trial, february)
	if !strings.HasPrefix(splits[0].Remark, "so hard") || splits[0].ToldApart > 0.1 {
		t.Errorf("%+v", splits[0])
	}
}
