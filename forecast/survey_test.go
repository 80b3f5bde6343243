package forecast

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"wintertop/weather"
)

// Products of quantities that stand are their covariances: against the library's
// weighted ones.
func TestStandingQuantities(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "points")
		number := rapid.Float64Range(-9, 9)
		v, total := &survey{}, 0.0
		x, y, weight := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range x {
			x[i], y[i], weight[i] = number.Draw(t, "x"), number.Draw(t, "y"), rapid.Float64Range(0.1, 1).Draw(t, "weight")
			total += weight[i]
		}
		for _, w := range weight {
			v.points, v.root = append(v.points, point{weight: w / total}), append(v.root, math.Sqrt(w/total))
		}
		a, b := make([]float32, n), make([]float32, n)
		for i := range a {
			a[i], b[i] = float32(x[i]), float32(y[i])
		}
		mean := v.standing(a)
		v.standing(b)
		want := 0.0 // the library divides by one less than the weights' sum
		if n > 1 {
			for i := range weight {
				weight[i] *= 10 * float64(n) / total
			}
			want = stat.Covariance(x, y, weight) * (10*float64(n) - 1) / (10 * float64(n))
		}
		if got := product(a, b); math.Abs(mean-stat.Mean(x, weight)) > 1e-5 || math.Abs(got-want) > 1e-4 {
			t.Fatalf("mean %g, covariance %g; want %g, %g", mean, got, stat.Mean(x, weight), want)
		}
	})
}

// What a survey holds by point: what is at stake there on a day of the window, and
// what earlier notes let expect, by the step of length next to the point's.
func TestSurveyByPoint(t *testing.T) {
	g := NewGrid(Standard())
	s := &stake{nodes: []int{40, 700}, core: []int{0, 1}, inCore: []float64{0.75, 0.25}, lengthLn: []float64{g.LengthLn[6], g.LengthLn[15]}, lengthSD: []float64{2 * g.lengthStep(), g.lengthStep()}}
	v := g.newSurvey(standardSite().Canopy, s, []weather.Date{100}, nil)
	steps := []int{4, 8, 14, 16} // an SD below and above the mean, node by node
	all := make([]float32, 2*gridLengths)
	for i := range all {
		all[i] = float32(i)
	}
	r := &row{at: []int32{1, 0}, picks: &pickRow{table: &dayTable{all: [][]float32{all}}}} // the field has the nodes the other way round
	v.add(&dayBook{f: &field{date: 101}}, r, Goal{From: 90, AsOf: 80, To: 110})
	answers := make([]float64, gridNodes*gridLengths)
	for i := range answers {
		answers[i] = float64(i)
	}
	noted, _ := v.noted(g, s, []reading{{expected: answers}})
	for i, step := range steps {
		node, place := s.nodes[i/2], 1-i/2
		if got, want := v.stood[0][i], float64(place*gridLengths+step); got != want {
			t.Errorf("point %d: %g at stake, want %g", i, got, want)
		}
		if got, want := float64(noted[0][i]), float64(node*gridLengths+step); math.Abs(got-want) > 0.01 {
			t.Errorf("point %d: %g expected, want %g", i, got, want)
		}
	}
}
