package demo_test

import (
	"io"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"wintertop/cmd/wintertop/demo"
	"wintertop/forecast"
	"wintertop/weather"
	"wintertop/weather/table"
)

// load reads the example as a user's trial folder is read.
func load(t *testing.T) *forecast.Trial {
	t.Helper()
	files := demo.Trial()
	open := func(name string) (io.ReadCloser, error) { return files.Open(name) }
	trial, findings, err := forecast.Load(open, forecast.Files{}, weather.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range findings {
		if f.Severity != table.Note {
			t.Errorf("a finding in the example: %s", f)
		}
	}
	return trial
}

func TestTrialIsWhole(t *testing.T) {
	trial := load(t)
	if got := trial.LastDay().String(); got != "2025-11-15" {
		t.Errorf("the record ends on %s", got)
	}
	kinds, noted := map[string]int{}, map[string]map[weather.WinterYear]int{}
	lineOf := map[string]forecast.Planting{}
	for _, p := range trial.Plantings {
		lineOf[p.Name] = p
		if p.PlantsPerM2 < 60 || p.PlantsPerM2 > 90 {
			t.Errorf("%s has %v plants per m2", p.Name, p.PlantsPerM2)
		}
	}
	for _, n := range trial.Notes {
		p := lineOf[n.Planting]
		if noted[p.Line] == nil {
			noted[p.Line] = map[weather.WinterYear]int{}
		}
		noted[p.Line][p.Winter]++
	}
	for _, l := range trial.Lines {
		kinds[l.Kind]++
	}
	if len(trial.Lines) != 8 || kinds["check"] != 2 {
		t.Errorf("%d lines, of which %d checks", len(trial.Lines), kinds["check"])
	}
	if len(noted) != 7 {
		t.Errorf("%d lines have notes, want all but one", len(noted))
	}
	for line, winters := range noted {
		if len(winters) != 4 {
			t.Errorf("%s has notes of %d winters, want three past ones and the one in progress", line, len(winters))
		}
	}
}

func TestFilesStaySmall(t *testing.T) {
	for name, most := range map[string]int{"station.csv": 400e3, "site.csv": 1e3, "lines.csv": 2e3, "plantings.csv": 4e3, "notes.csv": 40e3} {
		content, err := fs.ReadFile(demo.Trial(), name)
		if err != nil {
			t.Fatal(err)
		}
		if len(content) > most {
			t.Errorf("%s has %d bytes, more than %d", name, len(content), most)
		}
	}
}

func TestEverythingIsMarkedInvented(t *testing.T) {
	trial := load(t)
	if name := trial.Places[0].Site.Weather.Name; !strings.Contains(name, "(invented)") {
		t.Errorf("the site is called %q", name)
	}
	for _, l := range trial.Lines {
		if !strings.HasPrefix(l.Note, "invented") {
			t.Errorf("line %s has the note %q", l.Name, l.Note)
		}
	}
}

// The valley lies among real maritime stations; the ranges are those of
// README.md, which gives the stations' own figures and their sources.
func TestClimateIsMaritime(t *testing.T) {
	place := load(t).Places[0]
	winters := place.Record.CountWinters(false)
	winters = slices.DeleteFunc(winters, func(w weather.WinterCount) bool { return !w.Complete })
	if len(winters) < 30 {
		t.Fatalf("%d complete winters", len(winters))
	}
	early := map[weather.WinterYear]float64{} // events opened by 31 January
	for _, e := range weather.Events(place.Record, place.Site.Weather) {
		if e.Start.Date <= e.Winter.First()+214 {
			early[e.Winter]++
		}
	}
	var frost, ice, freezeThaw, severe, coldest, events []float64
	mild, hard := 0, 0
	for _, w := range winters {
		frost, ice = append(frost, float64(w.FrostDays)), append(ice, float64(w.IceDays))
		freezeThaw, severe = append(freezeThaw, float64(w.FreezeThawDays)), append(severe, float64(w.SevereFreezeThawDays))
		coldest, events = append(coldest, w.ColdestC), append(events, early[w.Winter])
		switch {
		case w.ColdestC <= -10 && w.ColdestC >= -13:
			hard++
		case w.ColdestC <= -4 && w.ColdestC >= -7:
			mild++
		}
	}
	var rainMM, meanC float64
	snowDays := 0
	for _, d := range place.Record.Days {
		rainMM += d.RainMM
		meanC += (d.MinC + d.MaxC) / 2
		if d.SnowCM > 0 {
			snowDays++
		}
		if _, month, _ := d.Date.YMD(); d.SnowCM > 0 && month > 4 && month < 11 {
			t.Errorf("snow on %s", d.Date)
		}
	}
	days, years := float64(len(place.Record.Days)), float64(len(winters))
	for _, c := range []struct {
		what      string
		got       float64
		low, high float64
	}{
		{"frost days a winter", mean(frost), 20, 45},
		{"ice days a winter", mean(ice), 0.2, 6},
		{"freeze-thaw days a winter", mean(freezeThaw), 20, 45},
		{"severe freeze-thaw days a winter", mean(severe), 6, 22},
		{"events by 31 January, median", median(events), 12, 20},
		{"coldest night, median, °C", median(coldest), -7, -4},
		{"coldest night of all, °C", slices.Min(coldest), -13, -10},
		{"winters with a coldest night of -4 to -7", float64(mild), years / 3, years},
		{"winters with one of -10 to -13", float64(hard), 3, 6},
		{"rain a month, mm", rainMM / days * 365.25 / 12, 55, 110},
		{"mean of the year, °C", meanC / days, 9, 12},
		{"days with snow a winter", float64(snowDays) / years, 1, 10},
	} {
		if c.got < c.low || c.got > c.high {
			t.Errorf("%s: %.2f, want %v to %v", c.what, c.got, c.low, c.high)
		}
	}
}

func mean(x []float64) float64 {
	total := 0.0
	for _, v := range x {
		total += v
	}
	return total / float64(len(x))
}

func median(x []float64) float64 {
	x = slices.Sorted(slices.Values(x))
	return (x[(len(x)-1)/2] + x[len(x)/2]) / 2
}
