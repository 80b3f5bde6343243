package canopy

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Nodes of the integral over the plants of a stand, and the SDs of ln mass
// beyond which no plants are looked for: shares are right to 1e-6. Newton steps
// at most, and the last one in ln height, of the least height.
const (
	liftNodes   = 48
	liftReach   = 5.5
	liftSteps   = 100
	liftNearest = 1e-12
)

// Lifting turns a planting's mean leaf mass and mean top height into the share
// of its plants that lifting belts can pull. Mass and height of the plants are
// bivariate lognormal about those means. A plant lifts when its top reaches
// the belts, carries the mass they grip and is stronger than the pull of its
// root; strength and pull are independent normals. The background loss takes
// its share of the rest. Lifting may be used from several goroutines at once.
type Lifting struct {
	p             Params
	pullN, pullSD float64
	gripG         float64   // dry
	alongHeight   float64   // ln height per SD of ln mass
	besideHeight  float64   // SD of ln height at a given mass
	node, weight  []float64 // Gauss–Legendre on -1..1
}

// NewLifting prepares the integral for one site's belts, grip, dry share and
// undercutting.
func NewLifting(p Params) *Lifting {
	l := &Lifting{
		p: p, pullN: p.PullN, pullSD: p.PullSDN, gripG: p.GripFreshG * p.DryShare,
		alongHeight:  p.HeightLnSD * p.MassHeightCorrelation,
		besideHeight: p.HeightLnSD * math.Sqrt(1-p.MassHeightCorrelation*p.MassHeightCorrelation),
		node:         make([]float64, liftNodes), weight: make([]float64, liftNodes),
	}
	if p.Undercut {
		l.pullN, l.pullSD = p.PullUndercutN, p.PullUndercutSDN
	}
	quad.Legendre{}.FixedLocations(l.node, l.weight, -1, 1)
	return l
}

// holds gives the chance that a plant with leafG g dry live leaf is stronger
// than the pull of its root.
func (l *Lifting) holds(leafG float64) float64 {
	strengthN := l.p.StrengthNPerG * leafG
	return normalCDF((strengthN - l.pullN) / math.Hypot(l.p.StrengthCV*strengthN, l.pullSD))
}

// grips fills z and chance, one value per node, for a mean leaf mass (ln g
// dry): the plant's ln mass in SDs from the middle of the stand, and the
// weighted chance that it grips and holds. It is false where no plant grips.
func (l *Lifting) grips(lnLeafG float64, z, chance []float64) bool {
	middle := lnLeafG - l.p.MassLnSD*l.p.MassLnSD/2
	least := max(-liftReach, (math.Log(l.gripG)-middle)/l.p.MassLnSD)
	if !(least < liftReach) {
		return false
	}
	half := (liftReach - least) / 2
	for i, node := range l.node {
		z[i] = least + half*(node+1)
		chance[i] = (1 - l.p.BackgroundLoss) * half * l.weight[i] * normalDensity(z[i]) *
			l.holds(math.Exp(middle+l.p.MassLnSD*z[i]))
	}
	return true
}

// reaches gives, for a mean height in ln(height/belt), the share of plants
// that lift and its slope by ln height.
func (l *Lifting) reaches(lnHeight float64, z, chance []float64) (share, slope float64) {
	middle, along := l.beside(lnHeight)
	for i, c := range chance {
		x := middle + along*z[i]
		share += c * normalCDF(x)
		slope += c * normalDensity(x)
	}
	return share, slope / l.besideHeight
}

// beside gives how far, in SDs of a plant's height at its mass, the middle of the
// stand reaches above the belts, and how much farther plants of an SD more mass do.
func (l *Lifting) beside(lnHeight float64) (middle, along float64) {
	return (lnHeight - l.p.HeightLnSD*l.p.HeightLnSD/2) / l.besideHeight, l.alongHeight / l.besideHeight
}

// Share gives the share of the stand that lifts, at most 1 less the background
// loss. leafG is the mean leaf mass, g dry per plant, heightCM the mean height
// of the tops; where either is not above 0 the share is 0.
func (l *Lifting) Share(leafG, heightCM float64) float64 {
	var z, chance [liftNodes]float64
	if !(leafG > 0 && heightCM > 0) || !l.grips(math.Log(leafG), z[:], chance[:]) {
		return 0
	}
	share, _ := l.reaches(math.Log(heightCM/l.p.BeltHeightCM), z[:], chance[:])
	return share
}

// LeastHeightCM gives the least mean height at which the share lifted reaches
// wantedShare, +Inf where no height does. leafG is the mean leaf mass, g dry
// per plant.
func (l *Lifting) LeastHeightCM(leafG, wantedShare float64) float64 {
	var z, chance [liftNodes]float64
	if wantedShare <= 0 {
		return 0
	}
	if !(leafG > 0) || !l.grips(math.Log(leafG), z[:], chance[:]) {
		return math.Inf(1)
	}
	return l.p.BeltHeightCM * math.Exp(l.leastHeight(wantedShare, z[:], chance[:]))
}

// leastHeight solves reaches = wanted for ln(height/belt) by Newton steps kept
// within a bracket; +Inf where no height reaches it.
func (l *Lifting) leastHeight(wanted float64, z, chance []float64) float64 {
	if sum(chance) <= wanted {
		return math.Inf(1)
	}
	reach := 2 * liftReach * l.p.HeightLnSD
	low, high := -reach, reach
	x := 0.0
	for range liftSteps {
		share, slope := l.reaches(x, z, chance)
		if share >= wanted {
			high = x
		} else {
			low = x
		}
		next := x - (share-wanted)/slope
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-x) < liftNearest {
			return next
		}
		x = next
	}
	return x
}

func sum(x []float64) (total float64) {
	for _, v := range x {
		total += v
	}
	return total
}

func normalCDF(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

func normalDensity(x float64) float64 { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }
