package forecast

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/floats"
)

// spread collects weighted values in equal steps, to give their weighted
// quantiles without sorting. The steps are of the value itself, or of its
// logarithm; there, values at or below the least have a step of their own.
type spread struct {
	least, step float64
	perUnit     float64 // steps
	logarithmic bool
	at          []bin // by step
}

// bin is what a step holds: total weight, and weight × value.
type bin struct{ weight, sum float64 }

// The spreads that the outlook keeps, each wider than the quantity can be.
func spreadOfLeafG() spread      { return newSpread(math.Log(0.002), math.Log(100), 0.02, true) }
func spreadOfHeightCM() spread   { return newSpread(math.Log(0.1), math.Log(400), 0.01, true) }
func spreadOfLiveLeaves() spread { return newSpread(0, 40, 0.05, false) }
func spreadOfShare() spread      { return newSpread(0, 1, 0.002, false) }
func spreadOfLT50() spread       { return newSpread(-25, 0, 0.02, false) }

// seasonSpreads are the spreads of one row's day, kept from day to day.
type seasonSpreads struct {
	mass, height, leaves, weeds, lift, lt50 spread

	doubt   bell        // of the row's mass
	lengths []topLength // of its core
}

func newSeasonSpreads() *seasonSpreads {
	return &seasonSpreads{mass: spreadOfLeafG(), height: spreadOfHeightCM(), leaves: spreadOfLiveLeaves(), weeds: spreadOfShare(), lift: spreadOfShare(), lt50: spreadOfLT50()}
}

// reset empties the spreads and gives them.
func (s *seasonSpreads) reset() (mass, height, leaves, weeds, lift, lt50 *spread) {
	for _, one := range []*spread{&s.mass, &s.height, &s.leaves, &s.weeds, &s.lift, &s.lt50} {
		clear(one.at)
	}
	return &s.mass, &s.height, &s.leaves, &s.weeds, &s.lift, &s.lt50
}

func newSpread(least, most, step float64, logarithmic bool) spread {
	n := int(math.Ceil((most-least)/step)) + 2
	return spread{least, step, 1 / step, logarithmic, make([]bin, n)}
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
	return min(1+int((x-s.least)*s.perUnit), len(s.at)-1)
}

func (s *spread) add(x, weight float64) { s.addAt(s.stepOf(x), x, weight) }

func (s *spread) addAt(step int, x, weight float64) {
	h := &s.at[step]
	h.weight += weight
	h.sum += weight * x
}

// total gives the weight of all that was added.
func (s *spread) total() float64 {
	total := 0.0
	for _, h := range s.at {
		total += h.weight
	}
	return total
}

// quantile gives the mean of the step in which the cumulated weight reaches
// the share p: within a step of the exact weighted quantile. It is NaN where
// nothing was added.
func (s *spread) quantile(p float64) float64 {
	total := s.total()
	reached, last := 0.0, math.NaN()
	for _, h := range s.at {
		if h.weight == 0 {
			continue
		}
		reached += h.weight
		last = h.sum / h.weight
		if reached >= p*total*(1-rounding) {
			break
		}
	}
	return last
}

// rounding is the share of the weight by which sums in another order may differ: where
// half of the winters have one leaf more than the rest, the fewer is the median.
const rounding = 1e-9

// interpolated is quantile for a quantity without steps of its own, straight between
// the steps that hold something, each taken to lie in the middle of its weight
// (Hazen's rule): few values then give no coarser a median.
func (s *spread) interpolated(p float64) float64 {
	total := s.total()
	reached, before, last := 0.0, math.NaN(), math.NaN() // last lies at before
	for _, h := range s.at {
		w := h.weight
		if w == 0 {
			continue
		}
		middle, value := reached+w/2, h.sum/w
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
	upTo   []float64 // sums of chance
	share  []float64 // of a value: chance × what it is multiplied by
}

func (s *spread) bell(sd float64) bell {
	b := bell{reach: int(math.Ceil(4 * sd / s.step))}
	b.chance, b.share = make([]float64, 0, 2*b.reach+1), make([]float64, 0, 2*b.reach+1)
	for i := -b.reach; i <= b.reach; i++ {
		apart := float64(i) * s.step
		chance := math.Exp(-0.5 * square(apart/sd))
		b.chance, b.share = append(b.chance, chance), append(b.share, chance*math.Exp(apart))
	}
	total := floats.Sum(b.chance)
	floats.Scale(1/total, b.chance)
	floats.Scale(1/total, b.share)
	b.upTo = floats.CumSum(make([]float64, len(b.chance)), b.chance)
	return b
}

// blurred gives a logarithmic spread after a deviation of the logarithm: model
// doubt. Values in step 0 stay.
func (s *spread) blurred(by bell) spread {
	reach := float64(by.reach) * s.step
	blur := newSpread(s.least-reach, s.least+float64(len(s.at))*s.step+reach, s.step, true)
	blur.at[0] = s.at[0]
	for i, h := range s.at[1:] {
		if h.weight == 0 {
			continue
		}
		to := blur.at[i+1:][:len(by.chance)]
		for j, chance := range by.chance {
			to[j].weight += h.weight * chance
			to[j].sum += h.sum * by.share[j]
		}
	}
	return blur
}

// blurredQuantile gives a quantile of what blurred gives, of which it lays out only
// the step asked for.
func (s *spread) blurredQuantile(by bell, p float64) float64 {
	wanted := p*s.total() - s.at[0].weight
	if wanted <= 0 {
		return s.at[0].sum / s.at[0].weight
	}
	// Step k of blurred, from 0 on, gets of step i, from 0 on, what deviates by k-i-reach.
	own := s.at[1:]
	from, to := 0, len(own)
	for from < to && own[from].weight == 0 {
		from++
	}
	for to > from && own[to-1].weight == 0 {
		to--
	}
	width := len(by.chance)
	step := from + sort.Search(to-from+width-1, func(k int) bool {
		k += from
		sum := 0.0
		for i := from; i < min(k+1, to); i++ {
			sum += own[i].weight * by.upTo[min(k-i, width-1)]
		}
		return sum >= wanted
	})
	var at bin
	for i := max(from, step-width+1); i < min(step+1, to); i++ {
		at.weight += own[i].weight * by.chance[step-i]
		at.sum += own[i].sum * by.share[step-i]
	}
	return at.sum / at.weight
}

// points gives the values of the steps that hold any weight, ascending, and
// their weights, which sum to 1. What is below the least of a logarithmic
// spread is none, as a note of 0 is.
func (s *spread) points() (x, weight []float64) {
	total, n := s.total(), 0
	for _, h := range s.at {
		if h.weight != 0 {
			n++
		}
	}
	x, weight = make([]float64, 0, n), make([]float64, 0, n)
	for i, h := range s.at {
		if h.weight == 0 {
			continue
		}
		value := h.sum / h.weight
		if s.logarithmic && i == 0 {
			value = 0
		}
		x, weight = append(x, value), append(weight, h.weight/total)
	}
	return x, weight
}
