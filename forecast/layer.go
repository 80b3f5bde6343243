package forecast

import (
	"math"
	"slices"
)

// layer is the likelihood of one season's notes on its way to the traits in
// general.
type layer struct {
	season     season
	evidence   *evidence
	kernel     kernel
	base       weights // of the other notes, lengths carried to general; nil without
	mass, lean []float64
	value      weights // line × winter deviations integrated out
	work       weights
}

// layer lays out a season's likelihood within a box, in a room's work space.
func (l *Learning) layer(s season, e *evidence, pop *population, in box, room *lookRoom) *layer {
	y := &layer{season: s, evidence: e, kernel: l.kernels[s], value: room.take(), work: room.work}
	y.mass, y.lean = e.massAt(pop.effects[l.trialEffect(s)])
	if e.rest != nil {
		y.base = room.take()
		var rest [gridLengths]float64
		y.kernel.needed(in).nodes(func(node int) {
			if y.mass[node] == 0 {
				return
			}
			for k, x := range e.rest[node*gridLengths:][:gridLengths] {
				rest[k] = float64(x)
			}
			y.kernel.length.toGeneral.innermostAt(y.base[node*gridLengths:][:gridLengths], rest[:], in.from[lengthTrait], in.to[lengthTrait])
		})
	}
	y.carry(y.value, in, func(node int) float64 { return y.mass[node] })
	return y
}

// carry fills dst, within a box, with the mean over the deviations of the
// other notes' likelihood times a quantity by node.
func (y *layer) carry(dst weights, in box, times func(node int) float64) {
	from, to := in.from[lengthTrait], in.to[lengthTrait]
	y.kernel.needed(in).nodes(func(node int) {
		x := times(node)
		work := y.work[node*gridLengths:][from:to]
		switch {
		case x == 0:
			clear(work)
		case y.base == nil:
			fill(work, x)
		default:
			for k, b := range y.base[node*gridLengths:][from:to] {
				work[k] = x * b
			}
		}
	})
	y.kernel.across(dst, y.work, in)
}

// slopes adds to a view how the layer's log likelihood moves with its trial and
// with what all lines deviate in hardiness: the line's hardiness in the winter
// is that in general plus this, so that the latter slopes are those by
// hardiness, taken from the neighbouring steps. room is work space.
func (y *layer) slopes(v *view, l *Learning, in box, room *lookRoom) {
	first, second, third := room.slopes[0], room.slopes[1], room.slopes[2]
	frost := len(v.effects)
	in.rows(func(from, to int) {
		for i := from; i < to; i++ {
			third[i] = math.NaN()
			if y.value[i] > faintest {
				third[i] = math.Log(y.value[i])
			}
		}
	})
	l.grid.byHardiness(first, third, in)
	l.grid.byHardiness(second, first, in)
	v.effects, v.slope = append(v.effects, l.frostEffect(y.season)), append(v.slope, v.short(first))
	v.turn = append(v.turn, turn{frost, frost, negative(v.short(second))})
	if y.evidence.first == nil {
		return
	}
	slope, bend := first, second
	y.carry(slope, in, func(n int) float64 { return y.mass[n] * y.lean[n] })
	y.carry(bend, in, func(n int) float64 { return y.mass[n] * y.lean[n] * y.lean[n] })
	in.rows(func(from, to int) {
		for i := from; i < to; i++ {
			x := y.value[i]
			if !(x > faintest) {
				slope[i], bend[i] = math.NaN(), 0
				continue
			}
			slope[i] /= x
			bend[i] = y.evidence.precision - (bend[i]/x - slope[i]*slope[i])
		}
	})
	l.grid.byHardiness(third, slope, in)
	known := v.short(slope)
	for i, x := range known {
		if x != x {
			known[i] = 0
		}
	}
	v.effects, v.slope = append(v.effects, l.trialEffect(y.season)), append(v.slope, known)
	v.turn = append(v.turn, turn{frost + 1, frost + 1, v.short(bend)}, turn{frost, frost + 1, negative(v.short(third))})
}

// addPlace adds the slopes by the shift of a place, which moves hardiness in
// all its seasons alike: the sums of those by the seasons' own.
func (v *view) addPlace(at int, place *Place, l *Learning, layers []*layer) {
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
	slope, bend := make([]float64, len(v.cells)), make([]float64, len(v.cells))
	for a, e := range v.effects {
		if frosts[e] {
			addTo(slope, v.slope[a])
		}
	}
	for _, t := range v.turn {
		if !frosts[v.effects[t.a]] {
			continue
		}
		v.turn = append(v.turn, turn{t.b, n, slices.Clone(t.value)})
		if t.a == t.b {
			addTo(bend, t.value)
		}
	}
	v.effects, v.slope, v.turn = append(v.effects, at), append(v.slope, slope), append(v.turn, turn{n, n, bend})
}

// faintest is the likelihood below which slopes are not worked out.
const faintest = 1e-250

// byHardiness fills d, within a box, with the slope of a quantity by hardiness;
// 0 where it or its neighbours are not known (NaN).
func (g *Grid) byHardiness(d, x weights, in box) {
	step := g.HardC[1] - g.HardC[0]
	first, last := in.from[hardTrait], in.to[hardTrait]-1
	in.rows(func(from, to int) {
		clear(d[from:to])
		h := from / gridLengths % gridHards
		below, above := min(1, h-first), min(1, last-h)
		if below+above == 0 {
			return
		}
		for i := from; i < to; i++ {
			slope := (x[i+above*gridLengths] - x[i-below*gridLengths]) / (step * float64(above+below))
			if slope == slope {
				d[i] = slope
			}
		}
	})
}

func negative(x []float64) []float64 {
	for i := range x {
		x[i] = -x[i]
	}
	return x
}

func addTo(sum, x []float64) {
	for i, y := range x {
		sum[i] += y
	}
}
