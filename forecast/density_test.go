package forecast

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Moments, the model's answers and a season's notes put to a density, against
// sums over its cells: a made line in its second winter.
func TestDensityAgainstItsCells(t *testing.T) {
	_, l := learnedOf(t, 3, 2, 23)
	s := l.seasons[1]
	d := l.expected(0, s, newLookRoom()).w
	cells, readings := d.byCell(l.grid), l.seen[0][s]
	middle, own := cellMoments(l.grid, cells)
	got := l.grid.momentsOf(d)
	for a := range traits {
		sd := math.Sqrt(own[a][a])
		if math.Abs(got.mean[a]-middle[a]) > 0.01*sd {
			t.Errorf("trait %d: mean %.4f, of the cells %.4f ± %.4f", a, got.mean[a], middle[a], sd)
		}
		for b := range traits {
			if x := math.Sqrt(own[a][a] * own[b][b]); math.Abs(got.cov.At(a, b)-own[a][b]) > 0.01*x {
				t.Errorf("traits %d and %d: covariance %.5f, of the cells %.5f", a, b, got.cov.At(a, b), own[a][b])
			}
		}
	}
	arrays, _ := distinct(readings)
	exact, _ := distinct(byCells(l.grid, readings, l.params))
	mean, cov, cross := l.grid.answersUnder(d, arrays)
	want := make([]float64, len(arrays))
	each := func(do func(answer, p float64, x [traits]float64, a int)) {
		for c, p := range cells {
			for a, array := range exact {
				at := c
				if len(array) == gridNodes {
					at /= gridLengths
				}
				do(array[at], p, l.grid.traitsOf(int32(c)), a)
			}
		}
	}
	each(func(answer, p float64, _ [traits]float64, a int) { want[a] += p * answer })
	spread, withTraits := make([]float64, len(arrays)), make([][traits]float64, len(arrays))
	each(func(answer, p float64, x [traits]float64, a int) {
		spread[a] += p * square(answer-want[a])
		for trait := range traits {
			withTraits[a][trait] += p * (answer - want[a]) * (x[trait] - middle[trait])
		}
	})
	for a := range arrays {
		sd := math.Sqrt(spread[a])
		if math.Abs(mean[a]-want[a]) > 0.02*sd || math.Abs(cov.At(a, a)/spread[a]-1) > 0.02 {
			t.Errorf("answer %d: %.4f ± %.4f, of the cells %.4f ± %.4f", a, mean[a], math.Sqrt(cov.At(a, a)), want[a], sd)
		}
		for trait := range traits {
			if x := sd * math.Sqrt(own[trait][trait]); math.Abs(cross.At(trait, a)-withTraits[a][trait]) > 0.02*x {
				t.Errorf("answer %d with trait %d: covariance %.5f, of the cells %.5f", a, trait, cross.At(trait, a), withTraits[a][trait])
			}
		}
	}
	effect, _ := l.trialOf(s)
	put := exactly(l.grid, readings, effect, l.params)
	for c, x := range cells {
		put[c] += math.Log(x + tiny)
	}
	relative(put)
	e := &evidence{}
	l.weigh(e, readings, l.lengths[0], l.params)
	l.putTo(d, s, e)
	after, cellCov := cellMoments(l.grid, put)
	got = l.grid.momentsOf(d)
	for a := range traits {
		sd := math.Sqrt(cellCov[a][a])
		if math.Abs(got.mean[a]-after[a]) > 0.03*sd || math.Abs(math.Sqrt(got.cov.At(a, a))/sd-1) > 0.03 {
			t.Errorf("trait %d with the notes: %.4f ± %.4f, of the cells %.4f ± %.4f", a, got.mean[a], math.Sqrt(got.cov.At(a, a)), after[a], sd)
		}
	}
}

// cellMoments gives mean and covariance of weights of all cells.
func cellMoments(g *Grid, w weights) (mean [traits]float64, cov [traits][traits]float64) {
	for c, p := range w {
		for a, x := range g.traitsOf(int32(c)) {
			mean[a] += p * x
		}
	}
	for c, p := range w {
		x := g.traitsOf(int32(c))
		for a := range traits {
			for b := range traits {
				cov[a][b] += p * (x[a] - mean[a]) * (x[b] - mean[b])
			}
		}
	}
	return mean, cov
}

// What is kept of a line before its newest season is what a look at its other
// notes gives.
func TestBeforeTheNewestSeason(t *testing.T) {
	_, l := learnedOf(t, 4, 3, 29)
	newest := l.seasons[2]
	for i := range l.lines {
		kept := l.expected(i, newest, newLookRoom())
		l.before[i] = settled{}
		looked := l.expected(i, newest, newLookRoom())
		a, b := l.grid.momentsOf(kept.w), l.grid.momentsOf(looked.w)
		for trait := range traits {
			if sd := math.Sqrt(b.cov.At(trait, trait)); math.Abs(a.mean[trait]-b.mean[trait]) > 1e-3*sd || math.Abs(a.cov.At(trait, trait)/square(sd)-1) > 1e-3 {
				t.Errorf("line %d, trait %d: %.5f kept, %.5f ± %.5f by a look", i, trait, a.mean[trait], b.mean[trait], sd)
			}
			for e := range l.pop.effects {
				if x, y := kept.follows.At(trait, traits+e), looked.follows.At(trait, traits+e); math.Abs(x-y) > 0.01+0.02*math.Abs(y) {
					t.Errorf("line %d, trait %d follows effect %d by %.4f, by a look %.4f", i, trait, e, x, y)
				}
			}
		}
	}
}

// Notes of several seasons put to a prior by node against the same put to it cell
// by cell: the same moments, and the nodes that matter are those of the cells.
func TestPosteriorAgainstItsCells(t *testing.T) {
	_, l := learnedOf(t, 4, 3, 31)
	for i := range l.lines {
		room := newLookRoom()
		log, d := l.layers(i, season{}, l.pop, wholeGrid(), room).sum, newDensity()
		matter := l.grid.posterior(d, log, l.priors[i], wholeGrid())
		cells := l.grid.carrying(log, l.priors[i], wholeGrid(), room)
		weight := make([]float64, len(cells))
		l.grid.readAt(weight, cells, log, 1)
		l.grid.addPrior(weight, cells, l.priors[i])
		relative(weight)
		got, want := l.grid.momentsOf(d), l.grid.momentsOf(l.grid.gathered(newDensity(), cells, weight))
		for a := range traits {
			sd, gotSD := math.Sqrt(want.cov.At(a, a)), math.Sqrt(got.cov.At(a, a))
			if math.Abs(got.mean[a]-want.mean[a]) > 0.01*sd || math.Abs(gotSD/sd-1) > 0.01 {
				t.Errorf("line %d, trait %d: %.4f ± %.4f, of the cells %.4f ± %.4f", i, a, got.mean[a], gotSD, want.mean[a], sd)
			}
		}
		if of := patchOf(cells); !matter.wider(1, 1, wholeGrid()).holds(of) || !of.wider(1, 1, wholeGrid()).holds(matter) {
			t.Errorf("line %d: nodes %v matter, of the cells %v", i, matter, of)
		}
	}
}

// Of two nodes with the same peak the one of the narrower lengths weighs less: as their
// standard deviations.
func TestPosteriorCountsAllLengths(t *testing.T) {
	g := NewGrid(Standard())
	middle := gridSizes/2*gridHards + gridHards/2
	prior := traitPrior{
		mean: []float64{g.SizeLn[gridSizes/2], g.HardC[gridHards/2], g.LengthLn[gridLengths/2]},
		cov:  mat.NewSymDense(traits, []float64{0.04, 0, 0, 0, 0.36, 0, 0, 0, 0.01}),
	}
	log, d := make([]parabola, gridNodes), newDensity()
	fill(d, 1)             // of an earlier look
	log[middle].bend = 300 // beside the prior's 100
	in := patch{[2]int{5, gridSizes - 5}, [2]int{5, gridHards - 5}}
	g.posterior(d, log, prior, in)
	if within := d.support(); !in.holds(within) {
		t.Errorf("weight on %v, looked at on %v", within, in)
	}
	narrow, wide := d[middle*moments3], d[(middle+1)*moments3]
	peaks := math.Exp(0.5 * square(g.HardC[1]-g.HardC[0]) / 0.36) // of the one to the other's
	if got, want := narrow/wide, peaks*math.Sqrt(100./400); math.Abs(got/want-1) > 1e-6 {
		t.Errorf("the narrow node weighs %.4f of its neighbour, want %.4f", got, want)
	}
}

// Weight at the edge of a patch counts where the grid goes on beyond it.
func TestWeightAtTheEdge(t *testing.T) {
	in := patch{[2]int{3, 6}, [2]int{0, 4}}
	for _, c := range []struct {
		size, hard int
		want       float64
	}{{3, 1, 1}, {5, 2, 1}, {4, 3, 1}, {4, 0, 0}, {4, 1, 0}} {
		d := newDensity()
		d.put(c.size*gridHards+c.hard, 1, 0, 0.01)
		if got := d.atEdge(in); got != c.want {
			t.Errorf("size %d, hardiness %d of %v: %g at the edge, want %g", c.size, c.hard, in, got, c.want)
		}
	}
}
