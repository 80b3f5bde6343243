package weather

import (
	"math"
	"testing"

	"wintertop/weather/table"

	"pgregory.net/rapid"
)

// days gives a record from the first day on; NaN in a pair means missing.
func daysFrom(first Date, pairs ...[2]float64) Record {
	r := Record{File: "s.csv"}
	for i, p := range pairs {
		day := Day{Date: first + Date(i), MinC: p[0], MaxC: p[1], RainMM: math.NaN(), SnowCM: math.NaN()}
		if math.IsNaN(p[0]) || math.IsNaN(p[1]) {
			day.State = Missing
		}
		r.Days = append(r.Days, day)
	}
	return r
}

func TestGapsUpToThreeDaysAreFilled(t *testing.T) {
	nan := math.NaN()
	first := NewDate(2012, 1, 1)
	gap := [2]float64{nan, nan}
	r := daysFrom(first, [2]float64{4, 8}, gap, gap, gap, [2]float64{8, 16}, gap, gap, gap, gap, [2]float64{6, 9}, [2]float64{5, nan}, [2]float64{2.5, 7}, gap)
	filled, seen := r.Filled()
	for i, want := range map[int]Day{
		1:  {first + 1, 5, 10, nan, nan, Filled},
		3:  {first + 3, 7, 14, nan, nan, Filled},
		4:  {first + 4, 8, 16, nan, nan, Observed},
		5:  {first + 5, nan, nan, nan, nan, Missing},
		10: {first + 10, 5, 8, nan, nan, Filled}, // the minimum as reported
		12: {first + 12, nan, nan, nan, nan, Missing},
	} {
		got := filled.Days[i]
		if got.State != want.State || !sameNumber(got.MinC, want.MinC) || !sameNumber(got.MaxC, want.MaxC) || !math.IsNaN(got.RainMM) {
			t.Errorf("day %d: got %+v, want %+v", i, got, want)
		}
	}
	if r.Days[1].State != Missing || !math.IsNaN(r.Days[1].MinC) {
		t.Error("the record itself was changed")
	}
	want := []struct {
		what     string
		severity table.Severity
	}{
		{"s.csv: temperatures of 3 days from 2012-01-02 to 2012-01-04 interpolated", table.Note},
		{"s.csv: no temperatures for 4 days from 2012-01-06 to 2012-01-09: too long to fill", table.Warning},
		{"s.csv: temperatures of 2012-01-11 interpolated beside a minimum of 2.5 °C: an event may be missing there", table.Warning},
		{"s.csv: no temperatures for 2012-01-13: at the end of the record, so not filled", table.Warning},
	}
	if len(seen) != len(want) {
		t.Fatalf("got %v", seen)
	}
	for i, w := range want {
		if seen[i].String() != w.what || seen[i].Severity != w.severity {
			t.Errorf("got %s: %s", seen[i].Severity, seen[i])
		}
	}
}

func sameNumber(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func TestFilledExtremeNeverCrossesTheOther(t *testing.T) {
	nan := math.NaN()
	r, _ := daysFrom(0, [2]float64{5, 9}, [2]float64{12, nan}, [2]float64{nan, 1}, [2]float64{5, 9}).Filled()
	if a, b := r.Days[1], r.Days[2]; a.MinC != 12 || a.MaxC != 12 || b.MinC != 1 || b.MaxC != 1 {
		t.Errorf("got %+v and %+v", a, b)
	}
}

// At most 5 % of October–March missing and no gap longer than three days.
func TestCompleteWinters(t *testing.T) {
	w := WinterYear{2012, false} // 182 days in its frost season: 9 may be missing
	from, to := w.FrostSeason()
	whole := func() Record {
		pairs := make([][2]float64, int(to-from)+61)
		return daysFrom(from-30, pairs...)
	}
	at := func(d Date) int { return int(d - from + 30) }
	for _, c := range []struct {
		name    string
		missing func(i int) bool // i counts the days of the frost season
		want    bool
	}{
		{"none", func(int) bool { return false }, true},
		{"nine lone days", func(i int) bool { return i >= 20 && i < 110 && i%10 == 0 }, true},
		{"ten lone days", func(i int) bool { return i >= 20 && i < 120 && i%10 == 0 }, false},
		{"three in a row", func(i int) bool { return i >= 50 && i < 53 }, true},
		{"four in a row", func(i int) bool { return i >= 50 && i < 54 }, false},
		{"three at the start", func(i int) bool { return i < 3 }, true},
		{"four at the end", func(i int) bool { return i > 177 }, false},
		{"all of September and two days", func(i int) bool { return i < 2 }, true},
	} {
		r := whole()
		for d := from; d <= to; d++ {
			if c.missing(int(d - from)) {
				r.Days[at(d)].State = Missing
			}
		}
		if r.Complete(w) != c.want {
			t.Errorf("%s: %v", c.name, !c.want)
		}
	}
	r := whole()
	r.Days[at(from)+5].State = Filled
	if !r.Complete(w) || r.Upto(to-4).Complete(w) || r.Upto(to-3).Complete(w) != true || r.Complete(w.Next()) || (Record{}).Complete(w) {
		t.Error("days outside the record are missing, filled ones too")
	}
	south := WinterYear{2012, true}
	sFrom, sTo := south.FrostSeason()
	if !daysFrom(sFrom, make([][2]float64, int(sTo-sFrom)+1)...).Complete(south) {
		t.Error("April to September is the frost season of the south")
	}
}

func TestFillingKeepsWhatWasObserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := recordOf(t)
		filled, _ := r.Filled()
		gap := 0
		for i, d := range filled.Days {
			before := r.Days[i]
			if before.State == Observed && (d != before && !math.IsNaN(before.RainMM) && !math.IsNaN(before.SnowCM)) {
				t.Fatalf("%+v became %+v", before, d)
			}
			if d.State != Missing && !(d.MinC <= d.MaxC) {
				t.Fatalf("got %+v", d)
			}
			if d.State == Filled {
				gap++
			} else {
				gap = 0
			}
			if gap > 3 || d.State == Filled && before.State != Missing {
				t.Fatalf("day %d of a filled gap", gap)
			}
		}
		for w := WinterOf(r.First(), false); w.First() <= r.Last(); w = w.Next() {
			if r.Complete(w) != filled.Complete(w) {
				t.Fatalf("%s is complete only before or after filling", w)
			}
		}
	})
}
