package forecast

import "wintertop/canopy"

// drawn is the part of the grid's draws that the canopy is run on: those that
// the nodes in use of some rows need.
type drawn struct {
	grid *Grid
	at   []int // of each among the grid's draws, ascending
}

// drawnFor gives the draws that some rows need; rows may be nil.
func (g *Grid) drawnFor(rows []*row) drawn {
	needed := make([]bool, len(g.draws))
	for _, r := range rows {
		if r == nil {
			continue
		}
		for _, node := range r.stake.nodes {
			size, hard := node/gridHards, node%gridHards
			needed[size/2*gridHards+hard] = true
			needed[(size+1)/2*gridHards+hard] = true // the same where size is even
		}
	}
	return g.drawn(needed)
}

// withEveryHardiness adds a draw of each hardiness.
func (d drawn) withEveryHardiness() drawn {
	needed := make([]bool, len(d.grid.draws))
	for _, at := range d.at {
		needed[at] = true
	}
	for h := range gridHards {
		needed[h] = true
	}
	return d.grid.drawn(needed)
}

func (g *Grid) drawn(needed []bool) drawn {
	d := drawn{grid: g}
	for at, is := range needed {
		if is {
			d.at = append(d.at, at)
		}
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

// drawRoom is the work space of all.
type drawRoom struct{ few, whole []float64 }

func (d drawn) room() drawRoom {
	return drawRoom{make([]float64, len(d.at)), make([]float64, len(d.grid.draws))}
}

// all gives a quantity of a stand at its place among all the grid's draws, 0 at
// those that are not run, in the room's work space.
func (d drawn) all(room drawRoom, quantity func([]float64) []float64) []float64 {
	for i, x := range quantity(room.few) {
		room.whole[d.at[i]] = x
	}
	return room.whole
}
