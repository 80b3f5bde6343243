package forecast

import (
	"math"

	"wintertop/canopy"
)

// bounds gives the range that a note leaves for the planting's mean, nine times
// in ten: from the plants that were weighed or measured, or from the eye that
// judged a cover. NaN for traits that no chart of a season draws. What the plot
// differs from its line is not in it.
func (n Note) bounds(p Params, stand canopy.Params) (low, high float64) {
	const z = 1.6449 // of the normal distribution, 5 % and 95 %
	switch n.Trait {
	case LeafMass, LeafDryMass, TopHeight, TopLength:
		between := stand.MassLnSD
		if n.Trait == TopHeight || n.Trait == TopLength {
			between = stand.HeightLnSD
		}
		off := z * between / math.Sqrt(float64(n.Plants))
		return n.Value * math.Exp(-off), n.Value * math.Exp(off)
	case GroundCover:
		covers := func(x float64) float64 { return -math.Expm1(-math.Exp(x)) }
		at, off := lnLeafArea(n.Value, p.CoverLeast), z*p.CoverSDLn
		return min(covers(at-off), n.Value), max(covers(at+off), n.Value)
	case WeedCover:
		covers := func(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
		at, off := logit(n.Value, p.WeedLeast), z*p.WeedSDLogit
		return min(covers(at-off), n.Value), max(covers(at+off), n.Value)
	}
	return math.NaN(), math.NaN()
}
