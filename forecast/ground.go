package forecast

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wintertop/weather"
	"wintertop/weather/table"
)

// ground holds what the weather alone does to roots and land along each course
// of a place, from the as-of day to the window's end.
type ground struct {
	asOf     weather.Date
	hilledCM float64 // soil over the crowns
	// clear says, per course and day, that no root-frost day has come since
	// the as-of day and none was seen this winter before.
	clear [][]bool
	// fitLeft is the mean number of days fit for machines from each day to the
	// window's end over the courses whose rain is known; NaN where these are
	// fewer than half.
	fitLeft []float64
	rainy   int      // courses whose rain is known
	fit     [][]bool // per course and day; nil where rain is not known
}

// groundOf follows roots hilled up by hilledCM and the topsoil along the
// courses. The error is ctx's.
func groundOf(ctx context.Context, t traces, goal Goal, hilledCM float64) (ground, error) {
	days := int(goal.To-goal.AsOf) + 1
	g := ground{asOf: goal.AsOf, hilledCM: hilledCM, clear: make([][]bool, len(t.courses)), fitLeft: make([]float64, days)}
	fit := make([][]bool, len(t.courses)) // nil where rain is not known
	err := inParallel(ctx, len(t.courses), func(i int) error {
		w := t.courses[i]
		from, to := w.Index(goal.AsOf), w.Index(goal.To)
		frost := w.RootFrost(hilledCM)
		start := max(0, w.Index(goal.Winter.First()))
		clear := !slices.Contains(frost[start:from], true)
		for _, frozen := range frost[from : to+1] {
			clear = clear && !frozen
			g.clear[i] = append(g.clear[i], clear)
		}
		if days, known := w.Fit(); known {
			fit[i] = days[from : to+1]
		}
		return nil
	})
	g.fit = slices.Clone(fit)
	fit = slices.DeleteFunc(fit, func(f []bool) bool { return f == nil })
	if g.rainy = len(fit); 2*g.rainy < len(t.courses) {
		for d := range g.fitLeft {
			g.fitLeft[d] = math.NaN()
		}
		return g, err
	}
	for i := range fit {
		left := 0.0
		for d := days - 1; d >= 0; d-- {
			if fit[i][d] {
				left++
			}
			g.fitLeft[d] += left / float64(len(fit))
		}
	}
	return g, err
}

// rainKnown says whether field access could be followed.
func (g ground) rainKnown() bool { return !math.IsNaN(g.fitLeft[0]) }

// rainFinding says how many past winters tell of field access where not all do.
func (g ground) rainFinding(p *Place) table.Findings {
	if !g.rainKnown() || g.rainy == len(g.clear) {
		return nil
	}
	return table.Findings{{File: p.Record.File, Column: "rain", Severity: table.Warning, TreatedAs: "left out of fit_days_left",
		What: fmt.Sprintf("rain is known in %d of the %d past winters played: fit_days_left is the mean of these", g.rainy, len(g.clear))}}
}
