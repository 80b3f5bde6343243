package canopy

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func TestShareTable(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for _, change := range []func(*Params){
		func(*Params) {},
		func(p *Params) { p.Undercut = false },
		func(p *Params) { p.GripFreshG = 0 },
		func(p *Params) { p.MassLnSD, p.HeightLnSD, p.MassHeightCorrelation = 0.45, 0.12, 0.65 },
		func(p *Params) { p.BeltHeightCM = 0 },
	} {
		p := Standard()
		change(&p)
		l := NewLifting(p)
		table := l.Table()
		for range 1000 {
			leafG, heightCM := math.Exp(10*random.Float64()-5), 10*math.Exp(2*random.Float64())
			if got, want := table.Share(leafG, heightCM), l.Share(leafG, heightCM); math.Abs(got-want) > 5e-4 {
				t.Fatalf("%v g, %v cm: %v, exactly %v", leafG, heightCM, got, want)
			}
		}
		for _, none := range [][2]float64{{0, 30}, {2, 0}, {1e-9, 30}, {math.NaN(), 30}} {
			near(t, "no leaf or no height", table.Share(none[0], none[1]), 0, 0)
		}
		near(t, "beyond the table", table.Share(1e6, 1e6), 0.96, 5e-4)
	}
}

func TestWanted(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for _, undercut := range []bool{true, false} {
		p := Standard()
		p.Undercut = undercut
		l := NewLifting(p)
		for _, share := range []float64{0.1, 0.5, 0.85, 0.95} {
			w := l.Wanted(share)
			for range 200 {
				leafG := math.Exp(8*random.Float64() - 3)
				exact, got := l.LeastHeightCM(leafG, share), w.LeastHeightCM(leafG)
				if math.IsInf(exact, 1) != math.IsInf(got, 1) || !math.IsInf(exact, 1) && math.Abs(l.Share(leafG, got)-share) > 5e-4 {
					t.Errorf("%v g: %v cm, exactly %v", leafG, got, exact)
				}
			}
		}
		for _, share := range []float64{0.97, 1} {
			if cm := l.Wanted(share).LeastHeightCM(1e6); !math.IsInf(cm, 1) {
				t.Errorf("%v cm is enough for a share of %v", cm, share)
			}
		}
		near(t, "nothing wanted", l.Wanted(0).LeastHeightCM(0.1), 0, 0)
	}
}

func TestWantedNeverRisesWithMass(t *testing.T) {
	w := NewLifting(Standard()).Wanted(0.85)
	rapid.Check(t, func(t *rapid.T) {
		leafG := math.Exp(rapid.Float64Range(-2, 4).Draw(t, "ln leaf"))
		more := rapid.Float64Range(1, 1.5).Draw(t, "more")
		if a, b := w.LeastHeightCM(leafG), w.LeastHeightCM(leafG*more); b > a {
			t.Fatalf("%v cm, with more leaf %v", a, b)
		}
	})
}

func BenchmarkShare(b *testing.B) {
	l := NewLifting(Standard())
	for b.Loop() {
		l.Share(2, 25)
	}
}

func BenchmarkTable(b *testing.B) {
	l := NewLifting(Standard())
	for b.Loop() {
		l.Table()
	}
}

func BenchmarkTableShare(b *testing.B) {
	t := NewLifting(Standard()).Table()
	for b.Loop() {
		t.Share(2, 25)
	}
}

func BenchmarkWanted(b *testing.B) {
	l := NewLifting(Standard())
	for b.Loop() {
		l.Wanted(0.85)
	}
}

// LeastHeightCM gives what LeastLnHeight does in cm and g.
func (w *Wanted) LeastHeightCM(leafG float64) float64 {
	return math.Exp(w.LeastLnHeight(math.Log(leafG)))
}
