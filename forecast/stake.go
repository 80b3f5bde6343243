package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// lengthPoints is the number of equally likely top lengths that stand for the
// lengths of a line at one grid node.
const lengthPoints = 3

// stake is one line's weighting of the grid in one season, laid out for
// adding up: nodes that carry next to nothing are left out.
type stake struct {
	nodes  []int     // grid nodes in use, ascending
	weight []float64 // of each node in use; sums to 1
	core   []int     // positions in nodes of those that carry all but coreLeft
	hard   []float64 // gridHards: weight of each hardiness

	// Per node in use, given the node:
	lengthLn []float64 // lengthPoints values of ln cm, equally likely
	lengthCM []float64 // the same in cm
	above    []float64 // gridLengths+1: chance that ln length is above the lower edge of each step
	byLength []run     // weights by step of ln length; they sum to the node's weight
	byShare  []float64 // shareLengths: weights of the lengths that shares are worked out at

	edgeLn, stepLn float64 // lower edge of the first step of ln length, and its width
}

// neglected is the weight that may be left out of a stake: no probability
// moves by more.
const neglected = 1e-4

// coreLeft is the weight that quantiles do without: a 5 % point moves by less
// than half a percent of the weight.
const coreLeft = 5e-3

func (g *Grid) stakeOf(w weights) stake {
	step := g.LengthLn[1] - g.LengthLn[0]
	s := stake{edgeLn: g.LengthLn[0] - step/2, stepLn: step, hard: make([]float64, gridHards)}
	mass := make([]float64, gridNodes)
	for n := range mass {
		for _, x := range w[n*gridLengths:][:gridLengths] {
			mass[n] += x
		}
		s.hard[n%gridHards] += mass[n]
	}
	order := make([]int, gridNodes)
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case mass[a] > mass[b]:
			return -1
		case mass[a] < mass[b]:
			return 1
		}
		return 0
	})
	kept := 0.0
	for i, n := range order {
		kept += mass[n]
		if kept >= 1-neglected {
			s.nodes = slices.Clone(order[:i+1])
			break
		}
	}
	slices.Sort(s.nodes)
	least := leastOf(order, mass, 1-coreLeft)
	for i, n := range s.nodes {
		s.weight = append(s.weight, mass[n]/kept)
		if mass[n] >= least {
			s.core = append(s.core, i)
		}
		above := make([]float64, gridLengths+1)
		for k := gridLengths - 1; k >= 0; k-- {
			above[k] = above[k+1] + w[n*gridLengths+k]/mass[n]
		}
		s.above = append(s.above, above...)
		lengths := slices.Clone(w[n*gridLengths:][:gridLengths])
		for k := range lengths {
			lengths[k] /= kept
		}
		s.byLength = append(s.byLength, trimmed(lengths))
		s.byShare = append(s.byShare, thinned(lengths)...)
		for q := range lengthPoints {
			ln := s.lengthAt(above, 1-(float64(q)+0.5)/lengthPoints)
			s.lengthLn, s.lengthCM = append(s.lengthLn, ln), append(s.lengthCM, math.Exp(ln))
		}
	}
	return s
}

// everySecondHardiness gives the nodes that carry all but coreLeft, those of
// every second hardiness between shared out to their neighbours: enough for
// medians, bounds and scores. A step of half a degree is small beside the 1.1 °C
// over which frost kills.
func (s *stake) everySecondHardiness() stake {
	weight := make([]float64, gridNodes)
	length, above := make([]float64, gridNodes*lengthPoints), make([]float64, gridNodes*(gridLengths+1))
	share := func(node, i int, w float64) {
		weight[node] += w
		floats.AddScaled(length[node*lengthPoints:][:lengthPoints], w, s.lengths(i))
		floats.AddScaled(above[node*(gridLengths+1):][:gridLengths+1], w, s.above[i*(gridLengths+1):][:gridLengths+1])
	}
	total := 0.0
	for _, i := range s.core {
		node, w := s.nodes[i], s.weight[i]
		total += w
		if node%gridHards%2 == 0 { // gridHards is odd: both ends stay
			share(node, i, w)
		} else {
			share(node-1, i, w/2)
			share(node+1, i, w/2)
		}
	}
	half := stake{hard: s.hard, edgeLn: s.edgeLn, stepLn: s.stepLn}
	for node, w := range weight {
		if w == 0 {
			continue
		}
		half.nodes, half.weight = append(half.nodes, node), append(half.weight, w/total)
		for _, sum := range length[node*lengthPoints:][:lengthPoints] {
			half.lengthLn, half.lengthCM = append(half.lengthLn, sum/w), append(half.lengthCM, math.Exp(sum/w))
		}
		for _, sum := range above[node*(gridLengths+1):][:gridLengths+1] {
			half.above = append(half.above, sum/w)
		}
	}
	return half
}

// run is a stretch of weights by step of ln length, nothing beyond it.
type run struct {
	from   int
	weight []float64
}

// trimmed drops weights at both ends that no printed digit shows.
func trimmed(w []float64) run {
	total := 0.0
	for _, x := range w {
		total += x
	}
	from, to := 0, len(w)
	for from < to && w[from] <= unseen*total {
		from++
	}
	for from < to && w[to-1] <= unseen*total {
		to--
	}
	return run{from, w[from:to:to]}
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

// lengthAt gives the ln length above which the chance is p.
func (s *stake) lengthAt(above []float64, p float64) float64 {
	for k := range gridLengths {
		if above[k+1] <= p {
			part := 0.0
			if above[k] > above[k+1] {
				part = (above[k] - p) / (above[k] - above[k+1])
			}
			return s.edgeLn + s.stepLn*(float64(k)+max(0, part))
		}
	}
	return s.edgeLn + s.stepLn*gridLengths
}

// longer gives the chance, at the i-th node in use, that the line's ln length
// is at least x: within a step of the grid the lengths are spread evenly.
func (s *stake) longer(i int, x float64) float64 {
	above := s.above[i*(gridLengths+1):][:gridLengths+1]
	at := (x - s.edgeLn) / s.stepLn
	switch {
	case at <= 0:
		return 1
	case !(at < gridLengths):
		return 0
	}
	k := int(at)
	part := at - float64(k)
	return (1-part)*above[k] + part*above[k+1]
}

// lengths gives the equally likely values of ln length at the i-th node in use.
func (s *stake) lengths(i int) []float64 {
	return s.lengthLn[i*lengthPoints:][:lengthPoints]
}

// lnOrLow is the logarithm, far below anything that matters for 0.
func lnOrLow(x float64) float64 {
	if x > 0 {
		return math.Log(x)
	}
	return -1e9
}
