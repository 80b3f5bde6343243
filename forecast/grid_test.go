package forecast

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"pgregory.net/rapid"
)

func TestPriorHasThePopulationsMoments(t *testing.T) {
	p := Standard()
	g := NewGrid(p)
	size, hard, length := g.prior(p, LinePrior{math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()}).marginals()
	for _, c := range []struct {
		name             string
		at, weight       []float64
		mean, sd, within float64 // cut at ±3 SD a normal keeps 0.9866 of its SD, at ±4 SD 0.9995
	}{
		{"ln top size", g.SizeLn, size, 0, 0.35, 0.02},
		{"hardiness", g.HardC, hard, -9.5, 1.25, 0.005}, // √(1.2² + 0.35²)
		{"ln top length", g.LengthLn, length, math.Log(40), 0.17, 0.02},
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
	_, hard, _ := g.prior(p, LinePrior{TopSize: 1.2, TopSizeSD: 0.1, TopLengthCM: 44, TopLengthSDCM: 3, HardinessC: -11, HardinessSDC: 0.5}).marginals()
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
	w := newWeights()
	size, hard, length := normal(g.SizeLn, 0, 0.2), normal(g.HardC, -9.5, 0.6), normal(g.LengthLn, math.Log(40), 0.1)
	for i := range size {
		for j := range hard {
			for k := range length {
				w[(i*gridHards+j)*gridLengths+k] = size[i] * hard[j] * length[k]
			}
		}
	}
	g.kernelOf(p).smooth(w)
	w.normalise()
	a, b, c := w.marginals()
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

func TestRefineKeepsNodesAndHalvesBetween(t *testing.T) {
	g := NewGrid(Standard())
	draws := make([]float64, len(g.draws))
	for i := range draws {
		draws[i] = float64(i)
	}
	dst := make([]float64, gridNodes)
	g.refine(dst, draws)
	if dst[0] != draws[0] || dst[2*gridHards+7] != draws[gridHards+7] {
		t.Error("a node of the canopy's grid does not keep its value")
	}
	if want := (draws[3] + draws[gridHards+3]) / 2; dst[gridHards+3] != want {
		t.Errorf("between two sizes %g, want %g", dst[gridHards+3], want)
	}
	g.refineLog(dst, draws, 0.02)
	want := math.Exp((math.Log(draws[3]+0.02)+math.Log(draws[gridHards+3]+0.02))/2) - 0.02
	if math.Abs(dst[gridHards+3]-want) > 1e-12 {
		t.Errorf("between two sizes %g on the logarithm, want %g", dst[gridHards+3], want)
	}
}

// The closed form of nested plot and trial effects against the multivariate
// normal with the whole covariance matrix (gonum distmv), up to a constant.
func TestNestedAgainstTheWholeCovariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plots := rapid.IntRange(1, 3).Draw(t, "plots")
		n := rapid.IntRange(1, 7).Draw(t, "n")
		plotVariance, trialVariance := rapid.Float64Range(0.001, 0.2).Draw(t, "plot"), rapid.Float64Range(0, 0.1).Draw(t, "trial")
		plot, variance := make([]int, n), make([]float64, n)
		sigma := mat.NewSymDense(n, nil)
		for i := range n {
			plot[i] = rapid.IntRange(0, plots-1).Draw(t, "of")
			variance[i] = rapid.Float64Range(0.01, 0.5).Draw(t, "v")
		}
		for i := range n {
			for j := range i + 1 {
				c := trialVariance
				if plot[i] == plot[j] {
					c += plotVariance
				}
				if i == j {
					c += variance[i]
				}
				sigma.SetSym(i, j, c)
			}
		}
		whole, ok := distmv.NewNormal(make([]float64, n), sigma, nil)
		if !ok {
			t.Fatal("not positive definite")
		}
		at := func(r []float64) (float64, float64) {
			s := newNested(plots, plotVariance, trialVariance)
			for i, x := range r {
				s.add(plot[i], x, variance[i])
			}
			return s.logDensity(), whole.LogProb(r)
		}
		residuals := rapid.SliceOfN(rapid.Float64Range(-2, 2), n, n).Draw(t, "r")
		ours, theirs := at(residuals)
		ours0, theirs0 := at(make([]float64, n))
		if math.Abs((ours-ours0)-(theirs-theirs0)) > 1e-8*(1+math.Abs(theirs)) {
			t.Fatalf("log density %g, by the whole matrix %g", ours-ours0, theirs-theirs0)
		}
	})
}
