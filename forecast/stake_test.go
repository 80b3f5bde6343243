package forecast

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// What differs by rounding alone comes into the core of a line together.
func TestCoreOfNodesThatAreAlike(t *testing.T) {
	g := NewGrid(Standard())
	pop := Standard().populationPrior(0, 1).start()
	prior := pop.priorOf(LinePrior{math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()}, Standard(), 0.35)
	for range 20 {
		prior.cov.ScaleSym(0.95, prior.cov)
		even := g.normal(prior)
		whole := len(g.stakeOf(even, newLookRoom()).core)
		for turn := range 5 {
			rough := slices.Clone(even)
			for i := range rough {
				rough[i] *= 1 + 1e-13*float64((i/moments3*7+turn)%5-2)
			}
			if core := len(g.stakeOf(rough, newLookRoom()).core); core != whole {
				t.Errorf("%d nodes in the core, after rounding %d", whole, core)
			}
		}
	}
}

// Runs of weights lose nothing that shows, and are as wide as the widest needs.
func TestRunsHoldWhatShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		steps, nodes := rapid.IntRange(1, 9).Draw(t, "steps"), rapid.IntRange(1, 6).Draw(t, "nodes")
		w, widest := make([]float64, nodes*steps), 0
		for i := range nodes {
			first := rapid.IntRange(0, steps-1).Draw(t, "first")
			behind := rapid.IntRange(first+1, steps).Draw(t, "behind")
			widest = max(widest, behind-first)
			for k := range steps {
				if w[i*steps+k] = 1e-9; k >= first && k < behind {
					w[i*steps+k] = rapid.Float64Range(0.1, 1).Draw(t, "weight")
				}
			}
		}
		r := runsOf(w, steps)
		if r.width != widest {
			t.Fatalf("width %d, the widest needs %d", r.width, widest)
		}
		for i := range nodes {
			from, own := r.at(i)
			for k := range steps {
				got := 0.0
				if k >= from && k < from+len(own) {
					got = float64(own[k-from])
				}
				if want := w[i*steps+k]; math.Abs(got-want) > 1e-6 {
					t.Fatalf("node %d, step %d: %g, want %g", i, k, got, want)
				}
			}
		}
	})
}
