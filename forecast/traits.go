package forecast

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"

	"wintertop/weather"
)

// Learned is what is known of one line's traits after its notes. The spreads
// are standard deviations; those of top size and top length are taken on the
// logarithm and given in the trait's own unit at its value.
type Learned struct {
	Line          string
	Kind          string
	Notes         int // values used
	Winters       int // winters with notes of the line
	TopSize       float64
	TopSizeSD     float64
	TopLengthCM   float64
	TopLengthSDCM float64
	HardinessC    float64 // for the canopy at this station: the place's own coldness is in it
	HardinessSDC  float64
	Basis         string // assumed or notes
	// Hardier is the chance that the line is hardier than a check, the mean over
	// the checks other than itself; NaN where there is none.
	Hardier float64
	// From says where a line without notes starts: population, lines.csv, or the
	// parents that its pedigree names.
	From string
}

// The two words of basis.
const (
	Assumed   = "assumed"
	FromNotes = "notes"
)

// tiny keeps the logarithm of a weight finite where notes contradict one
// another, so that the least bad traits still carry the posterior.
const tiny = 1e-300

// conclude puts each line's notes to its prior and sums up its traits; lines
// whose pedigree names others come after those. comparing says that their
// seasons are compared, too.
func (l *Learning) conclude(ctx context.Context, comparing bool) error {
	for _, generation := range l.generations() {
		for _, i := range generation {
			l.priors[i] = l.linePrior(i, l.pop)
			if parents := l.parents(i); len(parents) > 0 && !l.priors[i].known {
				l.priors[i] = l.descent(parents)
			}
		}
		err := inParallel(ctx, len(generation), func(g int) error {
			i := generation[g]
			room := l.rooms.take()
			defer l.rooms.leave(room)
			w, laid := l.posterior(i, room)
			l.byNode[i], l.moments[i] = w.byNode(), l.grid.momentsOf(w)
			l.Lines[i] = l.summary(i)
			if comparing {
				l.compare(i, laid, room)
			}
			l.laid[i], l.views[i] = nil, nil
			return nil
		})
		if err != nil {
			return err
		}
	}
	for i := range l.Lines {
		l.Lines[i].Hardier = l.hardier(i)
	}
	return nil
}

// posterior gives the density of a line's traits in general from its prior and
// all its notes. The doubt of what the lines share is in it. The layers lie in the
// room; of a line that was asked what all share there are none.
func (l *Learning) posterior(line int, room *lookRoom) (density, layers) {
	v, laid := l.views[line], layers{}
	if v == nil {
		v, laid = l.lookUnasked(line, room)
	}
	l.settled[line] = l.settle(line, v)
	l.ownHard[line] = l.settled[line].hardinesses()
	l.surer[line] = sdsOf(carried(l.settled[line].follows, l.pop.doubt))
	return l.general(line), laid
}

// general gives the density of a line's traits in general after all its notes.
func (l *Learning) general(line int) density {
	w := l.grid.gathered(newDensity(), l.settled[line].cells, l.settled[line].weight)
	l.blur(w, l.surer[line])
	return w
}

// lookUnasked looks at a line that was not asked what all share, in a room that
// holds nothing else.
func (l *Learning) lookUnasked(line int, room *lookRoom) (*view, layers) {
	near := wholeGrid()
	if len(l.seen[line]) > 0 {
		l.layOut(line, room)
		laid := l.layers(line, season{}, l.pop, near, room)
		first := room.density()
		near = l.grid.posterior(first, laid.sum, l.priors[line], near).around()
		l.reweigh(line, first)
		room.parabolas.used = 0
	}
	return &room.view, l.look(&room.view, line, season{}, l.pop, near, false, room)
}

// settled is the density of a line's traits in general at the estimated
// effects, and how its mean follows what the lines share.
type settled struct {
	cells   []int32
	weight  []float64
	follows *mat.Dense
}

func (l *Learning) settle(line int, v *view) settled {
	said, weight := v.testify(nil, l.grid, l.priors[line], len(l.pop.effects), false)
	return settled{v.cells, weight, said.follows(inverse(l.pop.spread))}
}

// hardinesses gives the chance of each step of hardiness.
func (s settled) hardinesses() []float64 {
	chance := make([]float64, gridHards)
	for i, c := range s.cells {
		chance[int(c)/gridLengths%gridHards] += s.weight[i]
	}
	return chance
}

func sdsOf(c *mat.SymDense) (sd [traits]float64) {
	for t := range sd {
		sd[t] = math.Sqrt(max(0, c.At(t, t)))
	}
	return sd
}

// blur widens a density by independent normal doubts.
func (l *Learning) blur(w density, sd [traits]float64) {
	l.widen(w, sd, 0)
}

// widen widens a density by independent normal deviations of the traits with SDs sd,
// those of hardiness about shiftC.
func (l *Learning) widen(w density, sd [traits]float64, shiftC float64) {
	room := l.rooms.take()
	defer l.rooms.leave(room)
	room.kernel.set(l.grid, sd, shiftC)
	w.spread(room.kernel, room.general)
}

// spread widens a density by deviations of the traits.
func (l *Learning) spread(w density, k kernel) {
	room := l.rooms.take()
	defer l.rooms.leave(room)
	w.spread(k, room.general)
}

// beforehand is the density of a line's traits in one season before that
// season's notes, at the estimated effects, how it follows what the lines share,
// and the notes.
type beforehand struct {
	w       density
	follows *mat.Dense
	notes   *evidence // of the season; nil without
}

// expected gives what all notes but those of a season let expect of a line in it;
// density and notes lie in the room.
func (l *Learning) expected(line int, s season, room *lookRoom) beforehand {
	before := l.settled[line]
	var notes *evidence
	if l.seen[line][s] != nil {
		notes = l.evidence(line, s, room)
		if known := l.before[line]; known.cells != nil && s == l.newest() {
			before = known
		} else {
			l.look(&room.view, line, s, l.pop, patchOf(before.cells).around(), false, room)
			before = l.settle(line, &room.view)
		}
	}
	follows := mat.DenseCopyOf(before.follows)
	for _, at := range []int{l.frostEffect(s), l.placeEffect(s.place)} {
		if at >= 0 {
			follows.Set(hardTrait, traits+at, follows.At(hardTrait, traits+at)+1)
		}
	}
	w := l.grid.gathered(room.density(), before.cells, before.weight)
	l.spread(w, l.kernelAt(s))
	return beforehand{w, follows, notes}
}

// withNotes gives the density of a line's traits in one season: its own notes put
// to what is expected of it. The notes are weighed at the estimated effects, and
// how the result follows the effects gives the doubt to add. It lies in the room.
func (l *Learning) withNotes(before beforehand, s season, room *lookRoom) density {
	w := room.copied(before.w)
	if before.notes == nil {
		l.blur(w, sdsOf(carried(before.follows, l.pop.doubt)))
		return w
	}
	wide := l.grid.momentsOf(w).cov
	l.putTo(w, s, before.notes)
	l.doubt(w, wide, before, s)
	return w
}

// summary puts the moments of a line's density in its own units.
func (l *Learning) summary(i int) Learned {
	line := l.lines[i]
	notes, winters := 0, map[weather.WinterYear]bool{}
	for s, readings := range l.seen[i] {
		notes += len(readings)
		winters[s.winter] = true
	}
	mean := l.moments[i].mean
	sd := sdsOf(l.moments[i].cov)
	basis := Assumed
	if notes > 0 {
		basis = FromNotes
	}
	return Learned{
		Line: line.Name, Kind: line.Kind, Notes: notes, Winters: len(winters), Basis: basis, From: l.origin(i),
		TopSize: math.Exp(mean[sizeTrait]), TopSizeSD: math.Exp(mean[sizeTrait]) * sd[sizeTrait],
		TopLengthCM: math.Exp(mean[lengthTrait]), TopLengthSDCM: math.Exp(mean[lengthTrait]) * sd[lengthTrait],
		HardinessC: mean[hardTrait], HardinessSDC: sd[hardTrait],
	}
}

// hardier gives the chance that a line is hardier than a check: the mean over
// the checks but itself. What is not known of all lines alike does not tell
// between two, so the densities are those without it; equal steps of the grid
// count half.
func (l *Learning) hardier(line int) float64 {
	var chance mean
	for c := range l.lines {
		if c == line || l.lines[c].Kind != "check" {
			continue
		}
		above, p := 0.0, 0.0 // chance that the check is less hardy than the step
		for h := gridHards - 1; h >= 0; h-- {
			p += l.ownHard[line][h] * (above + l.ownHard[c][h]/2)
			above += l.ownHard[c][h]
		}
		chance.add(p)
	}
	return chance.value()
}
