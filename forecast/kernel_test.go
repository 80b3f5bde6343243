package forecast

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The grid is not refined where a line is well known: it need not be. A normal
// taken at steps keeps its mean and SD wherever it lies between them as long as
// its SD is at least 0.6 of a step (the error falls as exp(-2π²·SD²), in
// steps), and lines do not become better known than that: what a winter says is
// smoothed by the line × winter deviations, 1.4, 2.2 and 1.4 steps wide, and
// eight winters of eight notes on two plots leave this (WINTERTOP_LONG=1).
func TestTheGridIsFineEnough(t *testing.T) {
	at := steps(0, 10, 21)
	for _, sd := range []float64{0.6, 0.7, 1, 2} {
		for _, middle := range []float64{0, 0.25, 0.5} {
			w := normal(at, middle, sd)
			total := sumOf(w)
			for i := range w {
				w[i] /= total
			}
			mean, got := moments(at, w)
			if math.Abs(mean-middle) > 0.01*sd || math.Abs(got/sd-1) > 0.015 {
				t.Errorf("SD %g at %g: mean %.4f, SD %.4f", sd, middle, mean, got)
			}
		}
	}
	if !long() {
		return
	}
	_, l := learnedOf(t, 4, 8, 61)
	for i := range l.lines {
		size, hard, length := l.general(i).byCell(l.grid).marginals()
		for _, x := range []struct {
			name       string
			at, weight []float64
		}{{"size", l.grid.SizeLn, size}, {"hardiness", l.grid.HardC, hard}, {"length", l.grid.LengthLn, length}} {
			if _, sd := moments(x.at, x.weight); sd < 0.6*(x.at[1]-x.at[0]) {
				t.Errorf("%s of line %d: SD %.2f steps after eight winters", x.name, i, sd/(x.at[1]-x.at[0]))
			}
		}
	}
}

// An SD below 0.7 of a step is kept by weights on the two neighbours, and a
// shift without deviations moves a density by so much.
func TestNarrowKernels(t *testing.T) {
	at := steps(0, 10, 21)
	one := make([]float64, len(at))
	one[10] = 1
	for _, c := range []struct{ sd, shift float64 }{{0.05, 0}, {0.3, 0}, {0.69, 0}, {0.71, 0}, {0, 0.3}, {0, -2.5}, {0, 0}} {
		got := make([]float64, len(at))
		smoother(at, c.sd, c.shift).toWinter.along(got, one, [2]int{0, len(at)}, [2]int{0, 1}, 1)
		mean, sd := moments(at, got)
		if math.Abs(mean-c.shift) > 1e-12 || c.shift == 0 && math.Abs(sd-c.sd) > 0.005 {
			t.Errorf("SD %g, shift %g: mean %g, SD %g", c.sd, c.shift, mean, sd)
		}
	}
}

// Carrying numbers to the traits in general within a patch gives what the
// whole grid gives there, and what the kernel of densities gives where no length
// deviates.
func TestAPatchIsAPartOfTheWhole(t *testing.T) {
	g := NewGrid(Standard())
	p := Standard()
	p.LineWinterLengthSD = 0
	k := g.kernelOf(p, 0.2)
	rng := rand.New(rand.NewPCG(71, 5))
	src, cells := make([]float64, moments3*gridNodes), newWeights()
	for i := range src {
		src[i] = rng.Float64()
		cells[i/moments3*gridLengths+i%moments3] = src[i]
	}
	k.toGeneral(g, cells, newWeights())
	b := patch{[2]int{3, 9}, [2]int{10, 20}}
	whole, part := make([]float64, len(src)), make([]float64, len(src))
	across(k.size.toGeneral, k.hard.toGeneral, whole, append([]float64(nil), src...), wholeGrid())
	across(k.size.toGeneral, k.hard.toGeneral, part, append([]float64(nil), src...), b)
	for i, x := range whole {
		if want := cells[i/moments3*gridLengths+i%moments3]; math.Abs(x-want) > 1e-14 {
			t.Fatalf("number %d: %g, as a density %g", i, x, want)
		}
	}
	b.nodes(func(node int) {
		for i := node * moments3; i < (node+1)*moments3; i++ {
			if math.Abs(whole[i]-part[i]) > 1e-15 {
				t.Fatalf("number %d: %g in the patch, %g in the whole", i, part[i], whole[i])
			}
		}
	})
}
