package forecast

import (
	"math"
	"slices"
)

// layer is the log likelihood of one season's notes by a line's traits in
// general, the line × winter deviations integrated out.
type layer struct {
	season   season
	evidence *evidence
	kernel   kernel
	effect   float64    // of the season's trial
	value    []parabola // by node
	out      float64    // level of nodes that are out of the question
	moves    moves
}

// moves say how a layer moves with its trial and with what all lines deviate in
// hardiness, within a patch: slopes, and minus the second derivatives.
type moves struct {
	in                       patch
	frost, trial             []parabola // the latter nil without notes of mass
	frostBend, bend, between []parabola // nil where curvature was not asked for
}

// layer lays out a season's log likelihood, within a patch, in a room's work
// space.
func (l *Learning) layer(s season, e *evidence, pop *population, in patch, room *lookRoom) *layer {
	y := &layer{season: s, evidence: e, kernel: l.kernels[s], effect: pop.effects[l.trialEffect(s)], value: room.take()}
	y.out = y.carry(y.value, y.effect, l.grid.reach(), in, room)
	return y
}

// carry fills dst, within a patch, with the logarithm of a season's mean
// likelihood over the deviations where its trial deviates by effect. Along
// length each node of the winter's traits gives a normal curve; their mean over
// nodes is taken as one again, of the same integral, mean and variance. out is the
// level of nodes that are out of the question.
func (y *layer) carry(dst []parabola, effect, reach float64, in patch, room *lookRoom) (out float64) {
	sizes, hards := y.kernel.size.toGeneral, y.kernel.hard.toGeneral
	from := patch{sizes.reach(in.sizes[0], in.sizes[1]), hards.reach(in.hards[0], in.hards[1])}
	most := math.Inf(-1)
	from.nodes(func(node int) {
		b, at := y.evidence.at(node, effect, reach), room.bells[node*moments3:][:moments3]
		at[0], at[1], at[2] = b.ln, b.mean, b.variance
		most = max(most, b.ln)
	})
	from.nodes(func(node int) {
		at := room.bells[node*moments3:][:moments3]
		if at[0]-most < -faint {
			clear(at)
			return
		}
		z, mean := math.Exp(at[0]-most), at[1]
		at[0], at[1], at[2] = z, z*mean, z*(mean*mean+at[2])
	})
	across(sizes, hards, room.general, room.bells, in)
	length := square(y.kernel.lengthSD)
	out = most + lnTiny
	in.nodes(func(node int) {
		at := room.general[node*moments3:][:moments3]
		if dst[node] = (parabola{level: out}); at[0] > faintest {
			mean := at[1] / at[0]
			dst[node] = lengthNormal{most, mean, at[2]/at[0] - mean*mean}.widened(at[0], reach, length)
		}
	})
	return out
}

// faint is the log likelihood below the best that counts as none: far below
// anything a sum could show. Below faintest a node knows nothing but that it is
// out of the question.
const (
	faint    = 300
	faintest = 1e-250
)

var lnTiny = math.Log(tiny)

// trialStep is the step of the trial's deviation over which slopes by it are
// taken, ln leaf mass.
const trialStep = 0.015

// slopes adds to a view how the layer's log likelihood moves with the effects, and
// how that turns where curved. in holds the view's cells and two steps of hardiness
// more on either side.
func (y *layer) slopes(v *view, l *Learning, in patch, curved bool, room *lookRoom) {
	if !y.moves.in.holds(in) || curved && y.moves.frostBend == nil {
		y.move(l.grid, in, curved, room)
	}
	m, frost := y.moves, len(v.effects)
	v.effects, v.slope = append(v.effects, l.frostEffect(y.season)), append(v.slope, v.read(m.frost, 1, l.grid))
	if curved {
		v.turn = append(v.turn, turn{frost, frost, v.read(m.frostBend, -1, l.grid)})
	}
	if m.trial == nil {
		return
	}
	v.effects, v.slope = append(v.effects, l.trialEffect(y.season)), append(v.slope, v.read(m.trial, 1, l.grid))
	if curved {
		v.turn = append(v.turn, turn{frost + 1, frost + 1, v.read(m.bend, 1, l.grid)}, turn{frost, frost + 1, v.read(m.between, -1, l.grid)})
	}
}

// move works out the layer's moves within a patch, in a room's work space. The
// line's hardiness in the winter is that in general plus what all lines deviate,
// so that slopes by the latter are those by hardiness, taken from the neighbouring
// steps.
func (y *layer) move(g *Grid, in patch, curved bool, room *lookRoom) {
	y.moves = moves{in: in, frost: room.take()}
	m := &y.moves
	known := func(node int) bool { return y.value[node].level != y.out }
	all := func(int) bool { return true }
	g.byHardiness(m.frost, y.value, known, in)
	if curved {
		m.frostBend = room.take()
		g.byHardiness(m.frostBend, m.frost, all, in)
	}
	if len(y.evidence.first) == 0 {
		return
	}
	m.trial = room.take()
	low, lowOut, high, apart := y.value, y.out, room.take(), trialStep
	highOut := y.carry(high, y.effect+trialStep, g.reach(), in, room)
	if curved {
		low, apart = room.take(), 2*trialStep
		lowOut = y.carry(low, y.effect-trialStep, g.reach(), in, room)
	}
	between := func(node int) bool {
		return known(node) && low[node].level != lowOut && high[node].level != highOut
	}
	in.nodes(func(node int) {
		if m.trial[node] = (parabola{}); between(node) {
			m.trial[node] = high[node].plus(-1, low[node]).times(1 / apart)
		}
	})
	if !curved {
		return
	}
	m.bend, m.between = high, low // in their room
	in.nodes(func(node int) {
		bend := parabola{}
		if between(node) {
			bend = high[node].plus(1, low[node]).plus(-2, y.value[node]).times(-1 / square(trialStep))
		}
		m.bend[node] = bend
	})
	g.byHardiness(m.between, m.trial, all, in)
}

// byHardiness fills d, within a patch, with the slope of a quantity by
// hardiness; 0 where a neighbour is not known.
func (g *Grid) byHardiness(d, x []parabola, known func(node int) bool, in patch) {
	step := g.HardC[1] - g.HardC[0]
	in.nodes(func(node int) {
		h := node % gridHards
		below, above := min(1, h-in.hards[0]), min(1, in.hards[1]-1-h)
		d[node] = parabola{}
		if below+above > 0 && known(node+above) && known(node-below) {
			d[node] = x[node+above].plus(-1, x[node-below]).times(1 / (step * float64(above+below)))
		}
	})
}

// addPlace adds the slopes by the shift of a place, which moves hardiness in
// all its seasons alike: the sums of those by the seasons' own.
func (v *view) addPlace(at int, place *Place, l *Learning, layers []*layer, curved bool) {
	frosts := map[int]bool{}
	for _, y := range layers {
		if y.season.place == place {
			frosts[l.frostEffect(y.season)] = true
		}
	}
	if len(frosts) == 0 {
		return
	}
	n := len(v.effects)
	slope := make([]float64, len(v.cells))
	for a, e := range v.effects {
		if frosts[e] {
			addTo(slope, v.slope[a])
		}
	}
	v.effects, v.slope = append(v.effects, at), append(v.slope, slope)
	if !curved {
		return
	}
	bend := make([]float64, len(v.cells))
	for _, t := range v.turn {
		if !frosts[v.effects[t.a]] {
			continue
		}
		v.turn = append(v.turn, turn{t.b, n, slices.Clone(t.value)})
		if t.a == t.b {
			addTo(bend, t.value)
		}
	}
	v.turn = append(v.turn, turn{n, n, bend})
}

func addTo(sum, x []float64) {
	for i, y := range x {
		sum[i] += y
	}
}
