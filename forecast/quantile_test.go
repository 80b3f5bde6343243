package forecast

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The spread's quantile lies within a step of the weighted quantile found by
// sorting (inverse of the cumulated weight).
func TestSpreadQuantileAgainstSorting(t *testing.T) {
	type item struct{ x, w float64 }
	rapid.Check(t, func(t *rapid.T) {
		s := spreadOfShare()
		n := rapid.IntRange(1, 60).Draw(t, "n")
		items := make([]item, n)
		total := 0.0
		for i := range items {
			items[i] = item{rapid.Float64Range(0, 1).Draw(t, "x"), rapid.Float64Range(0.01, 1).Draw(t, "w")}
			s.add(items[i].x, items[i].w)
			total += items[i].w
		}
		p := rapid.Float64Range(0.02, 0.98).Draw(t, "p")
		slices.SortFunc(items, func(a, b item) int {
			if a.x < b.x {
				return -1
			}
			return 1
		})
		sum, want := 0.0, items[n-1].x
		for i, it := range items {
			sum += it.w
			if math.Abs(sum-p*total) < 1e-9 {
				t.Skip("on the edge between two values")
			}
			if sum >= p*total {
				want = items[i].x
				break
			}
		}
		if got := s.quantile(p); math.Abs(got-want) > s.step {
			t.Fatalf("quantile %g is %g, by sorting %g", p, got, want)
		}
	})
}

// One value with normal doubt of the logarithm has the quantiles of a
// lognormal: exp(±1.645 sd) (normal table, 5 % and 95 %: 1.6449).
func TestBlurredIsLognormal(t *testing.T) {
	s := spreadOfLeafG()
	s.add(3, 0.5)
	b := s.blurred(s.bell(0.25))
	for p, z := range map[float64]float64{0.05: -1.6449, 0.5: 0, 0.95: 1.6449} {
		want := 3 * math.Exp(0.25*z)
		if q := b.quantile(p); math.Abs(math.Log(q/want)) > s.step {
			t.Errorf("quantile %g is %g, want %g within a step of %g of its logarithm", p, q, want, s.step)
		}
	}
}

// A quantile of a blurred spread alone is that of the spread laid out.
func TestBlurredQuantile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spreadOfLeafG()
		for range rapid.IntRange(1, 40).Draw(t, "n") {
			x := rapid.SampledFrom([]float64{0, 1e-4, 0.0021, 0.5, 3, 40, 99.9, 1e3}).Draw(t, "about") * rapid.Float64Range(0.5, 2).Draw(t, "x")
			s.add(x, rapid.Float64Range(0.01, 1).Draw(t, "w"))
		}
		by := s.bell(rapid.Float64Range(0.02, 0.6).Draw(t, "sd"))
		p := rapid.Float64Range(0.01, 0.99).Draw(t, "p")
		b := s.blurred(by)
		if got, want := s.blurredQuantile(by, p), b.quantile(p); math.Abs(got-want) > 1e-9*want && b.total() > 0 {
			t.Fatalf("quantile %g is %g, laid out %g", p, got, want)
		}
	})
}

func TestBlurredKeepsADeadTopDead(t *testing.T) {
	s := spreadOfLeafG()
	s.add(0, 0.7)
	s.add(2, 0.3)
	b := s.blurred(s.bell(0.25))
	if middle, high := b.quantile(0.5), b.quantile(0.95); middle != 0 || !(high > 1) {
		t.Errorf("median %g, 95 %% %g of a top dead in 7 of 10 winters; want 0 and about 2", middle, high)
	}
}

func TestQuantileOfNothing(t *testing.T) {
	s := spreadOfHeightCM()
	if q := s.quantile(0.5); !math.IsNaN(q) {
		t.Errorf("the median of nothing is %g", q)
	}
}

// Points of a bell in steps as long as its SD have the bell's own middle wherever
// it lies between them, within a hundredth of a degree:
// the nearest point may miss it by a quarter.
func TestInterpolatedOfABell(t *testing.T) {
	for shift := range 4 {
		s := spreadOfLT50()
		middle := -9.5 + 0.1*float64(shift)
		for k := -5; k <= 5; k++ {
			x := -9.5 + 0.5*float64(k)
			s.add(x, math.Exp(-0.5*square((x-middle)/0.5)))
		}
		if got := s.interpolated(0.5); math.Abs(got-middle) > 0.01 {
			t.Errorf("the middle of a bell about %g is %g", middle, got)
		}
	}
	s := spreadOfLT50()
	if got := s.interpolated(0.5); !math.IsNaN(got) {
		t.Errorf("the middle of nothing is %g", got)
	}
	s.add(-7, 1)
	if got := s.interpolated(0.2); got != -7 {
		t.Errorf("of one value it is %g", got)
	}
}

// Where half of the weight lies below, its order does not say which side the median is.
func TestMedianBetweenTwoHalves(t *testing.T) {
	for _, first := range []float64{4, 5} { // sums of 0.1 and 0.2 are a last bit more than 0.3
		s := spreadOfLiveLeaves()
		s.add(first, 0.3)
		s.add(9-first, 0.1)
		s.add(9-first, 0.2)
		if got := s.quantile(0.5); got != 4 {
			t.Errorf("with %g in one piece the median is %g leaves", first, got)
		}
	}
}
