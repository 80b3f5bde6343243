package forecast

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// When the estimate of what the lines share has come to rest: rounds of looking
// at the notes anew, steps between two looks, longest move in prior SDs.
const (
	mostLooks  = 6
	mostSteps  = 60
	restless   = 0.02
	restlessIn = 0.001
	reweighed  = 2 // first looks after which notes are weighed anew
)

// share estimates what all lines share: population, trials, places. Between two
// looks at the notes their likelihood is taken as quadratic in the effects.
func (l *Learning) share(ctx context.Context) error {
	l.trials = l.noteTrials()
	prior := l.params.populationPrior(len(l.trials), len(l.places))
	l.pop = prior.start()
	var noted []int
	for i := range l.seen {
		if len(l.seen[i]) > 0 {
			noted = append(noted, i)
		}
	}
	views, said, cells := make([]*view, len(noted)), make([]*testimony, len(noted)), make([][]float64, len(noted))
	for look := range mostLooks {
		l.shiftPlaces()
		err := inParallel(ctx, len(noted), func(i int) error {
			in := wholeGrid()
			if look > 0 { // a look before has shown which part matters
				in = boxOf(views[i].cells).wider(2, in)
			}
			views[i] = l.look(noted[i], season{}, l.pop, in)
			return nil
		})
		if err != nil {
			return err
		}
		before := slices.Clone(l.pop.effects)
		for range mostSteps {
			err := inParallel(ctx, len(noted), func(i int) error {
				said[i], cells[i] = views[i].testify(l.grid, l.linePrior(noted[i], l.pop), l.pop.effects)
				return nil
			})
			if err != nil {
				return err
			}
			spread := l.pop.spread
			l.pop.spread = mat.NewSymDense(traits, nil)
			l.pop.spread.CopySym(spread)
			moved := l.pop.settle(prior, said)
			l.pop.widen(prior, said)
			for t := range traits {
				moved = max(moved, math.Abs(l.pop.spread.At(t, t)/spread.At(t, t)-1))
			}
			if moved < restlessIn {
				break
			}
		}
		if look < reweighed {
			err := inParallel(ctx, len(noted), func(i int) error {
				l.reweigh(noted[i], views[i], cells[i])
				return nil
			})
			if err != nil {
				return err
			}
			continue
		}
		moved := 0.0
		for e, x := range l.pop.effects {
			moved = max(moved, math.Abs(x-before[e])/prior.effectSD[e])
		}
		if moved < restless {
			break
		}
	}
	l.shiftPlaces()
	l.views = make([]*view, len(l.lines))
	for i, line := range noted {
		l.views[line] = views[i]
	}
	return nil
}

// reweigh settles how much of a deviation of plot and trial shows in each note
// by what the model lets expect of it, not by the note itself: a note that
// happens to be low would count for more. cells are the weights of the view's.
func (l *Learning) reweigh(line int, v *view, cells []float64) {
	for s, e := range l.seen[line] {
		arrays, of := distinct(e.readings)
		mean := make([]float64, len(arrays))
		for a, array := range arrays {
			for i, c := range v.cells {
				if len(array) == gridNodes {
					c /= gridLengths
				}
				mean[a] += cells[i] * array[c]
			}
		}
		for i := range e.readings {
			r := &e.readings[i]
			offset := l.params.MassOffsetG
			if r.group == heightGroup {
				offset = l.params.HeightOffsetCM
			}
			r.shows(max(0, 1-offset/math.Exp(mean[of[i]])))
		}
		l.seen[line][s] = l.grid.weigh(e.readings, e.plots, l.params)
	}
}

// noteTrials gives the seasons in which any line has notes of leaf mass.
func (l *Learning) noteTrials() []season {
	var trials []season
	for _, place := range l.places {
		var own []season
		for _, seen := range l.seen {
			for s, e := range seen {
				if s.place == place && e.first != nil && !slices.Contains(own, s) {
					own = append(own, s)
				}
			}
		}
		slices.SortFunc(own, func(a, b season) int { return a.winter.Year - b.winter.Year })
		trials = append(trials, own...)
	}
	return trials
}

// seasonEffect gives the index of a season's trial among the effects, -1 where
// no notes of leaf mass tell of it.
func (l *Learning) seasonEffect(s season) int { return slices.Index(l.trials, s) }

// trialEffect gives the deviation of a season's trial, ln leaf mass, and its
// SD, as far as notes of leaf mass tell of them.
func (l *Learning) trialEffect(s season) (effect, sd float64) {
	at := l.seasonEffect(s)
	if at < 0 {
		return 0, l.params.TrialSDLn
	}
	return l.pop.effects[at], math.Sqrt(l.pop.doubt.At(traits+at, traits+at))
}

// placeEffect gives the index of a place's shift among the effects, -1 where
// there is one place only.
func (l *Learning) placeEffect(p *Place) int {
	if len(l.places) < 2 {
		return -1
	}
	return len(l.trials) + slices.Index(l.places, p)
}

// shiftPlaces lays out the deviations of a winter at each place.
func (l *Learning) shiftPlaces() {
	l.kernels = map[*Place]kernel{}
	for _, p := range l.places {
		shift := 0.0
		if at := l.placeEffect(p); at >= 0 {
			shift = l.pop.effects[at]
		}
		l.kernels[p] = l.grid.kernelOf(l.params, shift)
	}
}

// linePrior gives what is assumed of a line before its notes.
func (l *Learning) linePrior(line int, pop *population) traitPrior {
	placeSD := l.params.PlaceSDC
	if len(l.places) > 1 {
		placeSD = 0
	}
	return pop.priorOf(l.lines[line].Prior, l.params, placeSD)
}

// lookPrior gives a prior wide enough that no cell with weight is overlooked
// while the population is still moving.
func (l *Learning) lookPrior(line int, pop *population) traitPrior {
	prior := l.linePrior(line, pop)
	prior.cov.ScaleSym(3, prior.cov)
	return prior
}

// sortedSeasons gives the seasons of a map in a fixed order, so that sums are
// the same on every run.
func sortedSeasons[V any](seen map[season]V) []season {
	return slices.SortedFunc(maps.Keys(seen), func(a, b season) int {
		return cmp.Or(a.winter.Year-b.winter.Year, cmp.Compare(a.place.Name, b.place.Name))
	})
}
