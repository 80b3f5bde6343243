package weather

import (
	"slices"
	"strings"
	"testing"
)

// warnings gives what is doubted in a record's plain file.
func warnings(t *testing.T, r Record) (whats []string) {
	t.Helper()
	for _, f := range doubts(r, fieldOf, func(d Date) int { return int(d-r.First()) + 2 }) {
		if f.TreatedAs != "kept" || f.Line == 0 {
			t.Errorf("got %+v", f)
		}
		whats = append(whats, f.What)
	}
	return whats
}

func TestSoundRecordsAreNotDoubted(t *testing.T) {
	for _, place := range []string{"Seattle", "New York"} {
		if w := warnings(t, mustRead(t, onePlaceOf(t, place), Reading{})); len(w) > 0 {
			t.Errorf("%s: %q", place, w)
		}
	}
	for _, file := range []string{"debilt-daily-2000-2022.csv", "norderney-daily-1947-2020.csv"} {
		t.Run(file, func(t *testing.T) {
			r, _, err := Read(openFile(t, file), file, Reading{})
			if err != nil {
				t.Fatal(err)
			}
			if w := warnings(t, r); len(w) > 0 {
				t.Errorf("%q", w)
			}
		})
	}
}

func TestDoubts(t *testing.T) {
	sound := mustRead(t, onePlaceOf(t, "Seattle"), Reading{})
	at := func(d Date) int { return int(d - sound.First()) }
	for _, c := range []struct {
		name string
		harm func(days []Day)
		want []string
	}{
		{"one value for weeks", func(days []Day) {
			for i := at(NewDate(2013, 5, 3)); i < at(NewDate(2013, 5, 23)); i++ {
				days[i].MinC = 7.1
			}
		}, []string{"the same 7.1 °C on 20 days running, from 2013-05-03 on"}},
		{"one value short of it", func(days []Day) {
			for i := at(NewDate(2013, 5, 3)); i < at(NewDate(2013, 5, 22)); i++ {
				days[i].MinC = 7.1
			}
		}, nil},
		{"one value to the end", func(days []Day) {
			for i := len(days) - 25; i < len(days); i++ {
				days[i].MaxC = 9.4
			}
		}, []string{"the same 9.4 °C on 25 days running, from 2015-12-07 on"}},
		{"a sign lost", func(days []Day) { days[at(NewDate(2014, 8, 9))].MinC *= -2 }, []string{
			"-31.2 °C lies 44.5 °C off the days before and after it", "the minimum -31.2 °C lies"}},
		{"a year's maxima a day late", func(days []Day) {
			for i := at(NewDate(2014, 12, 31)); i > at(NewDate(2014, 1, 1)); i-- {
				days[i].MaxC = days[i-1].MaxC
			}
		}, []string{"the maxima of 2014 seem to stand a day late against the minima"}},
		{"a year's maxima a day early", func(days []Day) {
			for i := at(NewDate(2014, 1, 1)); i < at(NewDate(2014, 12, 31)); i++ {
				days[i].MaxC = days[i+1].MaxC
			}
		}, []string{"the maxima of 2014 seem to stand a day early against the minima"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := sound
			r.Days = slices.Clone(sound.Days)
			c.harm(r.Days)
			got := warnings(t, r)
			if len(got) != len(c.want) {
				t.Fatalf("got %q", got)
			}
			for i, w := range c.want {
				if !strings.HasPrefix(got[i], w) {
					t.Errorf("got %q, want %q", got[i], w)
				}
			}
		})
	}
}
