package weather

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// evenSoil is a column of n layers of one thickness, m.
func evenSoil(p Params, n int, thickM, stepS, startC float64) *soilColumn {
	layers := make([]float64, n)
	for i := range layers {
		layers[i] = thickM
	}
	return p.newSoilColumn(layers, stepS, startC)
}

// waveAt drives a column with a sine of so many steps around 0 °C and gives
// the amplitude and lag, periods, of the last at a depth, by its Fourier sums.
func waveAt(c *soilColumn, amplitudeC float64, steps int, depthM float64, periods int) (depthC, lag float64) {
	sin, cos := 0.0, 0.0
	for i := 1; i <= steps*periods; i++ {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(steps))
		c.step(amplitudeC * s)
		if i > steps*(periods-1) {
			t := c.atC(depthM, 0)
			sin, cos = sin+t*s*2/float64(steps), cos+t*k*2/float64(steps)
		}
	}
	return math.Hypot(sin, cos), math.Atan2(-cos, sin) / (2 * math.Pi)
}

// Oklahoma State University, open textbook of soil physics, 13.4: diffusivity
// 0.5e-6 m² s⁻¹, an amplitude of 7 at the surface is 2.98 at 0.10 m, 3.26 h
// later; damping depths 0.11726 m of the daily and 2.240 m of the yearly wave.
func TestSoilWavePublished(t *testing.T) {
	p := Standard()
	p.SoilDiffusivityMM2S, p.SoilIceShare, p.CoverExchangeWM2K = 0.5, 0, 1e9
	amplitudeC, lag := waveAt(evenSoil(p, 135, 0.1/22.5, 20, 0), 7, 24*180, 0.10, 4)
	near(t, "amplitude at 0.10 m", amplitudeC, 2.98, 0.01)
	near(t, "lag at 0.10 m, h", lag*24, 3.26, 0.01)
	near(t, "damping depth of the daily wave, m", 0.10/math.Log(7/amplitudeC), 0.11726, 1e-4)
	amplitudeC, _ = waveAt(evenSoil(p, 60, 0.2, 24*3600/20, 0), 7, 365*20, 0.9, 6)
	near(t, "damping depth of the yearly wave, m", 0.9/math.Log(7/amplitudeC), 2.240, 0.001)
}

// Below a canopy the wave at the soil's surface is |h / (h + k (1 + i) / d)|
// of the canopy's, d the damping depth: the same heat passes through both.
func TestSoilUnderCanopy(t *testing.T) {
	p := Standard()
	p.SoilIceShare = 0
	conductivity := p.SoilDiffusivityMM2S * p.SoilHeatMJM3K
	ground := conductivity / math.Sqrt(p.SoilDiffusivityMM2S*1e-6*24*3600/math.Pi)
	want := p.CoverExchangeWM2K / math.Hypot(p.CoverExchangeWM2K+ground, ground)
	got, _ := waveAt(evenSoil(p, 100, 0.005, 120, 0), 1, 24*30, 0, 5)
	near(t, "share of the canopy's wave at the surface", got, want, 0.002)
	// the few layers and steps in use, for the surface and for 5 cm
	coarse := p.newSoilColumn(soilLayersM(), 3*3600, 0)
	got, _ = waveAt(coarse, 1, 8, 0, 20)
	near(t, "the same in use", got, want, 0.03)
	got, _ = waveAt(p.newSoilColumn(soilLayersM(), 3*3600, 0), 1, 8, 0.05, 20)
	near(t, "and 5 cm below", got, want*math.Exp(-0.05/math.Sqrt(p.SoilDiffusivityMM2S*1e-6*24*3600/math.Pi)), 0.06)
}

// Under a steady frost ice grows so that the latent heat equals what passes
// through cover and frozen soil: z = sqrt((k/h)² + 2 k F t / L) - k/h (the
// balance of Stefan; heat of the frozen soil left out, which 0.5 °C makes
// small).
func TestSoilFreezesAsFastAsHeatLeaves(t *testing.T) {
	p := Standard()
	const frostC, days = -0.5, 20
	c := evenSoil(p, 200, 0.005, 3600, 0)
	for range days * 24 {
		c.step(frostC)
	}
	depthM := 200 * 0.005 * c.iceShare(200)

	conductivity := p.SoilDiffusivityMM2S * p.SoilHeatMJM3K
	latent := p.SoilIceShare * 334e6
	still := conductivity / p.CoverExchangeWM2K
	want := math.Sqrt(still*still+2*conductivity*-frostC*days*86400/latent) - still
	near(t, "depth of frost, m", depthM, want, 0.02*want)
}

// What the column gains in heat, ice counted as heat that has left, is what
// came through its surface.
func TestSoilKeepsItsHeat(t *testing.T) {
	p := Standard()
	rapid.Check(t, func(t *rapid.T) {
		c := p.newSoilColumn(soilLayersM(), 3*3600, rapid.Float64Range(-3, 10).Draw(t, "start"))
		heat := func() (sum float64) {
			for i, hold := range c.holdWM2K {
				sum += hold * c.heatC[i]
			}
			return sum
		}
		if got, want := c.iceShare(len(c.heatC)), map[bool]float64{true: 1, false: 0}[c.tempC[0] < 0]; got != want {
			t.Fatalf("soil that starts at %v °C holds ice %v", c.tempC[0], got)
		}
		before, passed := heat(), 0.0
		for range 60 {
			c.snow = math.Exp(-rapid.Float64Range(0, 12).Draw(t, "snow") / p.SnowEFoldCM)
			canopyC := rapid.Float64Range(-15, 12).Draw(t, "canopy")
			c.step(canopyC)
			passed += c.topWM2K * (canopyC - c.tempC[0])
			if inward := canopyC > c.tempC[0]; inward && c.snowInUse < 1 {
				t.Fatalf("snow holds back warmth")
			}
			for i, heatC := range c.heatC {
				if want := math.Max(0, heatC) + math.Min(0, heatC+c.latentC); math.Abs(c.tempC[i]-want) > 1e-9 {
					t.Fatalf("layer %d of heat %v is at %v °C", i, heatC, c.tempC[i])
				}
			}
		}
		if gain := heat() - before; math.Abs(gain-passed) > 1e-8 {
			t.Fatalf("gained %v, passed %v", gain, passed)
		}
	})
}

// The steps follow the course of days alike in the middle of winter at 48
// degrees.
func TestSoilStepsFollowTheDay(t *testing.T) {
	alike := NewCourse(NewDate(2013, time.January, 14), []float64{0, 0, 0}, []float64{1, 1, 1}, 48, Standard())
	night, day := soilSteps()
	for i, got := range append(night[:], day[:]...) {
		want := 0.0
		for m := range 180 {
			want += alike.At(1, math.Mod(18+3*float64(i)+(float64(m)+0.5)/60, 24)) / 180
		}
		near(t, "share of the maximum in three hours", got, want, 0.04)
	}
}

// A crown just bare and one just covered are as cold, and one that is bare
// lies between soil and canopy.
func TestCrownAtTheSurface(t *testing.T) {
	w, err := NewWinter(daysOf(NewDate(2012, time.December, 1), [2]float64{4, 9}, [2]float64{-3, 5}, [2]float64{-6, 2}, [2]float64{-8, 1}), still())
	if err != nil {
		t.Fatal(err)
	}
	level := w.Site.Params.CrownAboveCM
	bare, covered, flush := w.CrownMinC(level-1e-6), w.CrownMinC(level+1e-6), w.CrownMinC(level)
	proud, negative := w.CrownMinC(0), w.CrownMinC(-3)
	for i := range flush {
		near(t, "just bare", bare[i], flush[i], 1e-4)
		near(t, "just covered", covered[i], flush[i], 1e-4)
		near(t, "less than no soil", negative[i], proud[i], 0)
		if i > 0 && !(w.CanopyMinC[i] < proud[i] && proud[i] < flush[i]) {
			t.Errorf("day %d: canopy %v, crown above the soil %v, in it %v", i, w.CanopyMinC[i], proud[i], flush[i])
		}
	}
	// cosh(1.5 cm / 2.3 cm): the soil's share in a crown that stands proud
	near(t, "share of the canopy", 1-1/math.Cosh(1.5/2.3), 0.1805, 0.0001)
}
