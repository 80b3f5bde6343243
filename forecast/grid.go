package forecast

import (
	"math"

	"wintertop/canopy"
)

// Sizes of the trait grid: the canopy runs on nodeSizes × gridHards draws; the
// posterior lives on gridSizes × gridHards × gridLengths.
const (
	nodeSizes   = 7
	sizesApart  = 4
	gridSizes   = sizesApart*(nodeSizes-1) + 1
	gridHards   = 45
	gridLengths = 25
	gridNodes   = gridSizes * gridHards

	sizeReach   = 3 // SD of the population on either side
	hardReach   = 4
	lengthReach = 3
)

// Grid is the trait grid: equal steps of ln top size, hardiness and ln top
// length. Every line is a weighting of it.
type Grid struct {
	SizeLn   []float64 // gridSizes
	HardC    []float64 // gridHards
	LengthLn []float64 // gridLengths, ln cm

	aside []float64       // of each length: ln of it less the middle's
	draws []canopy.Traits // nodeSizes × gridHards, hardiness innermost
}

// NewGrid spreads the grid over the population of p: ±3 SD of ln size and of
// ln length, ±4 SD of hardiness with the place's coldness in it, since a line
// at the edge would be cut short.
func NewGrid(p Params) *Grid {
	g := &Grid{
		SizeLn:   steps(0, sizeReach*p.TopSizeSDLn, gridSizes),
		HardC:    steps(p.HardinessC, hardReach*p.hardinessSD(), gridHards),
		LengthLn: steps(math.Log(p.TopLengthCM), lengthReach*p.TopLengthSD, gridLengths),
	}
	for _, ln := range g.LengthLn {
		g.aside = append(g.aside, ln-g.LengthLn[gridLengths/2])
	}
	for i := range nodeSizes {
		for _, h := range g.HardC {
			g.draws = append(g.draws, canopy.Traits{TopSize: math.Exp(g.SizeLn[sizesApart*i]), HardinessC: h})
		}
	}
	return g
}

// sizeStep is the step of ln top size.
func (g *Grid) sizeStep() float64 { return g.SizeLn[1] - g.SizeLn[0] }

// lengthStep is the step of ln top length.
func (g *Grid) lengthStep() float64 { return g.LengthLn[1] - g.LengthLn[0] }

// reach is how far the grid goes from its middle in ln top length.
func (g *Grid) reach() float64 { return g.aside[gridLengths-1] }

// steps gives n equal steps from middle-reach to middle+reach.
func steps(middle, reach float64, n int) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = middle + reach*(2*float64(i)/float64(n-1)-1)
	}
	return s
}

// weights holds a quantity over the whole grid, lengths innermost:
// [(size*gridHards + hardiness)*gridLengths + length].
type weights []float64

func newWeights() weights { return make(weights, gridNodes*gridLengths) }
