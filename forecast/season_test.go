package forecast

import (
	"slices"
	"testing"
)

// With so many winters that a season leaves some out, the pick's leaf mass on
// the window's last day is still the season's.
func TestManyWintersGivePickAndSeasonOneLeafMass(t *testing.T) {
	needsLong(t)
	trial, asOf := bigTrial(2)
	l := learn(t, trial)
	goal := goalOf(t, asOf.String())
	looks, _, err := Look(t.Context(), trial, l, goal)
	if err != nil {
		t.Fatal(err)
	}
	o := looks[0]
	if o.Season.Traces < 2*seasonCourses {
		t.Fatalf("%d winters: none is left out", o.Season.Traces)
	}
	for _, p := range o.Season.Plantings {
		at := slices.IndexFunc(o.Picks.Rows, func(r Pick) bool { return r.Planting == p.Planting })
		for _, d := range p.Days {
			if end := o.Picks.Rows[at].LeafEndG; d.Date == goal.To && d.LeafG != end {
				t.Errorf("%s: %g g in the season, %g in the pick", p.Planting, d.LeafG, end)
			}
		}
	}
}
