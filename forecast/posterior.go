package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
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
	turn    []turn      // none where curvature was not asked for
	numbers []float64   // of all these, one after the other, but for the places'
}

// turn holds minus a second derivative of the log likelihood by two effects.
type turn struct {
	a, b  int // indices into view.effects, a ≤ b
	value []float64
}

// margin is the log weight below the best cell at which cells are left out: no
// probability moves by more than 1e-4.
const margin = 14

// look lays out the likelihood of a line's notes of all seasons but one, in the
// room of an earlier view. near is where to look; where the notes lead to its edge
// the whole grid is looked at. curved says that second derivatives are wanted as
// well. The layers stay in the work space of a lookRoom.
func (l *Learning) look(v *view, line int, except season, pop *population, near patch, curved bool, room *lookRoom) layers {
	prior, used := l.lookPrior(line, pop), room.parabolas.used
	laid := l.layers(line, except, pop, near, room)
	cells := l.grid.carrying(laid.sum, prior, near, room)
	if patchOf(cells).fills(near) {
		room.parabolas.used = used
		laid = l.layers(line, except, pop, wholeGrid(), room)
		cells = l.grid.carrying(laid.sum, prior, laid.in, room)
	}
	l.view(v, cells, laid, curved, room)
	return laid
}

// view makes v the view of layers at some cells, with second derivatives where
// curved. room is work space.
func (l *Learning) view(v *view, cells []int32, laid layers, curved bool, room *lookRoom) {
	*v = view{cells: cells, effects: v.effects[:0], slope: v.slope[:0], turn: v.turn[:0], numbers: v.numbers[:0]}
	ofLayer := 2 // quantities: slopes, and how they turn
	if curved {
		ofLayer += 3
	}
	v.numbers = slices.Grow(v.numbers, (1+ofLayer*len(laid.each))*len(cells))
	v.log = v.read(laid.sum, 1, l.grid)
	in := patchOf(cells).wider(0, 2, laid.in)
	for _, y := range laid.each {
		y.slopes(v, l, in, curved, room)
	}
	for _, place := range l.places {
		if at := l.placeEffect(place); at >= 0 {
			v.addPlace(at, place, l, laid.each, curved)
		}
	}
}

// layers are a line's seasons, laid out within a patch in a room's work space.
type layers struct {
	each []*layer
	sum  []parabola // of their log likelihoods
	in   patch
}

// layers lays out a line's seasons but one.
func (l *Learning) layers(line int, except season, pop *population, in patch, room *lookRoom) layers {
	laid := layers{sum: room.take(), in: in}
	clear(laid.sum)
	for _, s := range sortedSeasons(l.seen[line]) {
		if s == except {
			continue
		}
		y := l.layer(s, l.evidence(line, s, room), pop, in, room)
		laid.each = append(laid.each, y)
		addAll(laid.sum, 1, y.value, in)
	}
	return laid
}

// carrying gives the cells of a patch that matter where a log likelihood is put to
// a prior. room is work space.
func (g *Grid) carrying(log []parabola, prior traitPrior, in patch, room *lookRoom) []int32 {
	put, along, cells := room.take(), g.alongLength(prior), room.cells[:0]
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
	room.parabolas.used--
	room.cells = cells
	return slices.Clone(cells)
}

// read gives so many times a quantity, parabolas by node, at the view's cells.
func (v *view) read(x []parabola, times float64, g *Grid) []float64 {
	had, n := len(v.numbers), len(v.cells)
	v.numbers = v.numbers[:had+n]
	values := v.numbers[had:][:n:n]
	g.readAt(values, v.cells, x, times)
	return values
}

// readAt fills values with so many times a quantity, parabolas by node, at some
// cells.
func (g *Grid) readAt(values []float64, cells []int32, x []parabola, times float64) {
	for i, c := range cells {
		values[i] = times * x[int(c)/gridLengths].at(g.aside[int(c)%gridLengths])
	}
}

// testify gives the moments of a line's traits and slopes under a prior, of so
// many effects, and the weights of the view's cells, which sum to 1, in the room of earlier
// ones. The turn is given where curved.
func (v *view) testify(room []float64, g *Grid, prior traitPrior, effects int, curved bool) (*testimony, []float64) {
	w := append(room[:0], v.log...)
	g.addPrior(w, v.cells, prior)
	relative(w)
	n := traits + len(v.effects)
	mean, x, about := make([]float64, n), make([]float64, n), make([]float64, n)
	at := func(i int) {
		c := g.traitsOf(v.cells[i])
		copy(x, c[:])
		for e, slope := range v.slope {
			x[traits+e] = slope[i]
		}
		floats.Sub(x, about)
	}
	densest := floats.MaxIdx(w)
	at(densest)
	copy(about, x)
	rows, total := traits, 0.0 // rows of the covariance
	if curved {
		rows = n
	}
	cov := mat.NewSymDense(n, nil)
	raw, stride := cov.RawSymmetric().Data, cov.RawSymmetric().Stride
	for i, p := range w {
		if p < 1e-8 { // of a thousand or two: no variance moves by a thousandth
			continue
		}
		at(i)
		total += p
		for j, y := range x {
			py := p * y
			mean[j] += py
			if j < rows {
				row := raw[j*stride : j*stride+n]
				for k := j; k < n; k++ {
					row[k] += py * x[k]
				}
			}
		}
	}
	floats.Scale(1/total, mean)
	for j := range rows {
		for k := j; k < n; k++ {
			raw[j*stride+k] = raw[j*stride+k]/total - mean[j]*mean[k]
		}
	}
	floats.Add(mean, about)
	t := &testimony{mean: mean[:traits:traits], cov: mat.NewSymDense(traits, nil), slope: make([]float64, effects), known: prior.known}
	for i := range traits {
		for j := range i + 1 {
			t.cov.SetSym(i, j, cov.At(i, j))
		}
	}
	if effects == 0 {
		return t, w
	}
	t.cross = mat.NewDense(traits, effects, nil)
	for a, ea := range v.effects {
		t.slope[ea] = mean[traits+a]
		for i := range traits {
			t.cross.Set(i, ea, cov.At(i, traits+a))
		}
	}
	if !curved {
		return t, w
	}
	t.turn = mat.NewSymDense(effects, nil)
	for a, ea := range v.effects {
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
