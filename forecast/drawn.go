package forecast

import (
	"math"
	"slices"

	"wintertop/canopy"
)

// drawn is the part of the grid that some rows need, and the draws that the
// canopy is run on for it.
type drawn struct {
	grid   *Grid
	at     []int    // draws to run, ascending, among the grid's
	nodes  []int    // ascending
	place  []int    // of each node of the grid among them, -1 for one that is not needed
	beside []beside // of each node
}

// beside says where a node's size lies between those that the canopy runs on:
// the positions of the draws below and above in drawn.at, and which part of
// the way to the one above; none where the canopy runs on its own.
type beside struct {
	lower, upper int32
	part         float64
}

// whole is all of the grid.
func (g *Grid) whole() drawn { return g.drawn(slices.Repeat([]bool{true}, gridNodes)) }

// drawnFor gives what some stakes need: the nodes of their cores, or all nodes in
// use.
func (g *Grid) drawnFor(stakes []*stake, core bool) drawn {
	wanted := make([]bool, gridNodes)
	for _, s := range stakes {
		nodes := s.nodes
		if core {
			nodes = s.coreNodes()
		}
		for _, node := range nodes {
			wanted[node] = true
		}
	}
	return g.drawn(wanted)
}

func (g *Grid) drawn(wanted []bool) drawn {
	d := drawn{grid: g, place: make([]int, gridNodes)}
	sizes := func(node int) (lower, upper, steps int) {
		size, hard := node/gridHards, node%gridHards
		lower = size/sizesApart*gridHards + hard
		if steps = size % sizesApart; steps == 0 {
			return lower, lower, 0
		}
		return lower, lower + gridHards, steps
	}
	needed, position := make([]bool, len(g.draws)), make([]int, len(g.draws))
	for node, is := range wanted {
		d.place[node] = -1
		if is {
			d.place[node] = len(d.nodes)
			lower, upper, _ := sizes(node)
			d.nodes, needed[lower], needed[upper] = append(d.nodes, node), true, true
		}
	}
	for at, is := range needed {
		if is {
			position[at] = len(d.at)
			d.at = append(d.at, at)
		}
	}
	for _, node := range d.nodes {
		lower, upper, steps := sizes(node)
		d.beside = append(d.beside, beside{int32(position[lower]), int32(position[upper]), float64(steps) / sizesApart})
	}
	return d
}

func (d drawn) traits() []canopy.Traits {
	traits := make([]canopy.Traits, len(d.at))
	for i, at := range d.at {
		traits[i] = d.grid.draws[at]
	}
	return traits
}

// refine carries a quantity from the draws that were run to the nodes, one value
// each: straight from size to size.
func (d drawn) refine(dst, run []float64) {
	for k, b := range d.beside {
		dst[k] = run[b.lower] + b.part*(run[b.upper]-run[b.lower])
	}
}

// refineLog is refine on the scale ln(x + offset), on which predictions are
// nearly straight in ln size.
func (d drawn) refineLog(dst, run []float64, offset float64) {
	for k, b := range d.beside {
		if b.part == 0 {
			dst[k] = run[b.lower]
			continue
		}
		lower, upper := run[b.lower]+offset, run[b.upper]+offset
		x := math.Sqrt(lower * upper) // half way, and so on towards either
		switch b.part {
		case 0.25:
			x = math.Sqrt(lower * x)
		case 0.75:
			x = math.Sqrt(x * upper)
		}
		dst[k] = max(0, x-offset)
	}
}
