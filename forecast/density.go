package forecast

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// density is a density of one line's traits, in general or in one season, over
// the nodes of the grid; at each node ln top length is normal. It holds
// moments3 numbers a node: the weight, and its products with mean and mean
// square of ln length less the grid's middle.
type density []float64

func newDensity() density { return make(density, moments3*gridNodes) }

// at gives the weight of a node, and mean and variance of ln length there; of
// one too faint to tell, no weight.
func (d density) at(node int) (weight, mean, variance float64) {
	x := d[node*moments3:][:moments3]
	if weight = x[0]; weight < faintest {
		return 0, 0, leastVariance
	}
	mean = x[1] / weight
	return weight, mean, max(x[2]/weight-mean*mean, leastVariance)
}

// leastVariance is that of lengths which differ by nothing the grid could show.
const leastVariance = 1e-6

func (d density) put(node int, weight, mean, variance float64) {
	x := d[node*moments3:][:moments3]
	x[0], x[1], x[2] = weight, weight*mean, weight*(mean*mean+variance)
}

// each calls do for every node with weight.
func (d density) each(do func(node int, weight, mean, variance float64)) {
	for node := range gridNodes {
		if weight, mean, variance := d.at(node); weight > 0 {
			do(node, weight, mean, variance)
		}
	}
}

// normalise makes the weights sum to 1. It panics where they sum to nothing.
func (d density) normalise() {
	total := 0.0
	for i := 0; i < len(d); i += moments3 {
		total += d[i]
	}
	if !(total > 0) {
		panic("forecast: a density without mass")
	}
	floats.Scale(1/total, d)
}

// gathered gives weights of cells, which sum to 1, as a density, in the room of
// another.
func (g *Grid) gathered(d density, cells []int32, weight []float64) density {
	clear(d)
	for i, c := range cells {
		u, x := g.aside[int(c)%gridLengths], d[int(c)/gridLengths*moments3:][:moments3]
		x[0] += weight[i]
		x[1] += weight[i] * u
		x[2] += weight[i] * u * u
	}
	return d
}

// posterior makes d the density in which a log likelihood, by node, and a prior come
// together within a patch, and gives the patch of the nodes that matter.
func (g *Grid) posterior(d density, log []parabola, prior traitPrior, in patch) patch {
	along, reach := g.alongLength(prior), g.reach()
	clear(d)
	in.nodes(func(node int) {
		p, x := log[node].plus(1, along(node)), d[node*moments3:][:moments3]
		mean := min(max(p.slope/p.bend, -reach), reach)
		x[0], x[1], x[2] = p.at(mean)-0.5*ln(p.bend), mean, 1/p.bend
	})
	d.fromLogs(in, margin)
	return d.support()
}

// fromLogs makes d, which holds the logarithm of a weight, mean and variance at each
// node of a patch, a density. Nodes whose logarithm is so far below the best hold
// nothing.
func (d density) fromLogs(in patch, below float64) {
	most := math.Inf(-1)
	in.nodes(func(node int) { most = max(most, d[node*moments3]) })
	in.nodes(func(node int) {
		x := d[node*moments3:][:moments3]
		if x[0]-most <= -below {
			clear(x)
			return
		}
		d.put(node, math.Exp(x[0]-most), x[1], x[2])
	})
	d.normalise()
}

// normal gives a prior as a density.
func (g *Grid) normal(prior traitPrior) density {
	d, along := newDensity(), g.alongLength(prior)
	for node := range gridNodes {
		p, x := along(node), d[node*moments3:][:moments3]
		x[0], x[1], x[2] = p.peak(), p.slope/p.bend, 1/p.bend
	}
	d.fromLogs(wholeGrid(), math.Inf(1))
	return d
}

// spread widens a density by deviations of the traits. work is of the same
// length.
func (d density) spread(k kernel, work []float64) {
	in := d.support()
	to := patch{k.size.toGeneral.reach(in.sizes[0], in.sizes[1]), k.hard.toGeneral.reach(in.hards[0], in.hards[1])}
	clear(work)
	across(k.size.toWinter, k.hard.toWinter, work, d, to)
	for i := 0; i < len(d); i += moments3 {
		d[i], d[i+1], d[i+2] = work[i], work[i+1], work[i+2]+work[i]*square(k.lengthSD)
	}
	d.normalise()
}

// support gives the smallest patch that holds all weight.
func (d density) support() patch {
	p := noPatch()
	for node := range gridNodes {
		if d[node*moments3] > 0 {
			p.take(node)
		}
	}
	return p
}

// atEdge gives the weight at the edge of a patch, but for the grid's own: about as
// much may lie beyond.
func (d density) atEdge(of patch) (weight float64) {
	of.nodes(func(node int) {
		size, hard := node/gridHards, node%gridHards
		if (patch{[2]int{size, size + 1}, [2]int{hard, hard + 1}}).fills(of) {
			weight += d[node*moments3]
		}
	})
	return weight
}

// byNode gives the weights of the nodes.
func (d density) byNode() []float64 {
	w := make([]float64, gridNodes)
	for node := range w {
		w[node] = d[node*moments3]
	}
	return w
}

// byCell gives the weights of all cells: those of a node by the normal density of
// its lengths, cut at the grid's edges.
func (d density) byCell(g *Grid) weights {
	w := newWeights()
	d.each(func(node int, weight, mean, variance float64) {
		cell, total := w[node*gridLengths:][:gridLengths], 0.0
		for k, u := range g.aside {
			cell[k] = math.Exp(-0.5 * square(u-mean) / variance)
			total += cell[k]
		}
		floats.Scale(weight/total, cell)
	})
	return w
}

// momentsOf gives a density's mean and covariance as those of a normal one.
func (g *Grid) momentsOf(d density) traitPrior {
	mean := make([]float64, traits)
	d.each(func(node int, weight, length, _ float64) {
		for t, x := range g.traitsAt(node, length) {
			mean[t] += weight * x
		}
	})
	var sums [traits][traits]float64
	d.each(func(node int, weight, length, variance float64) {
		x := g.traitsAt(node, length)
		for i := range traits {
			for j := range i + 1 {
				sums[i][j] += weight * (x[i] - mean[i]) * (x[j] - mean[j])
			}
		}
		sums[lengthTrait][lengthTrait] += weight * variance
	})
	cov := mat.NewSymDense(traits, nil)
	for i := range traits {
		for j := range i + 1 {
			cov.SetSym(i, j, sums[i][j])
		}
	}
	return traitPrior{mean: mean, cov: cov}
}

// covWith gives the covariance of the traits, whose means are given, with a
// quantity by node.
func (g *Grid) covWith(d density, mean []float64, quantity []float64) (cov [traits]float64) {
	d.each(func(node int, weight, length, _ float64) {
		for t, x := range g.traitsAt(node, length) {
			cov[t] += weight * (x - mean[t]) * quantity[node]
		}
	})
	return cov
}

// traitsAt gives the traits at a node and a ln length less the grid's middle.
func (g *Grid) traitsAt(node int, length float64) [traits]float64 {
	return [traits]float64{g.SizeLn[node/gridHards], g.HardC[node%gridHards], g.LengthLn[gridLengths/2] + length}
}

// traitsOf gives the traits of a cell.
func (g *Grid) traitsOf(cell int32) [traits]float64 {
	return g.traitsAt(int(cell)/gridLengths, g.aside[int(cell)%gridLengths])
}
