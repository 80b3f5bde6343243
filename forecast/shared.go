package forecast

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"
)

// When the estimate of what the lines share has come to rest: rounds of looking
// at the notes anew, longest move in prior SDs.
const (
	mostLooks   = 12
	widenings   = 3 // of the population, in each round
	reweighed   = 3 // first rounds after which notes are weighed anew
	restless    = 0.05
	wideLengths = 2     // times the variance of a line's length in a season: where counts are looked at
	sameShare   = 0.002 // of a deviation that shows: the notes of a season need no new weighing
)

// share estimates what all lines share: population, trials, places. Each round
// looks at the notes where the last one left the effects, fits the population and
// takes one Newton step; more steps on the same look run away, since the
// likelihood is not quadratic in the frost of a winter. Of many lines only some
// are asked. first says where a line is looked at first.
func (l *Learning) share(ctx context.Context, first func(line int) patch) error {
	l.seasons = l.notedSeasons()
	prior := l.params.populationPrior(len(l.seasons), len(l.places))
	l.pop = prior.start()
	var noted []int
	for i := range l.seen {
		if len(l.seen[i]) > 0 {
			noted = append(noted, i)
		}
	}
	noted = l.witnessesOf(noted)
	views, said, weights := make([]*view, len(noted)), make([]*testimony, len(noted)), make([][]float64, len(noted))
	rested := false
	for look := 0; look < mostLooks && !rested; look++ {
		l.shift()
		err := inParallel(ctx, len(noted), func(i int) error {
			room := l.rooms.take()
			defer l.rooms.leave(room)
			var near patch
			if look == 0 {
				l.layOut(noted[i], &lookRoom{}) // of its own, for all looks
				views[i], near = &view{}, first(noted[i])
			} else {
				near = patchOf(views[i].cells).around()
			}
			l.look(views[i], noted[i], season{}, l.pop, near, true, room)
			return nil
		})
		if err != nil {
			return err
		}
		before := l.pop.clone()
		testify := func(curved bool) error {
			return inParallel(ctx, len(noted), func(i int) error {
				said[i], weights[i] = views[i].testify(weights[i], l.grid, l.linePrior(noted[i], l.pop), len(l.pop.effects), curved)
				return nil
			})
		}
		for range widenings {
			if err := testify(false); err != nil {
				return err
			}
			l.pop.widen(prior, said)
		}
		if err := testify(true); err != nil {
			return err
		}
		l.pop.settle(prior, said)
		l.pop.stayNear(before, prior)
		switch {
		case look < reweighed:
			err := inParallel(ctx, len(noted), func(i int) error {
				room := l.rooms.take()
				defer l.rooms.leave(room)
				l.reweigh(noted[i], l.grid.gathered(room.density(), views[i].cells, weights[i]))
				return nil
			})
			if err != nil {
				return err
			}
		case look == mostLooks-1 || l.pop.movedFrom(before, prior) < restless:
			l.pop.mean, l.pop.effects = before.mean, before.effects // where the notes were looked at
			rested = true
		}
	}
	l.shift()
	l.views = make([]*view, len(l.lines))
	for i, line := range noted {
		l.views[line] = views[i]
	}
	return nil
}

// stayNear keeps mean and effects within a prior SD of where the notes were
// looked at: farther away their likelihood is not known to be quadratic.
func (pop *population) stayNear(looked *population, prior populationPrior) {
	for i, sd := range prior.meanSD {
		pop.mean[i] = min(max(pop.mean[i], looked.mean[i]-sd), looked.mean[i]+sd)
	}
	for i, sd := range prior.effectSD {
		pop.effects[i] = min(max(pop.effects[i], looked.effects[i]-sd), looked.effects[i]+sd)
	}
}

// movedFrom gives the longest move from an earlier belief: of mean and effects in
// SDs of the prior, of the variances between lines as shares.
func (pop *population) movedFrom(from *population, prior populationPrior) float64 {
	moved := 0.0
	for i, sd := range prior.meanSD {
		moved = max(moved, math.Abs(pop.mean[i]-from.mean[i])/sd)
	}
	for i, sd := range prior.effectSD {
		moved = max(moved, math.Abs(pop.effects[i]-from.effects[i])/sd)
	}
	for t := range traits {
		moved = max(moved, math.Abs(pop.spread.At(t, t)/from.spread.At(t, t)-1))
	}
	return moved
}

// reweigh settles how much of a deviation of plot and trial shows in each note
// by what the model lets expect of it, not by the note itself: a note that
// happens to be low would count for more; and at which lengths counts of lifted
// plants are looked at.
func (l *Learning) reweigh(line int, d density) {
	mean, meanSquare := 0.0, 0.0
	for node := range gridNodes {
		mean, meanSquare = mean+d[node*moments3+1], meanSquare+d[node*moments3+2]
	}
	l.lengths[line] = lengthNormal{mean: mean, variance: wideLengths * (meanSquare - mean*mean + square(l.params.LineWinterLengthSD))}
	for s, readings := range l.seen[line] {
		arrays, of := distinct(readings)
		mean := make([]float64, len(arrays))
		for a, answers := range arrays {
			if len(answers) < gridNodes*gridLengths { // of counts all of a deviation shows
				mean[a] = l.grid.answerUnder(answers, d)
			}
		}
		moved := slices.ContainsFunc(readings, func(r reading) bool { return r.group == liftGroup })
		for i, r := range readings {
			moved = moved || r.ofLog > 0 && math.Abs(r.shareAt(mean[of[i]], l.params)-r.share) > sameShare
		}
		if !moved {
			continue
		}
		for i := range readings {
			r := &readings[i]
			r.shows(r.shareAt(mean[of[i]], l.params))
		}
		l.weigh(l.laid[line][s], readings, l.lengths[line], l.params)
	}
}

// notedSeasons gives the seasons with notes of any line.
func (l *Learning) notedSeasons() []season {
	noted := map[season]bool{}
	for _, seen := range l.seen {
		for s := range seen {
			noted[s] = true
		}
	}
	return sortedSeasons(noted)
}

// newest is the last season with notes of any line.
func (l *Learning) newest() season { return l.seasons[len(l.seasons)-1] }

// The indices of a season's effects among all, of its trial in ln leaf mass and
// of all lines' hardiness, and of a place's shift; -1 where nothing tells of it.
func (l *Learning) trialEffect(s season) int { return slices.Index(l.seasons, s) }

func (l *Learning) frostEffect(s season) int {
	if at := slices.Index(l.seasons, s); at >= 0 {
		return len(l.seasons) + at
	}
	return -1
}

func (l *Learning) placeEffect(p *Place) int {
	if len(l.places) < 2 {
		return -1
	}
	return 2*len(l.seasons) + slices.Index(l.places, p)
}

// effect gives what is believed of one effect and its SD; of one that nothing
// tells of, 0 and the SD given.
func (l *Learning) effect(at int, unknownSD float64) (value, sd float64) {
	if at < 0 {
		return 0, unknownSD
	}
	return l.pop.effects[at], math.Sqrt(l.pop.doubt.At(traits+at, traits+at))
}

// trialOf gives the deviation of a season's trial, ln leaf mass, and its SD, as
// far as notes tell of them.
func (l *Learning) trialOf(s season) (deviation, sd float64) {
	return l.effect(l.trialEffect(s), l.params.TrialSDLn)
}

// shift lays out the deviations of each season with notes about what is
// believed of it at present.
func (l *Learning) shift() {
	for _, s := range l.seasons {
		k := l.kernels[s]
		k.set(l.grid, l.params.lineWinterSD(), l.pop.effects[l.frostEffect(s)]+l.shiftC(s.place))
		l.kernels[s] = k
	}
}

// kernelAt gives the deviations of a season; of one without notes, in which
// all lines may deviate alike, wider ones.
func (l *Learning) kernelAt(s season) kernel {
	if k, noted := l.kernels[s]; noted {
		return k
	}
	wide := l.params
	wide.LineWinterHardSDC = math.Hypot(wide.LineWinterHardSDC, wide.WinterHardSDC)
	return l.grid.kernelOf(wide, l.shiftC(s.place))
}

// shiftC gives by how much hardiness at a place is that in general.
func (l *Learning) shiftC(p *Place) float64 {
	shift, _ := l.effect(l.placeEffect(p), 0)
	return shift
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
