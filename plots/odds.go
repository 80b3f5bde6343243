package plots

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// percent prints odds as whole percent, rounded down so that a printed 80
// never stands for less.
func percent(odds float64) string {
	if math.IsNaN(odds) {
		return "–"
	}
	return strconv.Itoa(int(math.Floor(100*odds + 1e-9)))
}

// oddsClass sorts odds into the four classes of the palette, the last from the
// assurance up; −1 where they are not known.
func oddsClass(odds, assurance float64) int {
	if math.IsNaN(odds) {
		return -1
	}
	class := 0
	for _, least := range classBounds(assurance) {
		if math.Floor(100*odds+1e-9) >= least {
			class++
		}
	}
	return class
}

// classBounds gives the least percent of the second to the last class.
func classBounds(assurance float64) [3]float64 {
	a := 100 * assurance
	return [3]float64{math.Round(a / 4), math.Round(a * 5 / 8), math.Ceil(a - 1e-9)}
}

// keys explains the classes of odds.
func (g calendarGrid) keys() []key {
	b := classBounds(g.picks.Assurance)
	words := []string{
		fmt.Sprintf("under %.0f %%", b[0]), fmt.Sprintf("%.0f–%.0f %%", b[0], b[1]-1),
		fmt.Sprintf("%.0f–%.0f %%", b[1], b[2]-1), fmt.Sprintf("%.0f %% and more: holds", b[2]),
	}
	var out []key
	for i, w := range words {
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) { box(c, classes[i], x, y-3, x+18, y+10) }, 18, w})
	}
	for _, r := range g.picks.Rows {
		if r.Verdict == forecast.NotKnownYet {
			return append(out, key{func(c draw.Canvas, x, y vg.Length) { frameBox(c, axis, 0.7, x, y-3, x+18, y+10) }, 18, "assumed traits, no notes yet"})
		}
	}
	return out
}
