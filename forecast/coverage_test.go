package forecast

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Each of some values forecast from all others is in the middle 90 % of them
// nine times in ten, however few or coarse they are: the value left out is as
// likely to stand in any place of the order. Identity, no source.
func TestLeaveOneOutCoversWhatItSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		counts := rapid.SliceOfN(rapid.IntRange(0, 6), 2, 40).Draw(t, "counts")
		share := rapid.Float64Range(0.05, 0.95).Draw(t, "share")
		values := make([]float64, len(counts))
		for i, c := range counts {
			values[i] = float64(c)
		}
		sum := 0.0
		for i, y := range values {
			below, upTo := standingAmong(slices.Concat(values[:i], values[i+1:]), y)
			sum += held(below, upTo, share)
		}
		if mean := sum / float64(len(values)); math.Abs(mean-share) > 1e-9 {
			t.Fatalf("a %g interval holds %g", share, mean)
		}
	})
}

// A spread with an atom, drawn from itself: its parts weighed by their own
// weight hold the share exactly. Identity, no source.
func TestASpreadCoversItself(t *testing.T) {
	x, weight := []float64{0, 3, 4, 9}, []float64{0.4, 0.3, 0.2, 0.1}
	sum := 0.0
	for i, y := range x {
		below, upTo := standing(x, weight, y)
		sum += weight[i] * held(below, upTo, 0.5)
	}
	if math.Abs(sum-0.5) > 1e-12 {
		t.Errorf("the middle half of a spread holds %g of it", sum)
	}
	for y, want := range map[float64]float64{-1: 0, 2: 1, 5: 0, 10: 0} { // between the values
		below, upTo := standing(x, weight, y)
		if got := held(below, upTo, 0.5); got != want {
			t.Errorf("%g is held by %g, want %g", y, got, want)
		}
	}
}

// A top that is killed and a note of 0 agree.
func TestNoLeafIsHeldWhereNoneIsForecast(t *testing.T) {
	mass := spreadOfLeafG()
	mass.add(1e-7, 0.8)
	mass.add(5, 0.2)
	b := mass.blurred(mass.bell(0.2))
	x, weight := b.points()
	if j := judgeSpread(x, weight, 0); j.in90 < 0.9 || j.crps > 0.3 { // the other fifth lies 5 g off: 0.2² · 5 g
		t.Errorf("of four chances in five for none and none noted: held by %g, score %g g", j.in90, j.crps)
	}
}
