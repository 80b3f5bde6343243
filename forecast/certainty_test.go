package forecast

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// everySubset finds the least area over all ways to choose the winters kept.
func everySubset(s *supply, giveUp int) float64 {
	s.compare()
	n := len(s.gives[0][0])
	best := math.Inf(1)
	for set := range 1 << n {
		if n-bits.OnesCount(uint(set)) > giveUp {
			continue
		}
		kept := make([]bool, n)
		for w := range kept {
			kept[w] = set>>w&1 == 1
		}
		if plan := s.serve(kept); plan.ok {
			best = min(best, plan.total)
		}
	}
	return best
}

func TestWintersGivenUpAreTheBestToGiveUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		periods, ways, winters := rapid.IntRange(1, 3).Draw(t, "periods"), rapid.IntRange(1, 3).Draw(t, "ways"), rapid.IntRange(1, 6).Draw(t, "winters")
		s := &supply{}
		for range periods {
			s.gives = append(s.gives, shares(ways, winters).Draw(t, "gives"))
			s.most = append(s.most, rapid.SampledFrom([]float64{math.Inf(1), 3, 10}).Draw(t, "most"))
		}
		giveUp := rapid.IntRange(0, winters-1).Draw(t, "giveUp")
		want := everySubset(s, giveUp)
		plan := s.least(giveUp)
		if plan.ok != !math.IsInf(want, 1) {
			t.Fatalf("ok %v where every subset says %v", plan.ok, want)
		}
		if !plan.ok {
			return
		}
		if plan.total < want*(1-1e-9) || plan.total*nearEnough > want*(1+1e-9) || plan.bound > want*(1+1e-9) || plan.bound < plan.total*nearEnough*(1-1e-9) {
			t.Errorf("total %v, bound %v, want %v", plan.total, plan.bound, want)
		}
		met := 0
		for _, is := range s.met(plan) {
			if is {
				met++
			}
		}
		if met < winters-giveUp {
			t.Errorf("%d of %d winters served, %d given up", met, winters, giveUp)
		}
	})
}

// Six ways, forty winters, six weeks: what a plan leaves unlooked-at bounds it,
// and the bound never lies above.
func TestManyWintersAreBounded(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	s := &supply{}
	harsh := make([]float64, 40)
	for w := range harsh {
		harsh[w] = rng.Float64()
	}
	for range 6 {
		ways := make([][]float64, 6)
		for j := range ways {
			for w := range harsh {
				ways[j] = append(ways[j], max(0.02, 1-harsh[w]*(0.5+0.1*float64(j))-0.2*rng.Float64()))
			}
		}
		s.gives, s.most = append(s.gives, ways), append(s.most, math.Inf(1))
	}
	before := 0.0
	for _, giveUp := range []int{20, 8, 4, 0} {
		plan := s.least(giveUp)
		if !plan.ok || plan.bound > plan.total || plan.bound < 0.8*plan.total {
			t.Errorf("%d given up: total %.3f, bound %.3f", giveUp, plan.total, plan.bound)
		}
		if plan.total < before {
			t.Errorf("%d given up costs %v, less than with more given up", giveUp, plan.total)
		}
		before = plan.total
		t.Logf("%d given up: %.3f m², gap %.4f", giveUp, plan.total, (plan.total-plan.bound)/plan.total)
	}
}

// A plan as tight as its winters allow misses the next with the chance
// (g + 1)/(n + 1), the rank of a draw among n others; so of 9 winters one may be
// given up for 8 in 10, of 4 none, and of 3 not even none is enough; of 32 it is
// 5.6, which is twenty-eight fifths.
func TestMayGiveUp(t *testing.T) {
	for _, c := range []struct {
		winters int
		wanted  float64
		giveUp  int
		enough  bool
	}{{9, 0.8, 5, true}, {4, 0.8, 0, true}, {3, 0.8, 0, false}, {32, 0.8, 28, true}, {19, 0.9, 5, true}, {8, 0.9, 0, false}, {19, 0.5, 45, true}} {
		giveUp, enough := mayGiveUp(c.winters, c.wanted)
		if giveUp != c.giveUp || enough != c.enough {
			t.Errorf("%+v: %d, %v", c, giveUp, enough)
		}
	}
}
