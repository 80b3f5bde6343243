package forecast

import (
	"gonum.org/v1/gonum/mat"
)

// inPlot gives the density of a line's traits in one season as they show in one
// of its plantings, the plot's own deviation in them: a plot with more leaf is
// one where the line is so much larger. A planting without notes of leaf mass
// in that season has none that is known; false then.
//
// All other notes say what the line is in that season, the plot's deviation is
// laid about it, and the planting's own notes of mass, which are then of one
// size, are put to the sum. To that end ln leaf mass must follow ln top size,
// as it nearly does.
func (l *Learning) inPlot(line int, s season, planting string) (weights, bool) {
	e := l.seen[line][s]
	if e == nil {
		return nil, false
	}
	var own, others []reading
	for _, r := range e.readings {
		if r.group == massGroup && r.note.Planting == planting {
			own = append(own, r)
		} else {
			others = append(others, r)
		}
	}
	if len(own) == 0 {
		return nil, false
	}
	alone := l.params
	alone.PlotMassSDLn = 0
	w, follows := l.expected(line, s)
	_, wide := l.grid.meanAndCov(w)
	wide.SetSym(sizeTrait, sizeTrait, wide.At(sizeTrait, sizeTrait)+square(l.params.PlotMassSDLn))
	if len(others) > 0 {
		l.putTo(w, s, l.grid.weigh(others, e.plots, l.params))
	}
	l.blur(w, [traits]float64{sizeTrait: l.params.PlotMassSDLn})
	l.putTo(w, s, l.grid.weigh(own, 1, alone))
	l.doubt(w, wide, follows, s, e)
	return w, true
}

// putTo puts notes of a season to a density of the traits in it, at the
// estimated deviation of the trial.
func (l *Learning) putTo(w weights, s season, e *evidence) {
	effect, _ := l.trialOf(s)
	for i, x := range e.at(effect) {
		w[i] = (w[i] + tiny) * (x + tiny)
	}
	w.normalise()
}

// doubt widens a density, to which a season's notes have been put, by what is
// not known of what all lines share. wide is the covariance before the notes,
// follows how the mean then followed what the lines share.
func (l *Learning) doubt(w weights, wide *mat.SymDense, follows *mat.Dense, s season, e *evidence) {
	mean, cov := l.grid.meanAndCov(w)
	var gain, now mat.Dense
	gain.Mul(cov, inverse(wide))
	now.Mul(&gain, follows)
	if at := l.trialEffect(s); at >= 0 && e.first != nil {
		effect, _ := l.trialOf(s)
		_, lean := e.massAt(effect)
		for t, x := range l.grid.covWith(w, mean, lean) {
			now.Set(t, traits+at, now.At(t, traits+at)+x)
		}
	}
	l.blur(w, sdsOf(carried(&now, l.pop.doubt)))
}
