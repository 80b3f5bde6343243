package forecast

import (
	"math"
	"slices"
)

// supply is the question of which area to sow: some ways to sow, periods to
// supply, and past winters, each as likely as the others.
type supply struct {
	// gives holds, per period, way and winter, the share of what is wanted in the
	// period that 1 m² set apart for it gives.
	gives [][][]float64
	most  []float64 // m² that can be lifted in each period; +Inf where nothing limits it

	// What every question of giving up winters shares, worked out at the first.
	useful [][]int // per period, the ways that give more than any other in some winter
	harder [][]int // per winter, those in which no way gives more in any period
}

// areaPlan is an area per period and way that supplies every period in the
// winters kept.
type areaPlan struct {
	areaM2 [][]float64 // per period and way
	total  float64
	bound  float64 // a total that no plan can do without which gives up as many winters
	ok     bool    // false where no area does it; then nothing else is set
}

// mostNodes is how many choices of winters to give up are looked at before
// what is left is bounded instead; ten times as many where none does it so far.
const mostNodes = 400

// nearEnough is the share of the best area found so far from which on a choice
// is not followed: what it could save is less than a drill is set to.
const nearEnough = 0.998

// choice is a set of winters kept, of winters given up, and the rest.
type choice struct {
	kept, given []bool
	left        int     // winters that may yet be given up
	bound       float64 // of the choice it came from
}

// least gives the least area that supplies every period in all winters but
// giveUp of them, whichever they are: branch and bound over the winters. A
// winter may be given up in which some way gives less only if every harder one
// is too, since a plan that serves the harder one serves it. What remains
// unlooked-at bounds the answer.
func (s *supply) least(giveUp int) areaPlan {
	best := areaPlan{total: math.Inf(1)}
	if s.harder == nil {
		s.compare()
	}
	alone := s.alone()
	n := len(alone)
	root := choice{kept: make([]bool, n), given: make([]bool, n), left: giveUp}
	for w, m2 := range alone {
		if math.IsInf(m2, 1) {
			root.given[w] = true
			root.left--
		}
	}
	if root.left < 0 {
		return areaPlan{}
	}
	open := []choice{root}
	lowest := math.Inf(1) // bound of the choices that were followed to their end or left there
	for node := 0; len(open) > 0 && (node < mostNodes || math.IsInf(best.total, 1) && node < 10*mostNodes); node++ {
		c := open[len(open)-1]
		open = open[:len(open)-1]
		if c.bound >= best.total*nearEnough {
			lowest = min(lowest, c.bound)
			continue
		}
		for {
			plan := s.serve(c.kept)
			if !plan.ok {
				break
			}
			c.bound = max(c.bound, plan.bound, quantileOf(alone, c))
			if c.bound >= best.total*nearEnough {
				lowest = min(lowest, c.bound)
				break
			}
			short := s.short(plan, c)
			if len(short) <= c.left {
				best, lowest = plan, min(lowest, c.bound)
				break
			}
			if c.left == 0 {
				for _, w := range short {
					c.kept[w] = true
				}
				continue
			}
			at := short[0]
			for _, w := range short {
				if alone[w] > alone[at] {
					at = w
				}
			}
			keep := choice{slices.Clone(c.kept), slices.Clone(c.given), c.left, c.bound}
			keep.kept[at] = true
			open = append(open, keep)
			c.given[at] = true
			c.left--
			possible := true
			for _, w := range s.harder[at] {
				possible = possible && !c.kept[w]
				if !c.given[w] {
					c.given[w] = true
					c.left--
				}
			}
			if possible && c.left >= 0 {
				open = append(open, c)
			}
			break
		}
	}
	if math.IsInf(best.total, 1) {
		return areaPlan{}
	}
	best.bound = min(lowest, best.total)
	for _, c := range open {
		best.bound = min(best.bound, c.bound)
	}
	return best
}

// alone gives the least area that supplies every period in one winter, +Inf
// where none does.
func (s *supply) alone() []float64 {
	all := make([]float64, len(s.gives[0][0]))
	for _, ways := range s.gives {
		for w := range all {
			most := 0.0
			for _, of := range ways {
				most = max(most, of[w])
			}
			all[w] += 1 / most
		}
	}
	return all
}

// compare works out which ways are of use and which winters are harder than
// others.
func (s *supply) compare() {
	s.useful = nil
	for _, ways := range s.gives {
		s.useful = append(s.useful, usefulOf(ways, numbers(len(ways[0]))))
	}
	n := len(s.gives[0][0])
	s.harder = make([][]int, n)
	for a := range n {
		for b := range n {
			if a != b && s.noMore(b, a) && (!s.noMore(a, b) || b < a) {
				s.harder[a] = append(s.harder[a], b)
			}
		}
	}
}

// noMore says whether no way gives more in one winter than in another.
func (s *supply) noMore(one, other int) bool {
	for k, ways := range s.gives {
		for _, j := range s.useful[k] {
			if ways[j][one] > ways[j][other] {
				return false
			}
		}
	}
	return true
}

// quantileOf bounds the area by single winters: of the undecided ones all but
// so many must be served, so the next hardest among them.
func quantileOf(alone []float64, c choice) float64 {
	var undecided []float64
	bound := 0.0
	for w, m2 := range alone {
		switch {
		case c.kept[w]:
			bound = max(bound, m2)
		case !c.given[w]:
			undecided = append(undecided, m2)
		}
	}
	if c.left < len(undecided) {
		slices.Sort(undecided)
		bound = max(bound, undecided[len(undecided)-1-c.left])
	}
	return bound
}

// serve gives the least area that supplies every period in some winters.
func (s *supply) serve(kept []bool) areaPlan {
	plan := areaPlan{ok: true}
	var served []int
	for w, is := range kept {
		if is {
			served = append(served, w)
		}
	}
	for k, ways := range s.gives {
		wanted := make([][]float64, len(s.useful[k]))
		for i, j := range s.useful[k] {
			for _, w := range served {
				wanted[i] = append(wanted[i], ways[j][w])
			}
		}
		few, bound, ok := leastArea(wanted)
		if !ok || bound > s.most[k] {
			return areaPlan{}
		}
		areaM2 := make([]float64, len(ways))
		for i, j := range s.useful[k] {
			areaM2[j] = few[i]
		}
		plan.areaM2 = append(plan.areaM2, areaM2)
		for _, m2 := range areaM2 {
			plan.total += m2
		}
		plan.bound += bound
	}
	return plan
}

// enough is the share of what is wanted at which a period counts as supplied:
// the rest is rounding.
const enough = 1 - 1e-9

// short gives the undecided winters in which a plan leaves a period short.
func (s *supply) short(plan areaPlan, c choice) []int {
	var short []int
	for w, is := range s.met(plan) {
		if !is && !c.kept[w] && !c.given[w] {
			short = append(short, w)
		}
	}
	return short
}

// met says for each winter whether a plan supplies every period in it.
func (s *supply) met(plan areaPlan) []bool {
	met := make([]bool, len(s.gives[0][0]))
	for w := range met {
		met[w] = true
		for k := range s.gives {
			met[w] = met[w] && s.share(plan, k, w) >= enough
		}
	}
	return met
}

// share gives the share of what is wanted in a period that a plan gives in a
// winter.
func (s *supply) share(plan areaPlan, period, winter int) float64 {
	got := 0.0
	for j, m2 := range plan.areaM2[period] {
		if m2 > 0 {
			got += m2 * s.gives[period][j][winter]
		}
	}
	return got
}

// mayGiveUp gives how many courses a plan may give up, of so many winters played
// with their fifths, so that winters to come are supplied with the wanted chance. A plan drawn as tight as
// the winters it keeps allow holds by chance in fewer to come: of n winters as
// likely as each other, one that gives up g of them misses the next with the
// chance (g + 1)/(n + 1). enough is false where even keeping all of them is not
// worth the chance.
func mayGiveUp(winters int, wanted float64) (giveUp int, isEnough bool) {
	may := (1-wanted)*float64(winters+1) - 1 + 1e-9
	return max(0, int(math.Floor(may*fifths))), may >= 0
}
