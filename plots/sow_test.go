package plots

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"wintertop/forecast"
	"wintertop/weather"
)

// plan makes a sowing plan of n rows, one of them with a name that would be
// markup or a formula.
func sowPlan(n int) *forecast.SowPlan {
	p := &forecast.SowPlan{Winter: weather.WinterYear{Year: 2026}, Wanted: 0.8, Played: make([]weather.WinterYear, 30), Met: 24.6, FitKnown: true}
	monday := weather.NewDate(2026, 6, 29)
	for i := range n {
		name := fmt.Sprintf("L-%d", i)
		if i == 0 {
			name = `<b>=1+1 & a very long name of a line out of the third selection from a wide cross</b>`
		}
		p.Rows = append(p.Rows, forecast.SowRow{Line: name, From: monday, Until: monday + 6, AreaM2: 900 / float64(i+1), YieldKGPerM2: 5, LiftMean: 0.9, LiftWorst: 0.7, First: monday + 217, Last: monday + 230})
		p.AreaM2 += 900 / float64(i+1)
	}
	for k := range 2 {
		w := forecast.SowWeek{Period: forecast.Period{From: monday + weather.Date(217+7*k), Until: monday + weather.Date(223+7*k), KG: 500}, FitDays: 1.5}
		if n > 0 {
			w.Met, w.Parts = 25, []forecast.SowPart{{Row: 0, AreaM2: 450}}
		}
		p.Weeks = append(p.Weeks, w)
	}
	p.Prices = []forecast.Price{{Wanted: 0.5, Kept: 15.2, AreaM2: 700, BoundM2: 699, Enough: true}, {Wanted: 0.8, Kept: 24.6, AreaM2: 1000, BoundM2: 999, Enough: true},
		{Wanted: 0.9, Kept: 28, AreaM2: math.NaN(), BoundM2: math.NaN(), Enough: true}}
	if n == 0 {
		p.Short, p.Instead = "no area does it", "lift earlier and store"
	}
	return p
}

func TestSowingOfAnySize(t *testing.T) {
	for _, n := range []int{0, 1, 8, 60} {
		for _, chart := range []Chart{Sowing(sowPlan(n)), phoneSowing(sowPlan(n))} {
			d := draws(t, chart)
			for _, text := range d.texts {
				x0, y0, x1, y1 := text.box()
				if x0 < 0 || y0 < 0 || x1 > d.width || y1 > d.height {
					t.Errorf("%d rows: %q leaves the sheet", n, text.text)
				}
			}
			if !strings.Contains(d.desc, "9 winters in 10") || !strings.Contains(d.desc, "no area does it") {
				t.Errorf("%d rows: desc %q", n, d.desc)
			}
			if strings.Contains(string(d.raw), "NaN") || strings.Contains(string(d.raw), "<b>") {
				t.Errorf("%d rows: a bare name or NaN in the picture", n)
			}
		}
	}
}
