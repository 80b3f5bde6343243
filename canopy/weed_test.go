package canopy

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wintertop/weather"
)

// bareRow is a planting that never comes up.
func bareRow() Params {
	p := Standard()
	p.EmergenceDegreeDays = math.Inf(1)
	return p
}

func TestWeedsOfABareRow(t *testing.T) {
	// In full light ln(L/(1-L/4)) would grow evenly in continuous time; the
	// daily steps lag behind it by a little while the mat closes.
	w := madeWinter(t, 1, 9)
	s := Sow(made, []Traits{{1, -9.5}}, bareRow())
	logit := math.Log(0.002 / (1 - 0.002/4))
	s.Grow(w, 0, len(w.Days)-1, func(day int, s *Stand) {
		cover := s.WeedCover(nil)[0]
		if w.First+weather.Date(day) <= made.LastCultivated {
			near(t, "cover until the last cultivation", cover, 0, 0)
			return
		}
		// Chickweed leaf area grows above -1.7 °C: Storkey & Cussans 2000.
		light := w.PARMJ[day] / (w.PARMJ[day] + 2.5)
		logit += 0.016 * weather.DegreeDays(w.MinC[day], w.MaxC[day], -1.7, math.Inf(1)) * light
		area := 1 / (math.Exp(-logit) + 0.25)
		near(t, "cover of a bare row", cover, 1-math.Exp(-0.7*area), 0.05)
		if area < 0.02 {
			near(t, "leaf area at first", s.weedLAI[0]/area, 1, 0.01)
		}
	})
	if cover := s.WeedCover(nil)[0]; cover < 0.5 {
		t.Errorf("by March a bare row is covered by %v", cover)
	}
}

func TestWeedDay(t *testing.T) {
	// Storkey & Cussans 2000, base -1.7 °C: 1.6428 °C d between -5 and 3 °C;
	// closed form of the single sine, recomputed.
	s := Sow(made, []Traits{{1, -9.5}}, Standard())
	s.growWeeds(-5, 3, 2.5)
	near(t, "half-light", math.Log(s.weedLAI[0]/0.002), 0.016*1.6428*0.5*(1-0.002/4), 1e-6)
	s.growWeeds(-9, -2, 2.5)
	near(t, "no growth below the base", math.Log(s.weedLAI[0]/0.002), 0.016*1.6428*0.5*(1-0.002/4), 1e-6)
	s.weedLAI[0] = 4
	s.growWeeds(5, 15, 5)
	near(t, "closed mat", s.weedLAI[0], 4, 0)
}

func TestWeedsBelowACrop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, traits := anyWinter(t), anyTraits(t, "line")
		later := made
		later.LastCultivated += weather.Date(rapid.IntRange(0, 60).Draw(t, "later by"))
		bare := grown(w, made, bareRow(), traits).WeedCover(nil)[0]
		cover := grown(w, made, Standard(), traits).WeedCover(nil)[0]
		cleaner := grown(w, later, Standard(), traits).WeedCover(nil)[0]
		if cover > bare || cleaner > cover {
			t.Fatalf("cover %v, of a bare row %v, cultivated later %v", cover, bare, cleaner)
		}
	})
}

func TestWeedsDoNotShade(t *testing.T) {
	w := madeWinter(t, 1, 9)
	early, late := made, made
	early.LastCultivated, late.LastCultivated = 0, w.First+weather.Date(len(w.Days))
	a, b := grown(w, early, Standard(), Traits{1, -9.5}), grown(w, late, Standard(), Traits{1, -9.5})
	if a.GroundLight(nil)[0] != b.GroundLight(nil)[0] || a.WeedCover(nil)[0] == 0 || b.WeedCover(nil)[0] != 0 {
		t.Error("weeds changed the crop's light, or there are none")
	}
}
