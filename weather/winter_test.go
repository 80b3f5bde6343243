package weather

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestWinterOfThreeDays(t *testing.T) {
	site := Site{LatitudeDeg: 52, Coast: true, MinOffsetC: -1, MaxOffsetC: 2, Params: Standard()}
	days := daysOf(NewDate(2012, time.November, 1), [2]float64{4, 12}, [2]float64{-1, 8}, [2]float64{2, 6})
	w, err := NewWinter(days, site)
	if err != nil {
		t.Fatal(err)
	}
	p := Standard()
	near(t, "field minimum", w.MinC[1], -2, 1e-12)
	near(t, "field maximum", w.MaxC[1], 10, 1e-12)
	near(t, "mean", w.MeanC[1], 4, 1e-12)
	near(t, "temperature of daylight", w.DayC[1], 7, 1e-12)
	// the range of radiation is the station's own, FAO-56 eq. 50
	near(t, "PAR", w.PARMJ[1], 0.48*0.19*3*ExtraterrestrialMJ(52, days[1].Date.DayOfYear()), 1e-12)
	near(t, "canopy minimum after yesterday's field maximum", w.CanopyMinC[1], -2-(0.19+0.13*16), 1e-12)
	near(t, "canopy minimum of the first night, its own maximum for yesterday's", w.CanopyMinC[0], 3-(0.19+0.13*11), 1e-12)
	near(t, "hardening on the first day", w.Hardening[0], p.Harden(0, w.MeanC[0]), 0)
	near(t, "hardening on the second day", w.Hardening[1], p.Harden(p.Harden(0, w.MeanC[0]), w.MeanC[1]), 0)
	near(t, "snow that is not reported", w.SnowCM[0], 0, 0)
	if i := w.Index(days[2].Date); i != 2 {
		t.Errorf("index %d, want 2", i)
	}
	// an offset that turns the day over leaves it without a range
	site.MinOffsetC = 20
	if w, err = NewWinter(days, site); err != nil || w.MinC[0] != w.MaxC[0] || w.MaxC[0] != 14 {
		t.Errorf("field extremes %v and %v, error %v", w.MinC[0], w.MaxC[0], err)
	}
}

func TestWinterRefusesHoles(t *testing.T) {
	whole := func() []Day {
		return daysOf(NewDate(2012, time.November, 1), [2]float64{4, 12}, [2]float64{-1, 8}, [2]float64{2, 6})
	}
	missing, late := whole(), whole()
	missing[1].State = Missing
	late[2].Date++
	for name, c := range map[string]struct {
		days []Day
		want string
	}{
		"none": {nil, "without days"}, "missing": {missing, "2012-11-02"}, "skipped": {late, "2012-11-03"},
	} {
		if n := Known(c.days); name == "missing" && n != 1 || name == "skipped" && n != 3 {
			t.Errorf("%s: %d days known", name, n)
		}
		if _, err := NewWinter(c.days, still()); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one that says %s", name, err, c.want)
		}
	}
}

// Nothing is NaN, and a whole record and a winter of the same days agree.
func TestWinterAndRecordAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := drawDays(t, false)
		site := Site{LatitudeDeg: rapid.Float64Range(-70, 70).Draw(t, "latitude"), Params: Standard()}
		w, err := NewWinter(days, site)
		if err != nil {
			t.Fatal(err)
		}
		begun := rapid.IntRange(0, len(days)).Draw(t, "days begun with")
		if before, err := NewWinter(days[:begun], site); err == nil {
			was := fmt.Sprint(before)
			if longer, err := before.Continue(days); err != nil || fmt.Sprint(longer) != fmt.Sprint(w) { // to the last digit; NaN equals NaN
				t.Fatalf("continued from day %d: %+v (%v), begun afresh %+v", begun, longer, err, w)
			}
			other := slices.Clone(days) // begins alike and goes on warmer
			for i := begun; i < len(other); i++ {
				other[i].MinC, other[i].MaxC = other[i].MinC+9, other[i].MaxC+9
			}
			if _, err := before.Continue(other); err != nil || fmt.Sprint(before) != was {
				t.Fatalf("continued twice from day %d: %+v (%v), was %s", begun, before, err, was)
			}
		}
		for name, values := range map[string][]float64{
			"MinC": w.MinC, "MaxC": w.MaxC, "MeanC": w.MeanC, "DayC": w.DayC, "PARMJ": w.PARMJ,
			"CanopyMinC": w.CanopyMinC, "Hardening": w.Hardening, "SnowCM": w.SnowCM,
		} {
			for i, x := range values {
				if math.IsNaN(x) || math.IsInf(x, 0) || len(values) != len(days) {
					t.Fatalf("%s of day %d is %v", name, i, x)
				}
			}
		}
		events := Events(Record{Days: days}, site)
		if len(events) != len(w.Events) {
			t.Fatalf("%d events in the record, %d in the winter", len(events), len(w.Events))
		}
		closed := 0
		for i, e := range events {
			if e.OpenDay != w.Events[i].OpenDay || e.End != w.Events[i].End || e.MinCanopyC != w.Events[i].MinCanopyC {
				t.Fatalf("event %d: %+v in the record, %+v in the winter", i, e, w.Events[i])
			}
			if !e.Open {
				closed++
			}
		}
		for i, k := range w.Closing {
			if k >= 0 {
				closed--
				if w.Events[k].CloseDay != i {
					t.Fatalf("event %d closes on day %d, not %d", k, w.Events[k].CloseDay, i)
				}
			}
		}
		if closed != 0 {
			t.Fatalf("%d closed events are not marked", closed)
		}
		closed = CountEvents(site).Over(days).Closed
		if got := CountEvents(site).Over(days[:begun]).Over(days[begun:]).Closed; got != closed {
			t.Fatalf("%d events counted in two parts, %d in one", got, closed)
		}
	})
}

func BenchmarkNewWinter(b *testing.B) {
	first := NewDate(2012, time.July, 1)
	days := make([]Day, 365)
	for i := range days {
		year := 2 * math.Pi * float64(i) / 365
		low := 6 + 7*math.Cos(year) + 5*math.Sin(float64(i)*1.7)
		days[i] = Day{Date: first + Date(i), MinC: low, MaxC: low + 7 + 3*math.Cos(float64(i))}
	}
	site := Site{LatitudeDeg: 52, Params: Standard()}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewWinter(days, site); err != nil {
			b.Fatal(err)
		}
	}
}
