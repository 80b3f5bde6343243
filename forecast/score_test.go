package forecast

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func equal(n int) []float64 { return slices.Repeat([]float64{1 / float64(n)}, n) }

// CRPS of N(0,1): y(2Φ(y)-1) + 2φ(y) - 1/√π, printed 0.233695, 0.602441,
// 2.43657473 at 0, 1, -3 (Gneiting & Raftery 2007; public test of a scoring
// library).
func TestCRPSOfANormal(t *testing.T) {
	var x, w []float64
	total := 0.0
	for z := -8.0; z <= 8; z += 0.0005 {
		x, w = append(x, z), append(w, math.Exp(-z*z/2))
		total += w[len(w)-1]
	}
	for i := range w {
		w[i] /= total
	}
	for y, want := range map[float64]float64{0: 0.233695, 1: 0.602441, -3: 2.43657473} {
		if got := crps(x, w, y); math.Abs(got-want) > 1e-6 {
			t.Errorf("at %g: %g, want %g", y, got, want)
		}
	}
}

// Ensembles 1…5 at 3 and 2 4 9 at 5: plain 0.40 and 1.1111, fair 0.20 and
// 0.3333 (Hersbach 2000; Ferro 2014).
func TestCRPSOfEnsembles(t *testing.T) {
	for _, c := range []struct {
		x           []float64
		y           float64
		plain, fair float64
	}{{[]float64{1, 2, 3, 4, 5}, 3, 0.40, 0.20}, {[]float64{2, 4, 9}, 5, 1.1111, 0.3333}} {
		if got := crps(c.x, equal(len(c.x)), c.y); math.Abs(got-c.plain) > 1e-4 {
			t.Errorf("plain %g, want %g", got, c.plain)
		}
		if got := fairCRPS(c.x, c.y); math.Abs(got-c.fair) > 1e-4 {
			t.Errorf("fair %g, want %g", got, c.fair)
		}
	}
	if got := fairCRPS([]float64{7}, 4); got != 3 {
		t.Errorf("one member 3 off scores %g", got)
	}
}

// Against the kernel form: mean |x - y| less half the mean |x - x'|, the pairs
// of different members only for the fair form.
func TestCRPSAgainstTheKernelForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SliceOfN(rapid.Float64Range(-20, 20), 2, 12).Draw(t, "members")
		y := rapid.Float64Range(-25, 25).Draw(t, "came")
		n := float64(len(x))
		toward, apart := 0.0, 0.0
		for _, a := range x {
			toward += math.Abs(a-y) / n
			for _, b := range x {
				apart += math.Abs(a - b)
			}
		}
		if got, want := fairCRPS(x, y), toward-apart/(2*n*(n-1)); math.Abs(got-want) > 1e-9 {
			t.Fatalf("fair %g, want %g", got, want)
		}
		slices.Sort(x)
		if got, want := crps(x, equal(len(x)), y), toward-apart/(2*n*n); math.Abs(got-want) > 1e-9 {
			t.Fatalf("plain %g, want %g", got, want)
		}
	})
}

// Murphy 1973: p .1 ×5, .5 ×4, .9; o 0 0 0 0 1 1 0 1 0 1.
func TestBrierAndItsParts(t *testing.T) {
	b := brier([]float64{.1, .1, .1, .1, .1, .5, .5, .5, .5, .9}, []float64{0, 0, 0, 0, 1, 1, 0, 1, 0, 1})
	for _, c := range []struct {
		name      string
		got, want float64
	}{{"score", b.Score, .186}, {"reliability", b.Reliability, .006}, {"resolution", b.Resolution, .060}, {"uncertainty", b.Uncertainty, .240}} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s %g, want %g", c.name, c.got, c.want)
		}
	}
}

// By the definition: q .1 and y - x = +2, -2.
func TestPinball(t *testing.T) {
	if a, b := pinball(.1, 0, 2), pinball(.1, 2, 0); math.Abs(a-0.2) > 1e-12 || math.Abs(b-1.8) > 1e-12 {
		t.Errorf("%g and %g, want 0.2 and 1.8", a, b)
	}
}

// Newcombe 1998, from memory: 81/263, 15/148, 0/20, 1/29.
func TestWilson(t *testing.T) {
	for _, c := range [][4]float64{{81, 263, .2553, .3662}, {15, 148, .0624, .1605}, {0, 20, 0, .1611}, {1, 29, .0061, .1718}} {
		low, high := wilson(c[0], c[1])
		if math.Abs(low-c[2]) > 1e-4 || math.Abs(high-c[3]) > 1e-4 {
			t.Errorf("%g of %g: %.4f–%.4f, want %.4f–%.4f", c[0], c[1], low, high, c[2], c[3])
		}
	}
}
