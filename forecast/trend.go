package forecast

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"wintertop/weather"
	"wintertop/weather/table"
)

// trend is the change of the frost season's mean temperature over the complete
// winters of a record, by least squares.
type trend struct {
	perYearC float64
	errorC   float64 // standard error of perYearC, winters taken as independent
	winters  int
}

// trendOf fits the trend over some complete winters of a place.
func (p *Place) trendOf(winters []weather.WinterYear) trend {
	var year, meanC []float64
	for _, w := range winters {
		from, to := w.FrostSeason()
		var m mean
		for _, d := range p.Filled.Slice(from, to) {
			if d.State != weather.Missing {
				m.add((d.MinC + d.MaxC) / 2)
			}
		}
		year, meanC = append(year, float64(w.Year)), append(meanC, m.value())
	}
	t := trend{winters: len(year)}
	if t.winters < fewWinters {
		return t
	}
	intercept, slope := stat.LinearRegression(year, meanC, nil, false)
	var residual, around float64
	middle := stat.Mean(year, nil)
	for i := range year {
		residual += square(meanC[i] - intercept - slope*year[i])
		around += square(year[i] - middle)
	}
	t.perYearC, t.errorC = slope, math.Sqrt(residual/float64(t.winters-2)/around)
	return t
}

// clear says that the trend is more than twice its standard error.
func (t trend) clear() bool { return math.Abs(t.perYearC) > 2*t.errorC }

// finding says what the trend is and what was done about it: a clear one that
// stays in, or one that was taken out.
func (t trend) finding(p *Place, out bool, first, now weather.WinterYear) table.Findings {
	months := "October to March"
	if now.South {
		months = "April to September"
	}
	size := fmt.Sprintf("%+.2f ± %.2f °C a decade over %d winters", 10*t.perYearC, 10*t.errorC, t.winters)
	f := table.Finding{File: p.Record.File, Severity: table.Note}
	switch {
	case t.winters < fewWinters && out:
		f.What, f.TreatedAs = fmt.Sprintf("too few complete winters (%d) for a trend: none is taken out", t.winters), "used"
	case out:
		f.What, f.TreatedAs = fmt.Sprintf("the trend of %s, %s, is taken out: %s is played %+.1f °C", months, size, first, t.perYearC*float64(now.Year-first.Year)), "moved"
	case t.clear():
		f.What, f.TreatedAs = fmt.Sprintf("%s has a trend of %s; past winters are played as they were", months, size), "used"
		f.Hint = "--detrend moves each past winter to the level of this one"
	default:
		return nil
	}
	return table.Findings{f}
}

// warmed gives a run of days with both extremes moved by so many °C.
func warmed(days []weather.Day, byC float64) []weather.Day {
	out := make([]weather.Day, len(days))
	for i, d := range days {
		d.MinC, d.MaxC = d.MinC+byC, d.MaxC+byC
		out[i] = d
	}
	return out
}
