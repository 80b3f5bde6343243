package forecast

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat/distuv"
)

// lengthPoints is the number of equally likely top lengths that stand for the
// lengths of a line at one grid node.
const lengthPoints = 3

// lengthPoint are equally likely values that have the mean and the variance of a
// normal, SDs.
var lengthPoint = [lengthPoints]float64{-math.Sqrt(1.5), 0, math.Sqrt(1.5)}

// stake is one line's weighting of the grid in one season, laid out for
// adding up: nodes that carry next to nothing are left out.
type stake struct {
	nodes  []int     // grid nodes in use, ascending
	weight []float64 // of each node in use; sums to 1
	core   []int     // positions in nodes of those that carry all but coreLeft
	inCore []float64 // weight of each of them; sums to 1

	// Per node in use, given the node:
	lengthLn []float64 // mean of ln cm
	lengthSD []float64 // of the same
	byLength runs      // weights by step of ln length; they sum to the node's weight
	byShare  runs      // weights of the lengths that shares are worked out at

	edgeLn, stepLn float64 // lower edge of the first step of ln length, and its width
}

// neglected is the weight that may be left out of a stake: no probability
// moves by more.
const neglected = 1e-4

// coreLeft is the weight that quantiles do without: a 5 % point moves by less
// than half a percent of the weight.
const coreLeft = 5e-3

// stakeOf lays out a density over the grid, on every hardiness or, where it is
// wide, on every second or fourth. room is work space.
func (g *Grid) stakeOf(w density, room *lookRoom) stake {
	s := stake{edgeLn: g.LengthLn[0] - g.lengthStep()/2, stepLn: g.lengthStep()}
	mass, hard := w.byNode(), make([]float64, gridHards)
	for n, x := range mass {
		hard[n%gridHards] += x
	}
	every(apart(hard), mass)
	var order []int
	for n, x := range mass {
		if x > neglected*1e-6 {
			order = append(order, n)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(mass[b], mass[a]) })
	kept := 0.0
	for i, n := range order {
		kept += mass[n]
		if kept >= 1-neglected {
			s.nodes = slices.Clone(order[:i+1])
			break
		}
	}
	slices.Sort(s.nodes)
	least := leastOf(order, mass, 1-coreLeft) * (1 - rounding) // with those that are alike
	in := len(s.nodes)
	room.chances, room.thinned = resized(room.chances, in*gridLengths), resized(room.thinned, in*shareLengths)
	lengths, thin := room.chances, room.thinned
	s.weight, s.lengthLn, s.lengthSD = make([]float64, in), make([]float64, in), make([]float64, in)
	for i, n := range s.nodes {
		s.weight[i] = mass[n] / kept
		if mass[n] >= least {
			s.core, s.inCore = append(s.core, i), append(s.inCore, mass[n])
		}
		_, mean, variance := w.at(n)
		length := distuv.Normal{Mu: g.LengthLn[gridLengths/2] + mean, Sigma: math.Sqrt(variance)}
		own := lengths[i*gridLengths:][:gridLengths]
		s.chancesOf(own, length)
		floats.Scale(s.weight[i], own)
		thinned(thin[i*shareLengths:][:shareLengths], own)
		s.lengthLn[i], s.lengthSD[i] = length.Mu, length.Sigma
	}
	floats.Scale(1/floats.Sum(s.inCore), s.inCore)
	s.byLength, s.byShare = runsOf(lengths, gridLengths), runsOf(thin, shareLengths)
	return s
}

// coreNodes gives the grid nodes of the core.
func (s *stake) coreNodes() []int {
	nodes := make([]int, len(s.core))
	for k, i := range s.core {
		nodes[k] = s.nodes[i]
	}
	return nodes
}

// apart gives the step of hardiness that will do for a density, in steps of the
// grid: 1, 2 or 4, no longer than the SD. A sum over points of one bell so far
// apart differs from the integral by less than 1e-8 of it; of another form its
// mean and SD must stay within a hundredth of the SD. What counts winters in which
// a leaf more has fallen moves by up to 0.006.
func apart(hard []float64) int {
	at := func(step int) (mean, sd float64) {
		var x, weight []float64
		for h := gridHards / 2 % step; h < gridHards; h += step {
			x, weight = append(x, float64(h)), append(weight, hard[h])
		}
		floats.Scale(1/floats.Sum(weight), weight)
		return moments(x, weight)
	}
	mean, sd := at(1)
	step := 1
	for next := 2; next <= 4 && float64(next) <= sd; next *= 2 {
		if m, s := at(next); math.Abs(m-mean) > 0.01*sd || math.Abs(s-sd) > 0.01*sd {
			break
		}
		step = next
	}
	return step
}

// every leaves the mass at every so many hardinesses, that in the middle of the
// grid among them, and nothing between.
func every(step int, mass []float64) {
	left := 0.0
	for n := range mass {
		if (n%gridHards-gridHards/2)%step != 0 {
			mass[n] = 0
		}
		left += mass[n]
	}
	floats.Scale(1/left, mass)
}

// runs are stretches of weights by step of ln length, one per node, nothing that
// shows beyond each. They are most of what a line keeps while a winter is played.
// All are as wide as the widest, so that nothing branches where they are summed.
type runs struct {
	width  int
	from   []int32   // the first step of each
	weight []float32 // of all, one after the other
}

// beyond gives the stretch of w before and after which nothing is beyond so much.
func beyond(w []float64, much float64) (from, to int) {
	from, to = 0, len(w)
	for from < to && math.Abs(w[from]) <= much {
		from++
	}
	for from < to && math.Abs(w[to-1]) <= much {
		to--
	}
	return from, to
}

// runsOf gives the runs of weights of so many steps per node, without those at both
// ends that no printed digit shows.
func runsOf(w []float64, steps int) runs {
	r := runs{from: make([]int32, len(w)/steps)}
	for i := range r.from {
		own := w[i*steps:][:steps]
		from, to := beyond(own, unseen*floats.Sum(own))
		r.from[i], r.width = int32(from), max(r.width, to-from)
	}
	r.weight = make([]float32, 0, len(r.from)*r.width)
	for i, from := range r.from {
		r.from[i] = min(from, int32(steps-r.width))
		for _, x := range w[i*steps+int(r.from[i]):][:r.width] {
			r.weight = append(r.weight, float32(x))
		}
	}
	return r
}

// at gives the first step of the i-th stretch and its weights.
func (r *runs) at(i int) (from int, weight []float32) {
	return int(r.from[i]), r.weight[i*r.width:][:r.width]
}

// unseen is the part of a node's weight that each length left out may carry.
const unseen = 1e-6

// leastOf gives the mass of the last node, taken by falling mass, that is needed
// to gather the wanted share.
func leastOf(order []int, mass []float64, wanted float64) float64 {
	gathered := 0.0
	for _, n := range order {
		if gathered += mass[n]; gathered >= wanted {
			return mass[n]
		}
	}
	return 0
}

// chancesOf gives the chances of the steps of ln length, which sum to 1: 0 where one
// is less than any that is kept.
func (s *stake) chancesOf(chance []float64, length distuv.Normal) {
	step := func(sds float64) int {
		return min(max(int((length.Mu+sds*length.Sigma-s.edgeLn)/s.stepLn), 0), len(chance)-1)
	}
	first, last := step(-cutSD), step(cutSD)
	clear(chance)
	below := length.CDF(s.edgeLn + float64(first)*s.stepLn)
	for k := first; k <= last; k++ {
		upTo := length.CDF(s.edgeLn + float64(k+1)*s.stepLn)
		chance[k], below = upTo-below, upTo
	}
	floats.Scale(1/floats.Sum(chance), chance)
}

// tail is how the chance of a longer top falls with ln length at one node.
type tail struct {
	edgeLn, stepLn float64
	over           []float64 // chance of a length beyond each edge of its steps, the last 0
}

// tail lays out the chances of longer tops at the i-th node in use, in the room of
// an earlier tail.
func (s *stake) tail(i int, room tail) tail {
	from, own := s.byLength.at(i)
	t := tail{s.edgeLn + float64(from)*s.stepLn, s.stepLn, slices.Grow(room.over[:0], gridLengths+1)[:len(own)+1]}
	t.over[len(own)] = 0
	for k := len(own) - 1; k >= 0; k-- {
		t.over[k] = t.over[k+1] + float64(own[k])/s.weight[i]
	}
	return t
}

// longer gives the chance that the line's ln length is at least x: within a step of
// the grid the lengths are spread evenly.
func (t tail) longer(x float64) float64 {
	at := max(0, (x-t.edgeLn)/t.stepLn)
	if !(at < float64(len(t.over)-1)) {
		return 0
	}
	k := int(at)
	return t.over[k] + (at-float64(k))*(t.over[k+1]-t.over[k])
}

// pair gives the ln lengths an SD below and above the mean at the i-th node in
// use: two have the mean and the variance of all.
func (s *stake) pair(i int) [2]float64 {
	return [2]float64{s.lengthLn[i] - s.lengthSD[i], s.lengthLn[i] + s.lengthSD[i]}
}

// lengths gives the equally likely values of ln length at the i-th node in use.
func (s *stake) lengths(i int) (ln [lengthPoints]float64) {
	for q, z := range lengthPoint {
		ln[q] = s.lengthLn[i] + z*s.lengthSD[i]
	}
	return ln
}

// topLength is a top length, and its logarithm.
type topLength struct{ ln, cm float64 }

// coreLengths gives the lengths at the nodes of the core, one node's after the other.
func (s *stake) coreLengths() []topLength {
	all := make([]topLength, 0, lengthPoints*len(s.core))
	for _, i := range s.core {
		for _, ln := range s.lengths(i) {
			all = append(all, topLength{ln, math.Exp(ln)})
		}
	}
	return all
}

// lnOrLow is the logarithm, far below anything that matters for 0.
func lnOrLow(x float64) float64 {
	if x > 0 {
		return ln(x)
	}
	return -1e9
}
