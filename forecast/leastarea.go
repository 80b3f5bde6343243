package forecast

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// leastArea gives the least total area, m², over some ways to sow that supplies
// a period in each of some winters: gives[way][winter] is the share of what is
// wanted in the period that 1 m² gives. bound is a total that no area can do
// without: it comes of the dual programme and does not rest on the area's own.
// ok is false where some winter gets nothing of any.
//
// Both programmes are solved by the simplex method from a corner that is known
// (a single way that serves all winters; nothing at all in the dual) and put
// right afterwards, the area by what it falls short, the dual by what it is
// over. So both hold whatever the method's rounding, and their difference shows
// how far it was off.
func leastArea(gives [][]float64) (areaM2 []float64, bound float64, ok bool) {
	areaM2 = make([]float64, len(gives))
	ways, winters := undominated(gives)
	if len(winters) == 0 {
		return areaM2, 0, true
	}
	most := make([]float64, len(winters)) // that 1 m² of any way gives
	scale := 0.0
	for s, w := range winters {
		for _, j := range ways {
			most[s] = max(most[s], gives[j][w])
		}
		if most[s] == 0 {
			return nil, math.Inf(1), false
		}
		scale = max(scale, most[s])
	}
	g := mat.NewDense(len(ways), len(winters), nil)
	for i, j := range ways {
		for s, w := range winters {
			g.Set(i, s, gives[j][w]/scale)
		}
	}
	for i, x := range fewest(g) {
		areaM2[ways[i]] = x / scale
	}
	bound = priced(g) / scale
	for _, x := range most {
		bound = max(bound, 1/x)
	}
	return areaM2, bound, true
}

// undominated leaves out the winters in which every way gives as much as in
// another one, and the ways that give no more in any winter than another.
func undominated(gives [][]float64) (ways, winters []int) {
	if len(gives) == 0 {
		return nil, nil
	}
	all := len(gives[0])
	for s := range all {
		easier := func(t int) bool { // s asks for no more than t
			equal := true
			for _, of := range gives {
				if of[s] < of[t] {
					return false
				}
				equal = equal && of[s] == of[t]
			}
			return !equal || t < s
		}
		if !slices.ContainsFunc(numbers(all), func(t int) bool { return t != s && easier(t) }) {
			winters = append(winters, s)
		}
	}
	return usefulOf(gives, winters), winters
}

// usefulOf leaves out the ways that give no more than another in any of some
// winters.
func usefulOf(gives [][]float64, winters []int) (ways []int) {
	for j := range gives {
		worse := func(k int) bool {
			equal := true
			for _, s := range winters {
				if gives[j][s] > gives[k][s] {
					return false
				}
				equal = equal && gives[j][s] == gives[k][s]
			}
			return !equal || k < j
		}
		if !slices.ContainsFunc(numbers(len(gives)), func(k int) bool { return k != j && worse(k) }) {
			ways = append(ways, j)
		}
	}
	return ways
}

func numbers(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// fewest gives areas with the least sum of which each winter gets at least 1;
// g holds what each way (rows) gives in each winter (columns), no column all 0.
func fewest(g *mat.Dense) []float64 {
	ways, winters := g.Dims()
	best, bestLeast, hardest := 0, -1.0, 0
	for j := range ways {
		least, at := math.Inf(1), 0
		for s := range winters {
			if x := g.At(j, s); x < least {
				least, at = x, s
			}
		}
		if least > bestLeast {
			best, bestLeast, hardest = j, least, at
		}
	}
	area := make([]float64, ways)
	if bestLeast > 0 {
		area[best] = 1 / bestLeast
	} else { // for each winter the way that gives most then
		for s := range winters {
			at := 0
			for j := range ways {
				if g.At(j, s) > g.At(at, s) {
					at = j
				}
			}
			area[at] += 1 / g.At(at, s)
		}
	}
	if ways == 1 {
		return area
	}
	// One row a winter: what the ways give, less what is too much, is 1.
	rows := mat.NewDense(winters, ways+winters, nil)
	cost, one := make([]float64, ways+winters), make([]float64, winters)
	for s := range winters {
		one[s] = 1
		for j := range ways {
			cost[j] = 1
			rows.Set(s, j, g.At(j, s))
		}
		rows.Set(s, ways+s, -1)
	}
	var corner []int
	if bestLeast > 0 {
		corner = append(corner, best)
		for s := range winters {
			if s != hardest {
				corner = append(corner, ways+s)
			}
		}
	}
	x, err := simplex(cost, rows, one, corner)
	if err != nil {
		return area
	}
	least := math.Inf(1)
	for s := range winters {
		got := 0.0
		for j := range ways {
			got += g.At(j, s) * max(0, x[j])
		}
		least = min(least, got)
	}
	found, sum, before := make([]float64, ways), 0.0, 0.0
	for j := range ways {
		found[j] = max(0, x[j]) / least
		sum, before = sum+found[j], before+area[j]
	}
	if sum <= before {
		return found
	}
	return area
}

// priced gives the most that prices on the winters can come to where no way
// earns more than 1 per m²: no area with which each winter gets 1 is less.
func priced(g *mat.Dense) float64 {
	ways, winters := g.Dims()
	rows := mat.NewDense(ways, winters+ways, nil)
	cost, one, corner := make([]float64, winters+ways), make([]float64, ways), make([]int, ways)
	for j := range ways {
		one[j], corner[j] = 1, winters+j
		rows.Set(j, winters+j, 1)
		for s := range winters {
			cost[s] = -1
			rows.Set(j, s, g.At(j, s))
		}
	}
	x, err := simplex(cost, rows, one, corner)
	if err != nil {
		return 0
	}
	sum, most := 0.0, 0.0
	for s := range winters {
		sum += max(0, x[s])
	}
	for j := range ways {
		earned := 0.0
		for s := range winters {
			earned += g.At(j, s) * max(0, x[s])
		}
		most = max(most, earned)
	}
	if !(most > 0) {
		return 0
	}
	return sum / most
}

// simplexNearest is how near to the best the simplex method stops, in the
// reduced costs of a programme whose costs are 1.
const simplexNearest = 1e-10

// simplex minimises cost·x with rows·x = right and x ≥ 0 from a known corner.
// The method panics on a corner that its rounding takes for none: that too is
// an error here.
func simplex(cost []float64, rows *mat.Dense, right []float64, corner []int) (x []float64, err error) {
	defer func() {
		if bug := recover(); bug != nil {
			err = fmt.Errorf("simplex: %v", bug)
		}
	}()
	_, x, err = lp.Simplex(cost, rows, right, simplexNearest, corner)
	if err == nil && slices.ContainsFunc(x, func(v float64) bool { return !(math.Abs(v) < math.MaxFloat64) }) {
		err = errors.New("simplex: no number")
	}
	return x, err
}
