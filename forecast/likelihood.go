package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// evidence is what the notes of one line of one winter at one place say of its
// traits in that winter. Leaf mass is kept apart, so that the deviation of the
// trial, which all lines share, can be moved: with r the residual of ln mass
// and e the trial's deviation,
//
//	ln likelihood = -½·second + e·first - ½·e²·precision.
type evidence struct {
	first, second []float64 // by node; none without notes of mass
	precision     float64
	rest          []lengthNormal // by node: likelihood of all other notes along length; none without
}

// evidence gives what a line's notes of a season say, as it lies ready or laid out
// anew in a room's work space.
func (l *Learning) evidence(line int, s season, room *lookRoom) *evidence {
	if e := l.laid[line][s]; e != nil {
		return e
	}
	e := room.evidence()
	l.weigh(e, l.seen[line][s], l.lengths[line], l.params)
	return e
}

// layOut lays out what a line's notes of all seasons say, in a room's work space
// that nobody else uses until it is put away.
func (l *Learning) layOut(line int, room *lookRoom) {
	laid := map[season]*evidence{}
	for s := range l.seen[line] {
		laid[s] = l.evidence(line, s, room)
	}
	l.laid[line] = laid
}

// weigh works out the evidence of some readings of a line, in the room of an earlier
// one. about says which lengths matter to it.
func (l *Learning) weigh(e *evidence, readings []reading, about lengthNormal, p Params) {
	room := l.rooms.take()
	defer l.rooms.leave(room)
	e.first, e.second, e.rest = e.first[:0], e.second[:0], e.rest[:0]
	byNode, byLength := room.byNode, room.byLength // -2·the log likelihood of other notes, the latter at three lengths
	var counts weights
	for group := range groups {
		own := together(room.readings[:0], readings, group)
		room.readings = own
		if len(own) == 0 {
			continue
		}
		if group != massGroup && len(e.rest) == 0 {
			e.rest = resized(e.rest, gridNodes)
			clear(byNode)
			clear(byLength)
		}
		if group == liftGroup {
			counts = countsOf(own, p)
			continue
		}
		sum := byNode
		if group == heightGroup {
			sum = byLength
		}
		form := quadraticOf(own, group, p)
		if group != massGroup {
			form.addTo(sum)
			continue
		}
		e.second, e.first = resized(e.second, gridNodes), resized(e.first, gridNodes)
		clear(e.second)
		clear(e.first)
		form.addTo(e.second)
		form.slopeTo(e.first)
		e.precision = form.total
	}
	apart, reach := l.grid.threeApart(), l.grid.reach()
	most := math.Inf(-1)
	for node := range e.rest {
		sum := byLength[3*node:][:3]
		for q := range sum {
			sum[q] = -0.5 * (sum[q] + byNode[node])
		}
		along := through(sum, apart)
		if counts != nil {
			along = along.plus(1, l.grid.matched(counts[node*gridLengths:][:gridLengths], along, about))
		}
		e.rest[node] = along.tilt(reach)
		most = max(most, e.rest[node].ln)
	}
	for node, b := range e.rest {
		if b.ln < most-faintRest {
			e.rest[node] = lengthNormal{ln: most - faintRest, variance: square(reach)}
		}
	}
}

// faintRest is the log likelihood below the best at which notes other than mass
// have nothing left to tell, so that a note that cannot be true does not drag a
// line on and on.
const faintRest = 150

// countsOf gives the log likelihood of lifted shares by cell. Each has a
// deviation of its own: plots are seldom lifted twice.
func countsOf(readings []reading, p Params) weights {
	sum := newWeights()
	for _, r := range readings {
		tried := float64(r.note.Plants)
		counted := countOf(r.note.Value*tried, tried, math.Hypot(p.PlotLiftSDLogit, p.TrialLiftSDLogit))
		for c, logit := range r.expected {
			sum[c] += counted.at(shareOf(logit, tried))
		}
	}
	return sum
}

// quadratic is the form rᵀΩr of the residuals of some readings that share
// plots, Ω the inverse of their covariance, as a function of the expectations.
type quadratic struct {
	arrays   [][]float64
	weight   *mat.SymDense // of products of expectations
	pull     []float64     // of expectations
	constant float64
	lean     []float64 // sᵀΩ by expectation, s the shares of a deviation that show
	leanSeen float64   // sᵀΩ·seen
	total    float64   // sᵀΩs
}

// covariance gives the covariance of the readings of one group about what the
// model expects.
func covariance(readings []reading, plotVariance, trialVariance float64) *mat.SymDense {
	c := mat.NewSymDense(len(readings), nil)
	for i, a := range readings {
		for j, b := range readings[:i+1] {
			x := a.shared(b, plotVariance, trialVariance)
			if i == j {
				x += a.variance
			}
			c.SetSym(i, j, x)
		}
	}
	return c
}

// shared gives the covariance of two readings of one group that comes of the
// trial's deviation and, of one plot, the plot's.
func (a reading) shared(b reading, plotVariance, trialVariance float64) float64 {
	x := trialVariance
	if a.plot == b.plot {
		x += plotVariance
	}
	return x * (a.share * b.share)
}

func quadraticOf(readings []reading, g group, p Params) quadratic {
	plot, trial := g.doubts(p)
	omega := inverse(covariance(readings, plot, trial))
	arrays, of := distinct(readings)
	q := quadratic{arrays: arrays, weight: mat.NewSymDense(len(arrays), nil), pull: make([]float64, len(arrays)), lean: make([]float64, len(arrays))}
	sums := mat.NewDense(len(arrays), len(arrays), nil)
	for i, a := range readings {
		for j, b := range readings {
			x := omega.At(i, j)
			sums.Set(of[i], of[j], sums.At(of[i], of[j])+x)
			q.pull[of[i]] += x * b.seen
			q.constant += x * a.seen * b.seen
			q.lean[of[i]] += x * b.share
			q.leanSeen += x * a.share * b.seen
			q.total += x * a.share * b.share
		}
	}
	for i := range arrays {
		for j := range i + 1 {
			q.weight.SetSym(i, j, sums.At(i, j))
		}
	}
	return q
}

// addTo adds the form to dst, a stretch after the other that stays at hand.
func (q quadratic) addTo(dst []float64) {
	const stretch = gridHards * gridLengths
	for from := 0; from < len(dst); from += stretch {
		to := min(from+stretch, len(dst))
		sum := dst[from:to]
		floats.AddConst(q.constant, sum)
		for a, x := range q.arrays {
			own := x[from:to]
			pull, square := -2*q.pull[a], q.weight.At(a, a)
			for i, e := range own {
				sum[i] += e * (pull + square*e)
			}
			for b, y := range q.arrays[:a] {
				if w := 2 * q.weight.At(a, b); w != 0 {
					for i, e := range y[from:to] {
						sum[i] += w * own[i] * e
					}
				}
			}
		}
	}
}

// slopeTo adds sᵀΩr, half the slope of the form by an effect common to all
// readings, to dst.
func (q quadratic) slopeTo(dst []float64) {
	for i := range dst {
		dst[i] += q.leanSeen
	}
	for a, x := range q.arrays {
		for i, e := range x {
			dst[i] -= q.lean[a] * e
		}
	}
}

// at gives the likelihood along length at one node where the trial deviates by
// effect.
func (e *evidence) at(node int, effect, reach float64) lengthNormal {
	b := lengthNormal{variance: square(reach)}
	if len(e.rest) > 0 {
		b = e.rest[node]
	}
	if len(e.first) > 0 {
		b.ln += effect*(e.first[node]-0.5*effect*e.precision) - 0.5*e.second[node]
	}
	return b
}

// lean gives how the log likelihood moves with the deviation of the trial, by
// node; nil without notes of mass.
func (e *evidence) lean(effect float64) []float64 {
	lean := slices.Clone(e.first)
	floats.AddConst(-effect*e.precision, lean)
	return lean
}

func square(x float64) float64 { return x * x }
