package weather

import (
	"math"
	"testing"
)

// Three tenths of the points lie far off, all on one side.
func TestBisquareLine(t *testing.T) {
	var x, y []float64
	for i := range 50 {
		x, y = append(x, float64(i%10)), append(y, 1+0.5*float64(i%10)+0.1*math.Sin(float64(i)))
		if i%10%4 == 1 {
			y[i] = 60
		}
	}
	l, weights, _ := bisquareLine(x, y, 9, 0.05)
	near(t, "slope", l.slope, 0.5, 0.02)
	near(t, "level at 0", l.at(0), 1, 0.1)
	sum, squares := 0.0, 0.0
	for i, w := range weights {
		if far := i%10%4 == 1; far != (w == 0) {
			t.Errorf("point %d at (%v, %v) has weight %v", i, x[i], y[i], w)
		}
		if w > 0 {
			sum, squares = sum+x[i], squares+x[i]*x[i]
		}
	}
	near(t, "mean of the points that count", l.middle, sum/35, 1e-9)
	near(t, "their sum of squares", l.spread, squares-sum*sum/35, 1e-9)
}

// The reach by hand: points on a line, one step of 0.2 off for the median
// residual; few points reach farther, and no reach is below the finest reading.
func TestBisquareReach(t *testing.T) {
	x, y := []float64{0, 0, 1, 1}, []float64{-0.2, 0.2, 0.8, 1.2}
	_, _, reachY := bisquareLine(x, y, 9, 0.05)
	near(t, "reach of four points", reachY, 9*0.2*(1+5.0/2), 1e-6)
	_, weights, reachY := bisquareLine([]float64{0, 1, 2, 3}, []float64{0, 1, 2, 3}, 9, 0.05)
	near(t, "reach on an exact line", reachY, 9*0.05*(1+5.0/2), 1e-9)
	for _, w := range weights {
		near(t, "weight on an exact line", w, 1, 1e-9)
	}
}

// Most points share one x and lie on the line: the others, at their own x, are
// not wild.
func TestBisquareLineOfPointsAlike(t *testing.T) {
	x, y := make([]float64, 30), make([]float64, 30)
	for i := range x {
		x[i] = 5
		if i%3 == 0 {
			x[i] = 10
		}
		y[i] = 0.4 + 0.2*x[i]
	}
	l, _, _ := bisquareLine(x, y, 9, 0.05)
	near(t, "slope", l.slope, 0.2, 1e-9)
	near(t, "level at 0", l.at(0), 0.4, 1e-8)
}

func TestMedian(t *testing.T) {
	for _, c := range []struct {
		values []float64
		want   float64
	}{{[]float64{3, 1, 2}, 2}, {[]float64{4, 1, 3, 2}, 2.5}, {[]float64{7}, 7}} {
		near(t, "median", median(c.values), c.want, 0)
	}
	if !math.IsNaN(median(nil)) {
		t.Error("median of nothing is a number")
	}
}
