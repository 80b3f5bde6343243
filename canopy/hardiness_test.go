package canopy

import (
	"testing"

	"wintertop/weather"
)

func TestLT50(t *testing.T) {
	s := Sow(made, []Traits{{1, -9.5}, {1, -12}}, Standard())
	for _, c := range []struct{ hardening, first, second float64 }{{0, -4.5, -4.5}, {1, -9.5, -12}, {0.4, -6.5, -7.5}} {
		near(t, "LT50", s.lt50C(0, c.hardening), c.first, 1e-14)
		near(t, "LT50", s.lt50C(1, c.hardening), c.second, 1e-14)
	}
}

func TestInjuryMemory(t *testing.T) {
	w := madeWinter(t, 2, 13)
	p := Standard()
	p.InjuryMemory = 3
	s := Sow(made, []Traits{{1, -9.5}}, p)
	s.Grow(w, 0, 90, nil)
	before := s.totalG[0]
	s.injury[0] = 0
	s.freeze(&weather.Event{MinCanopyC: -6, Hardening: 0.5}, weather.Standard())
	s.tally()
	lost := 1 - s.totalG[0]/before
	if lost < 0.1 {
		t.Fatalf("lost %v", lost)
	}
	near(t, "LT50 after the frost", s.lt50C(0, 0.5), -7+3*lost, 1e-12)
	for range 10 {
		s.forgetInjury()
	}
	near(t, "ten days later", s.lt50C(0, 0.5), -7+3*lost*0.3486784401, 1e-12) // 0.9^10

	harsh := madeWinter(t, 7, 9)
	without, with := grown(harsh, made, Standard(), Traits{1, -9.5}), grown(harsh, made, p, Traits{1, -9.5})
	if !(with.totalG[0] < without.totalG[0]) {
		t.Errorf("with memory %v is left, without %v", with.totalG[0], without.totalG[0])
	}
}
