package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestCanopyDrop(t *testing.T) {
	p := Standard()
	for _, c := range []struct{ yesterdayMaxC, minC, want float64 }{
		{8, -2, 0.19 + 0.13*10}, {-3, -3, 0.19}, {-9, 3, 0}, {40, -10, 5},
	} {
		near(t, "drop of 0.19 + 0.13·range within 0–5", p.CanopyDropC(c.yesterdayMaxC, c.minC), c.want, 1e-12)
	}
}

func TestSnow(t *testing.T) {
	p := Standard()
	for depth, want := range map[float64]float64{0: 0, 10: 0.25, 40: 1, 90: 1} {
		near(t, "buried share of 40 cm", p.BuriedShare(depth), want, 1e-12)
	}
	near(t, "buried share without a reading", p.BuriedShare(math.NaN()), 0, 0)
	near(t, "frost of -10 °C under one e-fold", p.TissueUnderSnowC(-10, 4), -10/math.E, 1e-12)
	near(t, "frost without a reading of snow", p.TissueUnderSnowC(-10, math.NaN()), -10, 0)
	rapid.Check(t, func(t *rapid.T) {
		canopyC := rapid.Float64Range(-40, 20).Draw(t, "canopy")
		depth := rapid.Float64Range(0, 200).Draw(t, "snow")
		deeper := depth + rapid.Float64Range(0, 100).Draw(t, "more")
		under, deep := p.TissueUnderSnowC(canopyC, depth), p.TissueUnderSnowC(canopyC, deeper)
		if under < canopyC || deep < under || p.BuriedShare(deeper) < p.BuriedShare(depth) {
			t.Fatalf("%v °C under %v cm, %v °C under %v cm, exposed %v °C", under, depth, deep, deeper, canopyC)
		}
		if canopyC < 0 && deep > 0 {
			t.Fatalf("snow warms %v °C to %v °C", canopyC, deep)
		}
	})
}
