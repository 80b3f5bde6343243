package forecast

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
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
