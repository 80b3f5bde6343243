package forecast

import (
	"math"
	"slices"
	"testing"
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
