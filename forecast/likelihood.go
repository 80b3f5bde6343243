package forecast

import (
	"math"

	"wintertop/canopy"
)

// reading is one note with what the model predicts for it on the grid.
type reading struct {
	trait Trait
	seen  float64 // on the scale that is compared: ln(g dry + offset), ln(cm + offset)
	// variance of the plants' mean on that scale
	variance float64
	plot     int // index of the planting within the trial of this line and winter
	// expected holds ln(g dry + offset) at every grid node for mass notes, the
	// height relative to the top length for height notes, nil for top_length.
	expected []float64
}

// isMass says whether a note informs leaf mass; the others inform length.
func (t Trait) isMass() bool { return t == LeafMass || t == LeafDryMass }

// learnable says whether a note of this trait has an observation model.
func (t Trait) learnable() bool { return t.isMass() || t == TopHeight || t == TopLength }

// readingOf puts a note on the scale of comparison. massG and height are the
// model's mean leaf mass (dry g) and relative height at the grid nodes on the
// note's day.
func readingOf(n Note, plot int, p Params, stand canopy.Params, massG, height []float64) reading {
	r := reading{trait: n.Trait, plot: plot}
	switch n.Trait {
	case LeafMass, LeafDryMass:
		dry := n.Value
		if n.Trait == LeafMass {
			dry *= stand.DryShare
		}
		// The mean of n lognormal plants: its logarithm lies half its
		// variance below the logarithm of the planting's mean.
		r.variance = square(stand.MassLnSD) / float64(n.Plants)
		r.seen = math.Log(dry+p.MassOffsetG) + 0.5*r.variance
		r.expected = make([]float64, gridNodes)
		for i, g := range massG {
			r.expected[i] = math.Log(g + p.MassOffsetG)
		}
	case TopHeight, TopLength:
		r.variance = square(stand.HeightLnSD) / float64(n.Plants)
		r.seen = math.Log(n.Value+p.HeightOffsetCM) + 0.5*r.variance
		if n.Trait == TopHeight {
			r.expected = height
		}
	}
	return r
}

func square(x float64) float64 { return x * x }

// nested adds up residuals that share a plot effect, and plots that share a
// trial effect, both integrated out: compound symmetry in closed form.
type nested struct {
	plotVariance, trialVariance float64
	precision, first, second    []float64 // per plot: sums of 1/v, r/v, r²/v
}

func newNested(plots int, plotVariance, trialVariance float64) nested {
	return nested{plotVariance, trialVariance, make([]float64, plots), make([]float64, plots), make([]float64, plots)}
}

func (s *nested) reset() { clear(s.precision); clear(s.first); clear(s.second) }

func (s *nested) add(plot int, residual, variance float64) {
	s.precision[plot] += 1 / variance
	s.first[plot] += residual / variance
	s.second[plot] += residual * residual / variance
}

// logDensity gives the log of the normal density of all residuals, but for a
// constant that no residual enters.
func (s *nested) logDensity() float64 {
	var precision, first, second float64
	for p, a := range s.precision {
		shrink := 1 + s.plotVariance*a
		precision += a / shrink
		first += s.first[p] / shrink
		second += s.second[p] - s.plotVariance*s.first[p]*s.first[p]/shrink
	}
	second -= s.trialVariance * first * first / (1 + s.trialVariance*precision)
	return -0.5 * second
}

// likelihood gives the density of one line's notes of one winter at one place,
// as a function of its traits in that winter; the largest value is 1.
func (g *Grid) likelihood(readings []reading, plots int, p Params) weights {
	var masses, heights []reading
	for _, r := range readings {
		if r.trait.isMass() {
			masses = append(masses, r)
		} else {
			heights = append(heights, r)
		}
	}
	mass := newNested(plots, square(p.PlotMassSDLn), square(p.TrialSDLn))
	height := newNested(plots, square(p.PlotHeightSDLn), 0)
	lengths := make([]float64, gridLengths)
	for k, ln := range g.LengthLn {
		lengths[k] = math.Exp(ln)
	}
	l := newWeights()
	for node := range gridNodes {
		mass.reset()
		for _, r := range masses {
			mass.add(r.plot, r.seen-r.expected[node], r.variance)
		}
		ofMass := mass.logDensity()
		cell := l[node*gridLengths:][:gridLengths]
		for k, length := range lengths {
			height.reset()
			for _, r := range heights {
				standing := length
				if r.expected != nil {
					standing *= r.expected[node]
				}
				height.add(r.plot, r.seen-math.Log(standing+p.HeightOffsetCM), r.variance)
			}
			cell[k] = ofMass + height.logDensity()
		}
	}
	l.fromLog()
	return l
}
