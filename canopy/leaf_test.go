package canopy

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wintertop/weather"
)

// afterEmergence gives the thermal time of a stand since it came up.
func (s *Stand) afterEmergence() float64 { return s.degreeDays - s.params.EmergenceDegreeDays }

func TestLeavesWithAllTheyAskFor(t *testing.T) {
	// With all growth to spare and no frost each leaf has its full mass times
	// the share expanded and not faded, in closed form: age alone makes no leaf
	// fall.
	p := Standard()
	p.ReserveGPerDegreeDay = 1e9
	w := madeWinter(t, 1, 16)
	s := Sow(made, []Traits{{1.3, -9.5}}, p)
	s.Grow(w, 0, 100, func(day int, s *Stand) {
		if !s.emerged {
			return
		}
		total, alive := 0.0, 0.0
		for j := 0; float64(j)*110 <= s.afterEmergence(); j++ {
			age := s.afterEmergence() - float64(j)*110
			mass := 1.3 * 0.42 * min(1, age/420) * max(0, min(1, 1-(age-1150)/110))
			total += mass
			if mass >= 0.1*1.3 {
				alive++
			}
		}
		near(t, "leaf mass", s.LeafG(nil)[0], total, 1e-9)
		near(t, "live leaves", s.LiveLeaves(nil)[0], alive, 0)
	})
	if s.leaves.oldest < 3 {
		t.Errorf("only %d leaves have faded away", s.leaves.oldest)
	}
}

func TestLeavesFromReserve(t *testing.T) {
	// Without light the top grows by the reserve alone until its first leaf
	// fades.
	p := Standard()
	p.GrowthGPerMJ = 0
	w := madeWinter(t, 1, 16)
	s := Sow(made, []Traits{{0.7, -9.5}}, p)
	before, up := 0.0, math.NaN()
	s.Grow(w, 0, 60, func(day int, s *Stand) {
		if s.emerged && math.IsNaN(up) {
			up = before
		}
		before = s.degreeDays
		if s.emerged && s.afterEmergence() < 1150 && s.afterEmergence() > 60 {
			// On the first days the leaf asks for less than the reserve gives.
			near(t, "leaf mass", s.LeafG(nil)[0], 0.7*0.0004*(s.degreeDays-up), 0.7*0.0004*25)
		}
	})
}

func TestFirstGrowthRate(t *testing.T) {
	// A small stand far from closed grows by (shares to leaves) × k × area ×
	// (growth by the day's light): the limit of 1 - exp(-k·LAI) at small LAI.
	p := Standard()
	p.ReserveGPerDegreeDay = 0
	s := Sow(made, []Traits{{1.2, -9.5}}, p)
	s.open(0)
	const small, lightG = 1e-7, 0.02
	s.row(s.massG, 0)[0] = small
	s.tally()
	s.expand(10, 20, lightG, 10)
	perG := p.CropExtinction * p.LeafAreaM2PerG * made.PlantsPerM2
	near(t, "relative growth", (s.row(s.massG, 0)[0]-small)/small, 1.2*lightG*(p.LeafShareClosed+p.LeafShareOpen)*perG, 1e-7)
	// Growth never passes demand, and follows demand between leaves.
	s.open(150)
	s.row(s.alive, 0)[0] = 0.5
	first, second := s.row(s.massG, 0), s.row(s.massG, 1)
	was := [2]float64{first[0], second[0]}
	s.tally()
	s.expand(150, 160, 1e-9, 10)
	near(t, "a leaf half alive asks half", (first[0]-was[0])/(second[0]-was[1]), 0.5, 1e-6)
	// All that light and reserve give is grown, whatever frost has left of each.
	near(t, "growth", first[0]-was[0]+second[0]-was[1], 1.2*1e-9*(1-math.Exp(-perG*s.totalG[0]))*
		(p.LeafShareClosed+p.LeafShareOpen*math.Exp(-perG*s.totalG[0])), 1e-17)
	was = [2]float64{first[0], second[0]}
	s.expand(160, 170, 1e9, 10)
	near(t, "demand met", second[0]-was[1], 1.2*p.FullLeafG*10/p.ExpansionDegreeDays, 1e-12)
}

func TestDaylight(t *testing.T) {
	// 2.8 g per MJ of PAR, by warmth in a straight line from 1.5 to 14 °C, over
	// 80 plants: the parameters' own meaning.
	w := madeWinter(t, 1, 12)
	s := Sow(made, nil, Standard())
	w.PARMJ[3] = 6
	for _, c := range []struct{ dayC, want float64 }{{-4, 0}, {1.5, 0}, {7.75, 0.105}, {14, 0.21}, {30, 0.21}} {
		w.DayC[3] = c.dayC
		near(t, "growth of a full catch", s.daylight(w, 3), c.want, 1e-15)
	}
}

func TestRing(t *testing.T) {
	// Leaf dates: expansion and fading are straight lines in thermal time, so
	// their difference quotients are constant and their ends exact.
	rapid.Check(t, func(t *rapid.T) {
		r := newRing(Standard())
		age := rapid.Float64Range(-100, 1400).Draw(t, "age")
		const step = 1e-3
		rise := (r.expanded(age+step) - r.expanded(age)) / step
		fall := (r.green(age+step) - r.green(age)) / step
		if age > 0 && age < 419 && math.Abs(rise-1.0/420) > 1e-9 || (age < -1 || age > 420) && rise != 0 {
			t.Fatalf("expansion rises by %v", rise)
		}
		if age > 1150 && age < 1259 && math.Abs(fall+1.0/110) > 1e-9 || (age < 1149 || age > 1260) && fall != 0 {
			t.Fatalf("green falls by %v", fall)
		}
	})
}

func TestAutumnTop(t *testing.T) {
	// Turner et al. 2018, raw data, 917 plants in summer: live leaves median
	// 7-9 (5-95 %: 5-20), dry mass per leaf 0.39 g (0.13-0.98), top dry mass
	// 3.6 g (1.0-11.2). A summer crop: ranges only. Common practice, no
	// source: leaf area index 3 to 6 of a full stand, tops of 36 to 46 cm going
	// into winter, a standard one among the shorter.
	s := seattle(t)
	for _, w := range s.winters(t) {
		stand := Sow(s.planting(w), []Traits{{1, -9.5}}, Standard())
		stand.Grow(w, 0, w.Index(s.october(w)), nil)
		leaves, mass, area := stand.LiveLeaves(nil)[0], stand.LeafG(nil)[0], stand.LeafAreaIndex(nil)[0]
		if cm := 40 * stand.RelativeHeight(nil)[0]; cm < 36 || cm > 40 {
			t.Errorf("%v: top height %.1f cm", w.First, cm)
		}
		if leaves < 7 || leaves > 12 || mass < 1.0 || mass > 11.2 || mass/leaves < 0.13 || mass/leaves > 0.98 || area < 3 || area > 6 {
			t.Errorf("%v: %v leaves, %.2f g, leaf area index %.2f", w.First, leaves, mass, area)
		}
	}
}

func TestRegrowth(t *testing.T) {
	// Two months without frost after an event on the first of February: some
	// of the top is left, or none.
	const some, none = -9, -30
	from := int(weather.NewDate(2002, time.February, 1) - sown)
	later := func(frostC, minC, maxC, light float64) (leftG, grownG float64) {
		days := madeDays(1, 12)
		for i := from; i < len(days); i++ {
			days[i].MinC, days[i].MaxC = minC, maxC
		}
		w := winterOf(t, days)
		for i := from; i < len(days); i++ {
			w.PARMJ[i] *= light
		}
		s := Sow(made, []Traits{{1, -9.5}}, Standard())
		s.Grow(w, 0, from-1, nil)
		s = frozen(s, weather.Event{MinCanopyC: frostC, Hardening: 1})
		leftG = s.totalG[0]
		s.Grow(w, from, len(days)-1, nil)
		return leftG, s.totalG[0] - leftG
	}
	leftSome, grown := later(some, 2, 12, 1)
	leftNone, fromCrown := later(none, 2, 12, 1)
	if leftSome < 0.1 || leftNone > 1e-9 || fromCrown <= 0.1 || grown < 1.5*fromCrown {
		t.Errorf("%v g left grew by %v, %v g by %v", leftSome, grown, leftNone, fromCrown)
	}
	if _, dark := later(some, 2, 12, 0.1); dark > 0.5*grown {
		t.Errorf("in a tenth of the light it grew by %v, not %v", dark, grown)
	}
	if _, cool := later(some, 0, 6, 1); cool > 0.5*grown {
		t.Errorf("in cooler days it grew by %v, not %v", cool, grown)
	}
	if _, cold := later(some, 1, 1.5, 1); cold != 0 {
		t.Errorf("below the base of growth it grew by %v", cold)
	}
}
