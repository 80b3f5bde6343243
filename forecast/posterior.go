package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// view is the likelihood of one line's traits in general, at the present belief
// about trials and places, on the cells that matter; with its derivatives by
// the effects that bear on the line's notes.
type view struct {
	cells   []int32
	log     []float64
	effects []int       // indices into the population's effects
	slope   [][]float64 // by effect, then cell: derivative of log
	turn    []turn
	at      []float64   // the effects at which all this holds
	room    [][]float64 // of moved: slopes elsewhere
}

// turn holds minus a second derivative of the log likelihood by two effects.
type turn struct {
	a, b  int // indices into view.effects, a ≤ b
	value []float64
}

// margin is the log weight below the best cell at which cells are left out: no
// probability moves by more than 1e-4.
const margin = 14

// look lays out the likelihood of a line's notes of all seasons but one. near is
// where to look; where the notes lead to its edge the whole grid is looked at.
func (l *Learning) look(line int, except season, pop *population, near patch) *view {
	room := l.rooms.take()
	defer l.rooms.leave(room)
	prior := l.lookPrior(line, pop)
	layers, sum := l.layers(line, except, pop, near, room)
	v := &view{at: append([]float64(nil), pop.effects...), cells: l.grid.carrying(sum, prior, near)}
	if patchOf(v.cells).fills(near) {
		near, room.used = wholeGrid(), 0
		layers, sum = l.layers(line, except, pop, near, room)
		v.cells = l.grid.carrying(sum, prior, near)
	}
	v.log = v.read(sum, 1, l.grid)
	in, used := patchOf(v.cells).wider(0, 2, near), room.used
	for _, y := range layers {
		y.slopes(v, l, in, room)
		room.used = used
	}
	for _, place := range l.places {
		if at := l.placeEffect(place); at >= 0 {
			v.addPlace(at, place, l, layers)
		}
	}
	return v
}

// layers lays out, within a patch, the log likelihoods of a line's seasons but
// one, and their sum, in a room's work space.
func (l *Learning) layers(line int, except season, pop *population, in patch, room *lookRoom) (layers []*layer, sum []parabola) {
	sum = room.take()
	clear(sum)
	for _, s := range sortedSeasons(l.seen[line]) {
		if s == except {
			continue
		}
		y := l.layer(s, l.evidence(line, s), pop, in, room)
		layers = append(layers, y)
		addAll(sum, 1, y.value, in)
	}
	return layers, sum
}

// put gives the cells of a patch that matter where a log likelihood is put to a
// prior, and their weights, which sum to 1.
func (g *Grid) put(log []parabola, prior traitPrior, in patch) (cells []int32, weight []float64) {
	cells = g.carrying(log, prior, in)
	weight = g.readAt(cells, log, 1)
	g.addPrior(weight, cells, prior)
	relative(weight)
	return cells, weight
}

// carrying gives the cells of a patch that matter where a log likelihood is put to
// a prior.
func (g *Grid) carrying(log []parabola, prior traitPrior, in patch) (cells []int32) {
	put, along := make([]parabola, gridNodes), g.alongLength(prior)
	most := math.Inf(-1)
	in.nodes(func(node int) {
		put[node] = log[node].plus(1, along(node))
		if put[node].peak() <= most {
			return
		}
		for _, u := range g.aside {
			most = max(most, put[node].at(u))
		}
	})
	in.nodes(func(node int) {
		p := put[node]
		if p.peak() <= most-margin {
			return
		}
		for k, u := range g.aside {
			if p.at(u) > most-margin {
				cells = append(cells, int32(node*gridLengths+k))
			}
		}
	})
	return cells
}

// read gives so many times a quantity, parabolas by node, at the view's cells.
func (v *view) read(x []parabola, times float64, g *Grid) []float64 {
	return g.readAt(v.cells, x, times)
}

// readAt gives so many times a quantity, parabolas by node, at some cells.
func (g *Grid) readAt(cells []int32, x []parabola, times float64) []float64 {
	values := make([]float64, len(cells))
	for i, c := range cells {
		values[i] = times * x[int(c)/gridLengths].at(g.aside[int(c)%gridLengths])
	}
	return values
}

// moved gives the log likelihood and its slopes where the effects are others
// than those of the view: to the second order, exact for what is quadratic in
// the effects, as the notes of mass are at given traits. The slopes hold until
// the next call.
func (v *view) moved(effects []float64) (log []float64, slope [][]float64) {
	log, slope = slices.Clone(v.log), v.slope
	if !slices.ContainsFunc(v.effects, func(e int) bool { return effects[e] != v.at[e] }) {
		return log, slope
	}
	if v.room == nil {
		v.room = make([][]float64, len(v.effects))
	}
	slope = v.room
	for a, own := range v.slope {
		slope[a] = append(slope[a][:0], own...)
	}
	for a, e := range v.effects {
		by := effects[e] - v.at[e]
		for i, s := range v.slope[a] {
			log[i] += by * s
		}
	}
	for _, t := range v.turn {
		byA, byB := effects[v.effects[t.a]]-v.at[v.effects[t.a]], effects[v.effects[t.b]]-v.at[v.effects[t.b]]
		half, least := byA*byB, math.Inf(-1)
		if t.a == t.b {
			half, least = half/2, 0 // no cell may rise without end
		}
		for i, x := range t.value {
			x = max(x, least)
			log[i] -= half * x
			slope[t.a][i] -= byB * x
			if t.a != t.b {
				slope[t.b][i] -= byA * x
			}
		}
	}
	return log, slope
}

// testify gives the moments of a line's traits and slopes under a prior and
// the weights of the view's cells, which sum to 1.
func (v *view) testify(g *Grid, prior traitPrior, effects []float64) (*testimony, []float64) {
	w, slopes := v.moved(effects)
	g.addPrior(w, v.cells, prior)
	relative(w)
	n := traits + len(v.effects)
	mean, x := make([]float64, n), make([]float64, n)
	at := func(i int) {
		c := g.traitsOf(v.cells[i])
		copy(x, c[:])
		for e, slope := range slopes {
			x[traits+e] = slope[i]
		}
	}
	for i, p := range w {
		if p == 0 {
			continue
		}
		at(i)
		for j, y := range x {
			mean[j] += p * y
		}
	}
	cov := mat.NewSymDense(n, nil)
	raw, stride := cov.RawSymmetric().Data, cov.RawSymmetric().Stride
	for i, p := range w {
		if p < 1e-8 { // of a thousand or two: no variance moves by a thousandth
			continue
		}
		at(i)
		for j := range x {
			x[j] -= mean[j]
		}
		for j, y := range x {
			row := raw[j*stride : j*stride+n]
			py := p * y
			for k := j; k < n; k++ {
				row[k] += py * x[k]
			}
		}
	}
	t := &testimony{mean: mean[:traits:traits], cov: mat.NewSymDense(traits, nil), slope: make([]float64, len(effects)), known: prior.known}
	for i := range traits {
		for j := range i + 1 {
			t.cov.SetSym(i, j, cov.At(i, j))
		}
	}
	if len(effects) == 0 {
		return t, w
	}
	t.cross, t.turn = mat.NewDense(traits, len(effects), nil), mat.NewSymDense(len(effects), nil)
	for a, ea := range v.effects {
		t.slope[ea] = mean[traits+a]
		for i := range traits {
			t.cross.Set(i, ea, cov.At(i, traits+a))
		}
		for b, eb := range v.effects[:a+1] {
			t.turn.SetSym(ea, eb, -cov.At(traits+a, traits+b))
		}
	}
	for _, bend := range v.turn {
		a, b, sum := v.effects[bend.a], v.effects[bend.b], 0.0
		for i, p := range w {
			sum += p * bend.value[i]
		}
		t.turn.SetSym(a, b, t.turn.At(a, b)+sum)
	}
	return t, w
}

// relative turns log weights into weights that sum to 1; the faintest are 0.
func relative(w []float64) {
	most, total := math.Inf(-1), 0.0
	for _, x := range w {
		most = max(most, x)
	}
	for i, x := range w {
		w[i] = 0
		if x-most > -2*margin {
			w[i] = math.Exp(x - most)
			total += w[i]
		}
	}
	for i := range w {
		w[i] /= total
	}
}
