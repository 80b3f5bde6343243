package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// noted says whether this season's notes tell of a planting's own leaf mass.
func (l *Learning) noted(line int, s season, planting string) bool {
	return slices.ContainsFunc(l.seen[line][s], func(r reading) bool { return r.ofPlot(planting) })
}

// ofPlot says whether a reading is of a planting's leaf mass.
func (r reading) ofPlot(planting string) bool {
	return r.group == massGroup && r.note.Planting == planting
}

// inPlot gives the density of a line's traits in one season as they show in one
// of its plantings, of which leaf mass was noted, the plot's own deviation in
// them: a plot with more leaf is one where the line is so much larger.
//
// All other notes say what the line is in that season, the plot's deviation is
// laid about it, and the planting's own notes of mass, which are then of one
// size, are put to the sum. To that end ln leaf mass must follow ln top size,
// as it nearly does. The density lies in the room.
func (l *Learning) inPlot(before beforehand, line int, s season, planting string, room *lookRoom) density {
	var own, others []reading
	for _, r := range l.seen[line][s] {
		if r.ofPlot(planting) {
			own = append(own, r)
		} else {
			others = append(others, r)
		}
	}
	alone := l.params
	alone.PlotMassSDLn = 0
	w := room.copied(before.w)
	wide := l.grid.momentsOf(w).cov
	wide.SetSym(sizeTrait, sizeTrait, wide.At(sizeTrait, sizeTrait)+square(l.params.PlotMassSDLn))
	e := room.evidence()
	if len(others) > 0 {
		l.weigh(e, others, l.lengths[line], l.params)
		l.putTo(w, s, e)
	}
	l.blur(w, [traits]float64{sizeTrait: l.params.PlotMassSDLn})
	l.weigh(e, own, l.lengths[line], alone)
	l.putTo(w, s, e)
	l.doubt(w, wide, before, s)
	return w
}

// putTo puts notes of a season to a density of the traits in it, at the
// estimated deviation of the trial.
func (l *Learning) putTo(w density, s season, e *evidence) {
	effect, _ := l.trialOf(s)
	reach, most := l.grid.reach(), math.Inf(-1)
	room := l.rooms.take()
	defer l.rooms.leave(room)
	log := room.byNode
	w.each(func(node int, weight, mean, variance float64) {
		p := e.at(node, effect, reach).parabola(reach)
		narrow := 1 / (1/variance + p.bend)
		middle := min(max(narrow*(mean/variance+p.slope), -reach), reach)
		log[node] = ln(weight) + p.at(middle) - 0.5*(square(middle-mean)/variance-ln(narrow/variance))
		most = max(most, log[node])
		w.put(node, 1, middle, narrow)
	})
	w.each(func(node int, _, mean, variance float64) { w.put(node, math.Exp(log[node]-most), mean, variance) })
	w.normalise()
}

// doubt widens a density, to which a season's notes have been put, by what is
// not known of what all lines share. wide is the covariance before the notes.
func (l *Learning) doubt(w density, wide *mat.SymDense, before beforehand, s season) {
	have := l.grid.momentsOf(w)
	var gain, now mat.Dense
	gain.Mul(have.cov, inverse(wide))
	now.Mul(&gain, before.follows)
	if at := l.trialEffect(s); at >= 0 && len(before.notes.first) > 0 {
		effect, _ := l.trialOf(s)
		for t, x := range l.grid.covWith(w, have.mean, before.notes.lean(effect)) {
			now.Set(t, traits+at, now.At(t, traits+at)+x)
		}
	}
	l.blur(w, sdsOf(carried(&now, l.pop.doubt)))
}
