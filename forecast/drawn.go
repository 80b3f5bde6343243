package forecast

import (
	"math"

	"wintertop/canopy"
)

// drawn is the part of the grid that some rows need, and the draws that the
// canopy is run on for it.
type drawn struct {
	grid  *Grid
	at    []int // draws to run, ascending, among the grid's
	nodes []int // ascending
	// Of each node: the draws of the sizes below and above it, by their position
	// in at; the same where the canopy runs on its own size.
	lower, upper []int
}

// drawnFor gives what some rows need, which may be nil: the nodes of their
// cores, or all nodes in use.
func (g *Grid) drawnFor(rows []*row, core bool) drawn {
	wanted := make([]bool, gridNodes)
	for _, r := range rows {
		if r == nil {
			continue
		}
		nodes := r.stake.nodes
		if core {
			nodes = r.stake.coreNodes()
		}
		for _, node := range nodes {
			wanted[node] = true
		}
	}
	return g.drawn(wanted)
}

func (g *Grid) drawn(wanted []bool) drawn {
	d := drawn{grid: g}
	around := func(node int) (lower, upper int) {
		size, hard := node/gridHards, node%gridHards
		return size/2*gridHards + hard, (size+1)/2*gridHards + hard
	}
	needed, position := make([]bool, len(g.draws)), make([]int, len(g.draws))
	for node, is := range wanted {
		if is {
			lower, upper := around(node)
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
		lower, upper := around(node)
		d.lower, d.upper = append(d.lower, position[lower]), append(d.upper, position[upper])
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

// refine carries a quantity from the draws that were run to their nodes among
// the gridNodes of dst, as Grid.refine does for all.
func (d drawn) refine(dst, run []float64) {
	for k, node := range d.nodes {
		dst[node] = 0.5 * (run[d.lower[k]] + run[d.upper[k]])
	}
}

// refineLog is refine on the scale ln(x + offset).
func (d drawn) refineLog(dst, run []float64, offset float64) {
	for k, node := range d.nodes {
		lower, upper := d.lower[k], d.upper[k]
		if lower == upper {
			dst[node] = run[lower]
			continue
		}
		dst[node] = max(0, math.Sqrt((run[lower]+offset)*(run[upper]+offset))-offset)
	}
}
