package forecast

import (
	"math"
	"testing"

	"wintertop/canopy"
)

// The mean of n plants with an SD of the logarithm s lies, nine times in ten,
// within exp(±1.645 s/√n) of what was weighed (normal table, 5 % and 95 %).
func TestANoteLeavesDoubt(t *testing.T) {
	stand := canopy.Standard()
	low, high := Note{Trait: LeafMass, Value: 20, Plants: 9}.bounds(Standard(), stand)
	off := math.Exp(1.645 * stand.MassLnSD / 3)
	if math.Abs(low-20/off) > 0.01 || math.Abs(high-20*off) > 0.01 {
		t.Errorf("20 g of nine plants: %v to %v, want %v to %v", low, high, 20/off, 20*off)
	}
	for _, n := range []Note{
		{Trait: LeafMass, Plants: 10}, {Trait: TopHeight, Value: 35, Plants: 20}, {Trait: TopLength, Value: 41, Plants: 1},
		{Trait: GroundCover, Value: 0}, {Trait: GroundCover, Value: 0.6}, {Trait: GroundCover, Value: 1},
		{Trait: WeedCover, Value: 0}, {Trait: WeedCover, Value: 0.3}, {Trait: WeedCover, Value: 1},
	} {
		low, high := n.bounds(Standard(), stand)
		if !(low <= n.Value && n.Value <= high) || low < 0 || n.Trait == WeedCover && high > 1 || n.Trait == GroundCover && high > 1 {
			t.Errorf("%s %v: %v to %v", n.Trait, n.Value, low, high)
		}
	}
	if low, high := (Note{Trait: LiveLeaves, Value: 8, Plants: 10}).bounds(Standard(), stand); !math.IsNaN(low) || !math.IsNaN(high) {
		t.Errorf("live leaves: %v to %v", low, high)
	}
}
