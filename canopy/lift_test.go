package canopy

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func TestHolds(t *testing.T) {
	// ICAR Indian J. Agric. Sci. 90825, second root type: a whole top holds
	// 212 ± 16.8 N, both falling with the sound share; pull 20.2 ± 5.5 N
	// undercut, 118.2 ± 41.7 N not. Shares derived; the inputs' last digits
	// leave them open by 0.005.
	p := Standard()
	p.StrengthNPerG, p.StrengthCV = 212, 16.8/212
	p.PullUndercutN, p.PullUndercutSDN, p.PullN, p.PullSDN = 20.2, 5.5, 118.2, 41.7
	undercut := NewLifting(p)
	p.Undercut = false
	not := NewLifting(p)
	near(t, "undercut, 0.15 sound", undercut.holds(0.15), 0.972, 5e-3)
	near(t, "undercut, 0.10 sound", undercut.holds(0.10), 0.568, 5e-3)
	near(t, "not undercut, whole", not.holds(1), 0.981, 5e-3)
	near(t, "not undercut, half", not.holds(0.5), 0.387, 5e-3)
}

// easy lifts every plant that meets the part under test.
func easy() Params {
	p := Standard()
	p.BackgroundLoss, p.StrengthNPerG, p.GripFreshG, p.BeltHeightCM = 0, 1e9, 0, 0
	return p
}

func TestLeafMassCV(t *testing.T) {
	// Salter et al. 1981, root mass CV 0.60, 0.74, 0.94; leaf mass goes with
	// root mass^(1/1.268): leaf CV 0.46, 0.56, 0.70. The second moment of the
	// stand's leaf mass from the share of plants above each mass, mean 1 g.
	for i, rootCV := range []float64{0.60, 0.74, 0.94} {
		p := easy()
		p.DryShare = 1
		p.MassLnSD = math.Sqrt(math.Log(1+rootCV*rootCV)) / 1.268
		mean, square := 0.0, 0.0
		const step = 0.05 // of ln mass
		for lnG := -10.0; lnG < 7; lnG += step {
			g := math.Exp(lnG)
			p.GripFreshG = g
			share := NewLifting(p).Share(1, 30)
			mean += share * g * step
			square += 2 * share * g * g * step
		}
		near(t, "mean", mean, 1, 1e-3)
		near(t, "CV", math.Sqrt(square-mean*mean)/mean, []float64{0.46, 0.56, 0.70}[i], 0.01)
	}
}

func TestShareClosedForms(t *testing.T) {
	p := easy()
	near(t, "nothing in the way", NewLifting(p).Share(1, 30), 1, 1e-7)
	p.BackgroundLoss = 0.04
	near(t, "background loss", NewLifting(p).Share(1, 30), 0.96, 1e-7)
	p = easy()
	p.GripFreshG, p.DryShare = 6, 0.14
	want := normalCDF((math.Log(2/0.84) - 0.6*0.6/2) / 0.6)
	near(t, "grip alone", NewLifting(p).Share(2, 30), want, 1e-7)
	p = easy()
	p.BeltHeightCM = 20
	want = normalCDF((math.Log(24.0/20) - 0.18*0.18/2) / 0.18)
	near(t, "belts alone", NewLifting(p).Share(2, 24), want, 1e-7)
	p.GripFreshG, p.MassHeightCorrelation = 6, 0
	grip := normalCDF((math.Log(2/0.84) - 0.6*0.6/2) / 0.6)
	near(t, "belts and grip, independent", NewLifting(p).Share(2, 24), want*grip, 1e-7)
	l := NewLifting(Standard())
	for _, none := range [][2]float64{{0, 30}, {2, 0}, {-1, 30}, {math.NaN(), 30}, {2, math.NaN()}} {
		near(t, "no leaf or no height", l.Share(none[0], none[1]), 0, 0)
	}
}

func TestShareByMonteCarlo(t *testing.T) {
	const plants = 100000
	for i, c := range []struct {
		leafG, heightCM float64
		undercut        bool
	}{{2, 28, true}, {1, 21, true}, {0.6, 30, true}, {3.5, 36, false}, {2, 24, false}} {
		p := Standard()
		p.Undercut = c.undercut
		l := NewLifting(p)
		random := rand.New(rand.NewPCG(uint64(i), 9))
		lifted := 0
		for range plants {
			z, e := random.NormFloat64(), random.NormFloat64()
			mass := c.leafG * math.Exp(p.MassLnSD*z-p.MassLnSD*p.MassLnSD/2)
			rho := p.MassHeightCorrelation
			height := c.heightCM * math.Exp(p.HeightLnSD*(rho*z+math.Sqrt(1-rho*rho)*e)-p.HeightLnSD*p.HeightLnSD/2)
			strength := p.StrengthNPerG * mass * (1 + p.StrengthCV*random.NormFloat64())
			pull := l.pullN + l.pullSD*random.NormFloat64()
			if height >= p.BeltHeightCM && mass/p.DryShare >= p.GripFreshG && strength > pull && random.Float64() >= p.BackgroundLoss {
				lifted++
			}
		}
		share := l.Share(c.leafG, c.heightCM)
		near(t, "share", share, float64(lifted)/plants, 4*math.Sqrt(share*(1-share)/plants))
	}
}

// fineShare is the same integral by 20000 trapezia.
func fineShare(p Params, leafG, heightCM float64) float64 {
	l := NewLifting(p)
	middle := math.Log(leafG) - p.MassLnSD*p.MassLnSD/2
	low := max(-8, (math.Log(p.GripFreshG*p.DryShare)-middle)/p.MassLnSD)
	const n = 20000
	sum := 0.0
	for i := range n + 1 {
		z := low + (8-low)*float64(i)/n
		h := (math.Log(heightCM/p.BeltHeightCM) - p.HeightLnSD*p.HeightLnSD/2 + l.alongHeight*z) / l.besideHeight
		f := normalDensity(z) * normalCDF(h) * l.holds(math.Exp(middle+p.MassLnSD*z))
		if i == 0 || i == n {
			f /= 2
		}
		sum += f
	}
	return (1 - p.BackgroundLoss) * sum * (8 - low) / n
}

func TestShareNodes(t *testing.T) {
	for _, undercut := range []bool{true, false} {
		p := Standard()
		p.Undercut = undercut
		for _, leafG := range []float64{0.2, 0.8, 2, 5} {
			for _, heightCM := range []float64{12, 20, 30, 45} {
				near(t, "share", NewLifting(p).Share(leafG, heightCM), fineShare(p, leafG, heightCM), 1e-6)
			}
		}
	}
}

// anyBelts draws a site.
func anyBelts(t *rapid.T) Params {
	p := Standard()
	p.Undercut = rapid.Bool().Draw(t, "undercut")
	p.BeltHeightCM = rapid.Float64Range(5, 40).Draw(t, "belt")
	p.GripFreshG = rapid.Float64Range(0, 20).Draw(t, "grip")
	p.MassLnSD = rapid.Float64Range(0.45, 0.75).Draw(t, "SD of ln mass")
	p.HeightLnSD = rapid.Float64Range(0.12, 0.25).Draw(t, "SD of ln height")
	p.MassHeightCorrelation = rapid.Float64Range(0.25, 0.65).Draw(t, "correlation")
	return p
}

func TestShareDirections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyBelts(t)
		leafG := math.Exp(rapid.Float64Range(-4, 3).Draw(t, "ln leaf"))
		heightCM := rapid.Float64Range(1, 80).Draw(t, "height")
		more := rapid.Float64Range(1, 2).Draw(t, "more")
		share := NewLifting(p).Share(leafG, heightCM)
		if !(share >= 0 && share <= 1-p.BackgroundLoss+1e-9) {
			t.Fatalf("share %v", share)
		}
		belt, grip := p, p
		belt.BeltHeightCM *= more
		grip.GripFreshG *= more
		const slack = 2e-6 // twice the error of the integral
		if s := NewLifting(belt).Share(leafG, heightCM); s > share+slack {
			t.Fatalf("higher belts lift %v, not %v", s, share)
		}
		if s := NewLifting(grip).Share(leafG, heightCM); s > share+slack {
			t.Fatalf("a greater grip lifts %v, not %v", s, share)
		}
		if s := NewLifting(p).Share(leafG*more, heightCM); s < share-slack {
			t.Fatalf("more leaf lifts %v, not %v", s, share)
		}
		if s := NewLifting(p).Share(leafG, heightCM*more); s < share-slack {
			t.Fatalf("taller tops lift %v, not %v", s, share)
		}
	})
}

func TestLeastHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := NewLifting(anyBelts(t))
		leafG := math.Exp(rapid.Float64Range(-3, 3).Draw(t, "ln leaf"))
		wanted := rapid.Float64Range(0.01, 0.97).Draw(t, "wanted")
		heightCM := l.LeastHeightCM(leafG, wanted)
		if most := l.Share(leafG, 1e9); math.IsInf(heightCM, 1) != (most <= wanted) {
			t.Fatalf("least height %v where at most %v lifts", heightCM, most)
		}
		if share := l.Share(leafG, heightCM); !math.IsInf(heightCM, 1) && math.Abs(share-wanted) > 1e-8 {
			t.Fatalf("at %v cm %v lifts, wanted %v", heightCM, share, wanted)
		}
	})
	// Slope of the share by ln height, against its difference quotient.
	l := NewLifting(Standard())
	var z, chance [liftNodes]float64
	l.grips(math.Log(2), z[:], chance[:])
	const step = 1e-5
	up, _ := l.reaches(0.1+step, z[:], chance[:])
	down, _ := l.reaches(0.1-step, z[:], chance[:])
	_, slope := l.reaches(0.1, z[:], chance[:])
	near(t, "slope", slope, (up-down)/(2*step), 1e-8)
}
