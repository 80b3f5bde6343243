package forecast

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// RightChoice gives the chance that the best of k lines is chosen as best when
// it leads each of the others by ratio standard errors of one line's mean: the
// least favourable case of ranking by means of equal precision. With two lines
// it is Φ(ratio/√2). k is at least 2. Bechhofer 1954.
func RightChoice(k int, ratio float64) float64 {
	at, weight := choiceNodes()
	return rightChoice(k, ratio, at, weight)
}

func rightChoice(k int, ratio float64, at, weight []float64) float64 {
	if k == 2 {
		return distuv.UnitNormal.CDF(ratio / math.Sqrt2)
	}
	sum := 0.0
	for i, z := range at {
		sum += weight[i] * distuv.UnitNormal.Prob(z) * math.Pow(distuv.UnitNormal.CDF(z+ratio), float64(k-1))
	}
	return sum
}

// choiceNodes gives where the integral is taken, and the weights: beyond 8
// standard deviations lies 1e-15, and with half the nodes it moves by less than
// 1e-9.
func choiceNodes() (at, weight []float64) {
	at, weight = make([]float64, 64), make([]float64, 64)
	quad.Legendre{}.FixedLocations(at, weight, -8, 8)
	return at, weight
}

// choices looks the chance up for one k: a designer asks for many.
type choices struct {
	at      []float64 // by ratio
	perStep float64
}

func choicesOf(k int) choices {
	const most, steps = 14, 700
	c := choices{perStep: float64(steps) / most}
	at, weight := choiceNodes()
	for i := range steps + 1 {
		c.at = append(c.at, rightChoice(k, float64(i)/c.perStep, at, weight))
	}
	return c
}

// right is RightChoice for a ratio of at least 0, within 2e-5.
func (c choices) right(ratio float64) float64 {
	place := ratio * c.perStep
	if !(place < float64(len(c.at)-1)) {
		return 1
	}
	i := int(place)
	part := place - float64(i)
	return (1-part)*c.at[i] + part*c.at[i+1]
}
