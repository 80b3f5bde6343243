package weather

import (
	"math"
	"slices"
)

// line is a straight line through weighted points.
type line struct {
	middle, level float64 // means of the points
	slope         float64
	spread        float64 // sum of squares of x about middle
}

func (l line) at(x float64) float64 { return l.level + l.slope*(x-l.middle) }

// weightedLine gives the line of least squares; level where all x are alike.
func weightedLine(x, y, weights []float64) line {
	var l line
	sum, products := 0.0, 0.0
	for i, w := range weights {
		sum += w
		l.middle += w * x[i]
		l.level += w * y[i]
	}
	l.middle, l.level = l.middle/sum, l.level/sum
	for i, w := range weights {
		off := x[i] - l.middle
		l.spread += w * off * off
		products += w * off * (y[i] - l.level)
	}
	if l.spread > 0 {
		l.slope = products / l.spread
	}
	return l
}

// reweighted fits a line by iteratively reweighted least squares from a first
// line on; weigh turns the absolute residuals into weights.
func reweighted(x, y []float64, l line, weigh func(weights, residuals []float64)) (line, []float64) {
	weights, residuals := make([]float64, len(x)), make([]float64, len(x))
	for range 200 {
		for i := range residuals {
			residuals[i] = math.Abs(y[i] - l.at(x[i]))
		}
		weigh(weights, residuals)
		next := weightedLine(x, y, weights)
		still := math.Abs(next.at(0)-l.at(0)) < 1e-9 && math.Abs(next.slope-l.slope) < 1e-9
		if l = next; still {
			break
		}
	}
	return l, weights
}

// bisquareLine fits a line with bisquare weights (Beaton & Tukey 1974),
// starting from the line of least absolute residuals. A point farther off than
// reach median absolute residuals has weight 0 (Mosteller & Tukey 1977); for
// few points they are widened by 1 + 5/(n-2) (Rousseeuw & Leroy 1987), and they
// are taken as finestY at least. reachY is that distance at the end; middle and
// spread of the line count each point with a weight once.
func bisquareLine(x, y []float64, reach, finestY float64) (l line, weights []float64, reachY float64) {
	l, _ = reweighted(x, y, line{level: median(y)}, func(weights, residuals []float64) {
		for i, r := range residuals {
			weights[i] = 1 / math.Max(finestY, r)
		}
	})
	few := 1 + 5/math.Max(1, float64(len(x)-2))
	l, weights = reweighted(x, y, l, func(weights, residuals []float64) {
		reachY = few * reach * math.Max(finestY, median(residuals))
		for i, r := range residuals {
			u := math.Min(1, r/reachY)
			weights[i] = (1 - u*u) * (1 - u*u) // Beaton & Tukey 1974
		}
	})
	counted := make([]float64, len(x))
	for i, w := range weights {
		if w > 0 {
			counted[i] = 1
		}
	}
	plain := weightedLine(x, y, counted)
	l.level, l.middle, l.spread = l.at(plain.middle), plain.middle, plain.spread
	return l, weights, reachY
}

// median gives the middle of the values, NaN of none.
func median(values []float64) float64 {
	n := len(values)
	if n == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
