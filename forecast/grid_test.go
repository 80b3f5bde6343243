package forecast

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"pgregory.net/rapid"
)

// densityOf gives the prior of one line before any note, over the grid.
func densityOf(g *Grid, p Params, own LinePrior) weights {
	pop := p.populationPrior(0, 1).start()
	prior := pop.priorOf(own, p, p.PlaceSDC)
	if !prior.known {
		prior.cov.AddSym(prior.cov, pop.doubt)
	}
	return g.normal(prior).byCell(g)
}

func TestPriorHasThePopulationsMoments(t *testing.T) {
	p := Standard()
	g := NewGrid(p)
	size, hard, length := densityOf(g, p, LinePrior{math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()}).marginals()
	for _, c := range []struct {
		name             string
		at, weight       []float64
		mean, sd, within float64 // the grid cuts the normal at 2.6 and 3.6 SD
	}{
		{"ln top size", g.SizeLn, size, 0, math.Hypot(0.35, 0.2), 0.05},
		{"hardiness", g.HardC, hard, -9.5, math.Sqrt(1.2*1.2 + 0.6*0.6 + 0.35*0.35), 0.005},
		{"ln top length", g.LengthLn, length, math.Log(40), math.Hypot(0.17, 0.1), 0.05},
	} {
		mean, sd := moments(c.at, c.weight)
		if math.Abs(mean-c.mean) > 1e-9 || math.Abs(sd/c.sd-1) > c.within {
			t.Errorf("%s: mean %g, SD %g; want %g, %g", c.name, mean, sd, c.mean, c.sd)
		}
	}
}

func TestPriorOfALineThatIsKnown(t *testing.T) {
	p := Standard()
	g := NewGrid(p)
	_, hard, _ := densityOf(g, p, LinePrior{TopSize: 1.2, TopSizeSD: 0.1, TopLengthCM: 44, TopLengthSDCM: 3, HardinessC: -11, HardinessSDC: 0.5}).marginals()
	mean, sd := moments(g.HardC, hard)
	if math.Abs(mean+11) > 0.01 || math.Abs(sd-math.Hypot(0.5, 0.35)) > 0.02 {
		t.Errorf("hardiness %g ± %g, want -11 ± %g: the place's coldness stays in doubt", mean, sd, math.Hypot(0.5, 0.35))
	}
}

// Smoothing adds variances: a normal of SD 0.3 smoothed by one of SD 0.12 is a
// normal of SD √(0.3² + 0.12²).
func TestSmoothAddsVariances(t *testing.T) {
	p := Standard()
	g := NewGrid(p)
	w := g.normal(traitPrior{mean: []float64{0, -9.5, math.Log(40)}, cov: mat.NewSymDense(traits, []float64{0.04, 0, 0, 0, 0.36, 0, 0, 0, 0.01})})
	w.spread(g.kernelOf(p, 0), newDensity())
	a, b, c := w.byCell(g).marginals()
	for _, x := range []struct {
		name       string
		at, weight []float64
		sd         float64
	}{
		{"size", g.SizeLn, a, math.Hypot(0.2, p.LineWinterSizeSD)},
		{"hardiness", g.HardC, b, math.Hypot(0.6, p.LineWinterHardSDC)},
		{"length", g.LengthLn, c, math.Hypot(0.1, p.LineWinterLengthSD)},
	} {
		if _, sd := moments(x.at, x.weight); math.Abs(sd/x.sd-1) > 0.01 {
			t.Errorf("%s: SD %g after smoothing, want %g", x.name, sd, x.sd)
		}
	}
}

func TestRefineKeepsNodesAndGoesStraightBetween(t *testing.T) {
	g := NewGrid(Standard())
	draws := make([]float64, len(g.draws))
	for i := range draws {
		draws[i] = float64(i)
	}
	straight, onLog := make([]float64, gridNodes), make([]float64, gridNodes)
	g.whole().refine(straight, draws)
	g.whole().refineLog(onLog, draws, 0.02)
	for size := range gridSizes {
		node, lower := size*gridHards+3, size/sizesApart*gridHards+3
		if size%sizesApart == 0 {
			if straight[node] != draws[lower] || onLog[node] != draws[lower] {
				t.Errorf("size %d, on which the canopy runs, does not keep its value", size)
			}
			continue
		}
		part := g.SizeLn[size] - g.SizeLn[size/sizesApart*sizesApart]
		part /= g.SizeLn[sizesApart] - g.SizeLn[0]
		x, y := draws[lower], draws[lower+gridHards]
		if want := x + part*(y-x); math.Abs(straight[node]-want) > 1e-9 {
			t.Errorf("size %d: %g, want %g", size, straight[node], want)
		}
		if want := math.Exp((1-part)*math.Log(x+0.02)+part*math.Log(y+0.02)) - 0.02; math.Abs(onLog[node]-want) > 1e-9 {
			t.Errorf("size %d: %g on the logarithm, want %g", size, onLog[node], want)
		}
	}
}

// The form of residuals that share plots and a trial, by distinct expectations,
// against the multivariate normal (gonum distmv); the slope by a trial's
// deviation against a difference quotient.
func TestQuadraticAgainstTheMultivariateNormal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Standard()
		n := rapid.IntRange(1, 7).Draw(t, "n")
		group := group(rapid.IntRange(0, int(groups)-1).Draw(t, "group"))
		shared := [][]float64{{0, 0}, {0, 0}, {0, 0}}
		for _, e := range shared {
			e[0], e[1] = rapid.Float64Range(-2, 2).Draw(t, "e0"), rapid.Float64Range(-2, 2).Draw(t, "e1")
		}
		readings := make([]reading, n)
		for i := range readings {
			readings[i] = reading{group: group, plot: rapid.IntRange(0, 2).Draw(t, "plot"), seen: rapid.Float64Range(-2, 2).Draw(t, "seen"),
				variance: rapid.Float64Range(0.01, 0.5).Draw(t, "v"), share: rapid.Float64Range(0, 1).Draw(t, "share"), expected: shared[rapid.IntRange(0, 2).Draw(t, "of")]}
		}
		plot, trial := group.doubts(p)
		whole, ok := distmv.NewNormal(make([]float64, n), covariance(readings, plot, trial), nil)
		if !ok {
			t.Fatal("not positive definite")
		}
		density := func(at int, effect float64) float64 {
			r := make([]float64, n)
			for i, x := range readings {
				r[i] = x.seen - x.expected[at] - effect*x.share
			}
			return whole.LogProb(r)
		}
		q := quadraticOf(readings, group, p)
		form, slope := make([]float64, 2), make([]float64, 2)
		q.addTo(form)
		q.slopeTo(slope)
		theirs := density(1, 0) - density(0, 0)
		if ours := -0.5 * (form[1] - form[0]); math.Abs(ours-theirs) > 1e-8*(1+math.Abs(form[0])+math.Abs(form[1])) {
			t.Fatalf("log densities differ by %g, by the whole matrix %g", ours, theirs)
		}
		const step = 1e-3
		numeric := (density(1, step) - density(1, -step)) / (2 * step)
		if math.Abs(slope[1]-numeric) > 1e-6*(1+math.Abs(numeric)) {
			t.Fatalf("slope by the trial's deviation %g, difference quotient %g", slope[1], numeric)
		}
	})
}

// normal gives a normal density at the steps, the largest 1.
func normal(at []float64, mean, sd float64) []float64 {
	d := make([]float64, len(at))
	for i, x := range at {
		d[i] = math.Exp(-0.5 * square((x-mean)/sd))
	}
	return d
}

// marginals sums a density over the other two traits.
func (w weights) marginals() (size, hard, length []float64) {
	size, hard, length = make([]float64, gridSizes), make([]float64, gridHards), make([]float64, gridLengths)
	for i := range size {
		for j := range hard {
			for k, x := range w[(i*gridHards+j)*gridLengths:][:gridLengths] {
				size[i] += x
				hard[j] += x
				length[k] += x
			}
		}
	}
	return size, hard, length
}
