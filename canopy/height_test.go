package canopy

import (
	"math"
	"testing"
)

func TestHeight(t *testing.T) {
	s := Sow(made, []Traits{{2, -9}}, Standard())
	set := func(leaves ...float64) {
		s.leaves.oldest, s.leaves.next = 0, len(leaves)
		for j, mass := range leaves {
			s.row(s.massG, j)[0] = mass
			s.largestG[0] = max(s.largestG[0], mass) // as expand has it
		}
		s.tally()
	}
	set()
	near(t, "no leaf", s.RelativeHeight(nil)[0], 0, 0)
	set(0.15, 0.15, 0.15, 0)
	near(t, "small leaves are short: divisor 0.3 × top size", s.RelativeHeight(nil)[0], math.Sqrt(0.15/0.6), 1e-15)
	set(0.2, 0.8, 0.4, 0.1, 0.6)
	near(t, "three largest", s.RelativeHeight(nil)[0], (1+math.Sqrt(0.6/0.8)+math.Sqrt(0.4/0.8))/3, 1e-15)
	near(t, "sum", s.LeafG(nil)[0], 2.1, 1e-15)
	set(0, 0.2, 0)
	near(t, "missing leaves count 0, the largest ever stays", s.RelativeHeight(nil)[0], math.Sqrt(0.2/0.8)/3, 1e-15)
	set(0.8, 0.8, 0.8, 0.8)
	near(t, "full", s.RelativeHeight(nil)[0], 1, 1e-15)
	set(0, 0, 0, 0)
	near(t, "all lost", s.RelativeHeight(nil)[0], 0, 0)
}
