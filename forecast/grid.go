package forecast

import (
	"math"

	"wintertop/canopy"
)

// Sizes of the trait grid: the canopy runs on nodeSizes × gridHards draws; the
// posterior lives on gridSizes × gridHards × gridLengths.
const (
	nodeSizes   = 13
	gridSizes   = 2*nodeSizes - 1
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
	for i := range nodeSizes {
		for _, h := range g.HardC {
			g.draws = append(g.draws, canopy.Traits{TopSize: math.Exp(g.SizeLn[2*i]), HardinessC: h})
		}
	}
	return g
}

// steps gives n equal steps from middle-reach to middle+reach.
func steps(middle, reach float64, n int) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = middle + reach*(2*float64(i)/float64(n-1)-1)
	}
	return s
}

// refine carries a quantity from the canopy's draws to the gridNodes of the
// posterior: between two sizes the mean of its values.
func (g *Grid) refine(dst, draws []float64) {
	for i := range gridSizes {
		row := dst[i*gridHards : (i+1)*gridHards]
		lower := draws[i/2*gridHards:][:gridHards]
		if i%2 == 0 {
			copy(row, lower)
			continue
		}
		upper := draws[(i/2+1)*gridHards:][:gridHards]
		for j := range row {
			row[j] = 0.5 * (lower[j] + upper[j])
		}
	}
}

// refineLog is refine on the scale ln(x + offset), on which predictions are
// nearly straight in ln size.
func (g *Grid) refineLog(dst, draws []float64, offset float64) {
	for i := range gridSizes {
		row := dst[i*gridHards : (i+1)*gridHards]
		lower := draws[i/2*gridHards:][:gridHards]
		if i%2 == 0 {
			copy(row, lower)
			continue
		}
		upper := draws[(i/2+1)*gridHards:][:gridHards]
		for j := range row {
			row[j] = max(0, math.Sqrt((lower[j]+offset)*(upper[j]+offset))-offset)
		}
	}
}

// weights holds one density over the whole grid, lengths innermost:
// [(size*gridHards + hardiness)*gridLengths + length].
type weights []float64

func newWeights() weights { return make(weights, gridNodes*gridLengths) }

// normalise makes the weights sum to 1. It panics where they sum to nothing.
func (w weights) normalise() {
	total := 0.0
	for _, x := range w {
		total += x
	}
	if !(total > 0) {
		panic("forecast: a density without mass")
	}
	for i := range w {
		w[i] /= total
	}
}

// fromLog turns log weights into weights with the largest at 1.
func (w weights) fromLog() {
	most := math.Inf(-1)
	for _, x := range w {
		most = max(most, x)
	}
	for i, x := range w {
		w[i] = math.Exp(x - most)
	}
}
