package weather

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestDates(t *testing.T) {
	d, err := ParseDate("2012-02-29")
	if y, m, day := d.YMD(); err != nil || y != 2012 || m != time.February || day != 29 || d.DayOfYear() != 60 || d.String() != "2012-02-29" || d != NewDate(2012, 2, 29) {
		t.Errorf("got %s, %v", d, err)
	}
	if NewDate(1970, 1, 1) != 0 || NewDate(1969, 12, 31) != -1 || NewDate(1700, 1, 1)+1 != NewDate(1700, 1, 2) {
		t.Error("days are counted from 1970-01-01")
	}
	for _, s := range []string{"", "2012-02-30", "2012-2-3", "03/02/2012", "20120203"} {
		if _, err := ParseDate(s); err == nil {
			t.Errorf("%q is a date", s)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		d := Date(rapid.IntRange(-98615, 84005).Draw(t, "day"))
		if back, err := ParseDate(d.String()); err != nil || back != d {
			t.Fatalf("%d: %v, %v", d, back, err)
		}
	})
}

func TestWinters(t *testing.T) {
	for s, want := range map[string]struct {
		winter             WinterYear
		first, last        string
		frostFrom, frostTo string
	}{
		"2012/13": {WinterYear{2012, false}, "2012-07-01", "2013-06-30", "2012-10-01", "2013-03-31"},
		"1999/00": {WinterYear{1999, false}, "1999-07-01", "2000-06-30", "1999-10-01", "2000-03-31"},
		"2014":    {WinterYear{2014, true}, "2014-01-01", "2014-12-31", "2014-04-01", "2014-09-30"},
	} {
		w, err := ParseWinter(s, want.winter.South)
		from, to := w.FrostSeason()
		if err != nil || w != want.winter || w.String() != s || w.First().String() != want.first || w.Last().String() != want.last ||
			from.String() != want.frostFrom || to.String() != want.frostTo || WinterOf(w.First(), w.South) != w || WinterOf(w.Last(), w.South) != w || WinterOf(w.Last()+1, w.South) != w.Next() {
			t.Errorf("%s: got %+v, %v", s, w, err)
		}
	}
	for _, s := range []string{"", "2012", "2012/14", "2012/1", "2012/013", "12/13", "2012-13", "/13", "2012/"} {
		if _, err := ParseWinter(s, false); err == nil {
			t.Errorf("%q is a winter of the north", s)
		}
	}
	for _, s := range []string{"", "2012/13", "14", "02014"} {
		if _, err := ParseWinter(s, true); err == nil {
			t.Errorf("%q is a winter of the south", s)
		}
	}
}

// A planting belongs to the winter whose frost season comes first after its
// sowing.
func TestWinterAfterSowing(t *testing.T) {
	for sown, want := range map[string]string{"2012-07-05": "2012/13", "2012-03-01": "2012/13", "2012-09-30": "2012/13", "2012-10-01": "2012/13", "2012-10-02": "2013/14", "2012-12-31": "2013/14"} {
		d, _ := ParseDate(sown)
		if got := WinterAfterSowing(d, false).String(); got != want {
			t.Errorf("%s: %s, want %s", sown, got, want)
		}
	}
	for sown, want := range map[string]string{"2014-01-05": "2014", "2014-04-01": "2014", "2014-04-02": "2015", "2013-12-20": "2014"} {
		d, _ := ParseDate(sown)
		if got := WinterAfterSowing(d, true).String(); got != want {
			t.Errorf("%s: %s, want %s", sown, got, want)
		}
	}
}

func TestPartsOfARecord(t *testing.T) {
	first := NewDate(2012, 1, 1)
	r := daysFrom(first, [2]float64{1, 2}, [2]float64{3, 4}, [2]float64{5, 6})
	if day, ok := r.Day(first + 1); !ok || day.MinC != 3 {
		t.Errorf("got %+v", day)
	}
	if _, ok := r.Day(first - 1); ok {
		t.Error("a day before the record")
	}
	if len(r.Slice(first-5, first+1)) != 2 || len(r.Slice(first+1, first+9)) != 2 || r.Slice(first+2, first+1) != nil || r.Slice(first+3, first+9) != nil || (Record{}).Slice(first, first) != nil {
		t.Error("wrong slices")
	}
	if cut := r.Upto(first + 1); cut.Last() != first+1 || len(r.Days) != 3 || len(r.Upto(first-1).Days) != 0 || r.Upto(first+99).Last() != r.Last() || len((Record{}).Upto(first).Days) != 0 {
		t.Error("wrong cut")
	}
	if grown := append(r.Slice(first, first), Day{}); r.Days[1].MinC != 3 || len(grown) != 2 {
		t.Error("appending to a slice wrote into the record")
	}
}
