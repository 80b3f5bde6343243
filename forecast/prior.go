package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// The traits of the grid, in the order of means and covariances: ln top size,
// hardiness in °C, ln top length in cm.
const (
	sizeTrait = iota
	hardTrait
	lengthTrait
	traits
)

// traitPrior is a normal density of one line's traits before its notes.
type traitPrior struct {
	mean []float64
	cov  *mat.SymDense
	// known says that it stands by itself: neither mean nor covariance is the
	// population's.
	known bool
}

// populationPrior gives what is assumed of lines, seasons and places before any
// note. The effects are the deviation of each season's trial in ln leaf mass,
// then what all lines deviate in hardiness in each season, then the shift of
// each place. With one place, its coldness moves the same number as the mean
// hardiness of the lines, so that the mean carries its doubt.
func (p Params) populationPrior(seasons, places int) populationPrior {
	meanHardSD := p.MeanHardSDC
	if places < 2 {
		meanHardSD = math.Hypot(p.MeanHardSDC, p.PlaceSDC)
		places = 0
	}
	prior := populationPrior{
		mean:   []float64{0, p.HardinessC, math.Log(p.TopLengthCM)},
		meanSD: []float64{p.MeanSizeSDLn, meanHardSD, p.MeanLengthSDLn},
		spread: mat.NewSymDense(traits, nil),
		lines:  p.PopulationLines,
	}
	for t, sd := range []float64{p.TopSizeSDLn, p.HardinessSDC, p.TopLengthSD} {
		prior.spread.SetSym(t, t, square(sd))
	}
	prior.effectSD = slices.Concat(slices.Repeat([]float64{p.TrialSDLn}, seasons),
		slices.Repeat([]float64{p.WinterHardSDC}, seasons), slices.Repeat([]float64{p.PlaceSDC}, places))
	return prior
}

// priorOf gives the prior of one line: the population, where lines.csv says
// nothing of it; what lines.csv says takes the place of the population for the
// traits it names. hardSD is the doubt of the place's coldness that an own
// hardiness carries.
func (pop *population) priorOf(own LinePrior, p Params, placeSD float64) traitPrior {
	prior := traitPrior{mean: append([]float64(nil), pop.mean...), cov: mat.NewSymDense(traits, nil)}
	prior.cov.CopySym(pop.spread)
	named := [traits]bool{sizeTrait: !math.IsNaN(own.TopSize), hardTrait: !math.IsNaN(own.HardinessC), lengthTrait: !math.IsNaN(own.TopLengthCM)}
	if named == [traits]bool{} {
		return prior
	}
	prior.known = true
	for i := range traits {
		for j := range i + 1 {
			prior.cov.SetSym(i, j, pop.spread.At(i, j)+pop.doubt.At(i, j))
			if named[i] || named[j] {
				prior.cov.SetSym(i, j, 0)
			}
		}
	}
	set := func(t int, mean, sd float64) {
		if named[t] {
			prior.mean[t] = mean
			prior.cov.SetSym(t, t, square(sd))
		}
	}
	set(sizeTrait, math.Log(own.TopSize), orElse(own.TopSizeSD/own.TopSize, p.TopSizeSDLn))
	set(hardTrait, own.HardinessC, math.Hypot(orElse(own.HardinessSDC, p.HardinessSDC), placeSD))
	set(lengthTrait, math.Log(own.TopLengthCM), orElse(own.TopLengthSDCM/own.TopLengthCM, p.TopLengthSD))
	return prior
}

// addPrior adds the log density of the prior at the cells to dst.
func (g *Grid) addPrior(dst []float64, cells []int32, prior traitPrior) {
	along, node, own := g.alongLength(prior), -1, parabola{}
	for i, c := range cells {
		if at := int(c) / gridLengths; at != node {
			node, own = at, along(at)
		}
		dst[i] += own.at(g.aside[int(c)%gridLengths])
	}
}

// alongLength gives the log density of a prior along ln length, by node.
func (g *Grid) alongLength(prior traitPrior) func(node int) parabola {
	precision := inverse(prior.cov)
	ss, sh, sl := precision.At(sizeTrait, sizeTrait), precision.At(sizeTrait, hardTrait), precision.At(sizeTrait, lengthTrait)
	hh, hl, ll := precision.At(hardTrait, hardTrait), precision.At(hardTrait, lengthTrait), precision.At(lengthTrait, lengthTrait)
	mean := prior.mean[lengthTrait] - g.LengthLn[gridLengths/2]
	return func(node int) parabola {
		s, h := g.SizeLn[node/gridHards]-prior.mean[sizeTrait], g.HardC[node%gridHards]-prior.mean[hardTrait]
		pull := sl*s + hl*h
		return parabola{mean*(pull-0.5*ll*mean) - 0.5*(s*(ss*s+2*sh*h)+hh*h*h), ll*mean - pull, ll}
	}
}

// hardinessSD gives the spread of hardiness for which the grid is laid out:
// between lines, and of the coldness of the place, which moves the same number.
func (p Params) hardinessSD() float64 { return math.Hypot(p.HardinessSDC, p.PlaceSDC) }
