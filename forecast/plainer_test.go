package forecast

import (
	"math"
	"testing"
)

// Two ways and two winters by hand. The first way alone takes 1/0.985 m², with a
// little of the second 1.00745: the first alone is plainer and costs 0.8 % more.
// Where it gives 0.98 in the second winter it would cost 1.04 % more, and the
// small plot stays.
func TestPlainerPlans(t *testing.T) {
	for _, c := range []struct{ second, first, small float64 }{
		{0.985, 1 / 0.985, 0},
		{0.98, 1 - 0.5*0.02/1.01, 0.02 / 1.01},
	} {
		s := &supply{most: []float64{math.Inf(1)}, gives: [][][]float64{{{1, c.second}, {0.5, 1.5}}}}
		plan := s.plainer(s.least(0))
		if got := plan.areaM2[0]; math.Abs(got[0]-c.first) > 1e-9 || math.Abs(got[1]-c.small) > 1e-9 || math.Abs(plan.total-c.first-c.small) > 1e-9 {
			t.Errorf("second winter %g: %v, %g m² in all; want %g and %g", c.second, got, plan.total, c.first, c.small)
		}
		for w, met := range s.met(plan) {
			if !met {
				t.Errorf("second winter %g: winter %d is not supplied", c.second, w)
			}
		}
	}
}
