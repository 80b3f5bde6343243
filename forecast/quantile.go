package forecast

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// spread collects weighted values in equal steps, to give their weighted
// quantiles without sorting. The steps are of the value itself, or of its
// logarithm; there, values at or below the least have a step of their own.
type spread struct {
	least, step float64
	perUnit     float64 // steps
	logarithmic bool
	weight, sum []float64 // per step: total weight, weight × value
}

// The spreads that the outlook keeps, each wider than the quantity can be.
func spreadOfLeafG() spread      { return newSpread(math.Log(0.002), math.Log(100), 0.02, true) }
func spreadOfHeightCM() spread   { return newSpread(math.Log(0.1), math.Log(400), 0.01, true) }
func spreadOfLiveLeaves() spread { return newSpread(0, 40, 0.05, false) }
func spreadOfShare() spread      { return newSpread(0, 1, 0.002, false) }
func spreadOfLT50() spread       { return newSpread(-25, 0, 0.02, false) }

// seasonSpreads are the spreads of one row's day, kept from day to day.
type seasonSpreads struct {
	mass, height, leaves, weeds, lift, lt50 spread

	doubt    bell   // of the row's mass
	doubtful spread // mass with it
}

func newSeasonSpreads() *seasonSpreads {
	return &seasonSpreads{mass: spreadOfLeafG(), height: spreadOfHeightCM(), leaves: spreadOfLiveLeaves(), weeds: spreadOfShare(), lift: spreadOfShare(), lt50: spreadOfLT50()}
}

// reset empties the spreads and gives them.
func (s *seasonSpreads) reset() (mass, height, leaves, weeds, lift, lt50 *spread) {
	for _, one := range []*spread{&s.mass, &s.height, &s.leaves, &s.weeds, &s.lift, &s.lt50} {
		clear(one.weight)
		clear(one.sum)
	}
	return &s.mass, &s.height, &s.leaves, &s.weeds, &s.lift, &s.lt50
}

func newSpread(least, most, step float64, logarithmic bool) spread {
	n := int(math.Ceil((most-least)/step)) + 2
	return spread{least, step, 1 / step, logarithmic, make([]float64, n), make([]float64, n)}
}

// stepOf gives the step that holds x; step 0 is for everything below the
// least.
func (s *spread) stepOf(x float64) int {
	if s.logarithmic {
		x = math.Log(x)
	}
	return s.stepOn(x)
}

// stepOn is stepOf for a value that is on the spread's own scale already.
func (s *spread) stepOn(x float64) int {
	if !(x >= s.least) {
		return 0
	}
	return min(1+int((x-s.least)*s.perUnit), len(s.weight)-1)
}

func (s *spread) add(x, weight float64) { s.addAt(s.stepOf(x), x, weight) }

func (s *spread) addAt(step int, x, weight float64) {
	s.weight[step] += weight
	s.sum[step] += weight * x
}

// quantile gives the mean of the step in which the cumulated weight reaches
// the share p: within a step of the exact weighted quantile. It is NaN where
// nothing was added.
func (s *spread) quantile(p float64) float64 {
	total := sumOf(s.weight)
	reached, last := 0.0, math.NaN()
	for i, w := range s.weight {
		if w == 0 {
			continue
		}
		reached += w
		last = s.sum[i] / w
		if reached >= p*total {
			break
		}
	}
	return last
}

// interpolated is quantile for a quantity without steps of its own, straight between
// the steps that hold something, each taken to lie in the middle of its weight
// (Hazen's rule): few values then give no coarser a median.
func (s *spread) interpolated(p float64) float64 {
	total := sumOf(s.weight)
	reached, before, last := 0.0, math.NaN(), math.NaN() // last lies at before
	for i, w := range s.weight {
		if w == 0 {
			continue
		}
		middle, value := reached+w/2, s.sum[i]/w
		switch {
		case middle < p*total:
			reached, before, last = reached+w, middle, value
			continue
		case math.IsNaN(last):
			return value
		}
		return last + (value-last)*(p*total-before)/(middle-before)
	}
	return last
}

// bell is a normal deviation of the logarithm, in steps of a spread.
type bell struct {
	reach  int       // steps on either side
	chance []float64 // sums to 1
	share  []float64 // of a value: chance × what it is multiplied by
}

func (s *spread) bell(sd float64) bell {
	b := bell{reach: int(math.Ceil(4 * sd / s.step))}
	for i := -b.reach; i <= b.reach; i++ {
		ln := float64(i) * s.step
		chance := math.Exp(-0.5 * square(ln/sd))
		b.chance, b.share = append(b.chance, chance), append(b.share, chance*math.Exp(ln))
	}
	total := floats.Sum(b.chance)
	floats.Scale(1/total, b.chance)
	floats.Scale(1/total, b.share)
	return b
}

// blurred gives a logarithmic spread after a deviation of the logarithm: model
// doubt. Values in step 0 stay.
func (s *spread) blurred(by bell) spread {
	blur := s.wider(by)
	s.blurInto(&blur, by)
	return blur
}

// wider gives an empty spread with room for what a deviation does to this one.
func (s *spread) wider(by bell) spread {
	reach := float64(by.reach) * s.step
	return newSpread(s.least-reach, s.least+float64(len(s.weight))*s.step+reach, s.step, true)
}

// blurInto is blurred into what wider gave.
func (s *spread) blurInto(blur *spread, by bell) {
	clear(blur.weight)
	clear(blur.sum)
	blur.weight[0], blur.sum[0] = s.weight[0], s.sum[0]
	for i, w := range s.weight[1:] {
		if w == 0 {
			continue
		}
		weight, sum := blur.weight[i+1:][:len(by.chance)], blur.sum[i+1:][:len(by.chance)]
		for j, chance := range by.chance {
			weight[j] += w * chance
			sum[j] += s.sum[i+1] * by.share[j]
		}
	}
}

// points gives the values of the steps that hold any weight, ascending, and
// their weights, which sum to 1. What is below the least of a logarithmic
// spread is none, as a note of 0 is.
func (s *spread) points() (x, weight []float64) {
	total := sumOf(s.weight)
	for i, w := range s.weight {
		if w == 0 {
			continue
		}
		value := s.sum[i] / w
		if s.logarithmic && i == 0 {
			value = 0
		}
		x, weight = append(x, value), append(weight, w/total)
	}
	return x, weight
}
