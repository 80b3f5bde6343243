package forecast

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// byNode sums a density over the lengths.
func (w weights) byNode() []float64 {
	sums := make([]float64, gridNodes)
	for node := range sums {
		sums[node] = sumOf(w[node*gridLengths:][:gridLengths])
	}
	return sums
}

// marginals sums a density over the other two traits.
func (w weights) marginals() (size, hard, length []float64) {
	size, hard, length = make([]float64, gridSizes), make([]float64, gridHards), make([]float64, gridLengths)
	for i := range size {
		for j := range hard {
			for k, x := range w[(i*gridHards+j)*gridLengths:][:gridLengths] {
				size[i] += x
				hard[j] += x
				length[k] += x
			}
		}
	}
	return size, hard, length
}

// moments gives mean and standard deviation of weights that sum to 1.
func moments(at, weight []float64) (mean, sd float64) {
	for i, x := range at {
		mean += weight[i] * x
	}
	for i, x := range at {
		sd += weight[i] * square(x-mean)
	}
	return mean, math.Sqrt(sd)
}

// meanAndCov gives the moments of a density over the grid.
func (g *Grid) meanAndCov(w weights) (mean [traits]float64, cov *mat.SymDense) {
	for c, p := range w {
		if p != 0 {
			for t, x := range g.traitsAt(c) {
				mean[t] += p * x
			}
		}
	}
	cov = mat.NewSymDense(traits, nil)
	var sums [traits][traits]float64
	for c, p := range w {
		if p < 1e-12 {
			continue
		}
		x := g.traitsAt(c)
		for i := range traits {
			for j := range i + 1 {
				sums[i][j] += p * (x[i] - mean[i]) * (x[j] - mean[j])
			}
		}
	}
	for i := range traits {
		for j := range i + 1 {
			cov.SetSym(i, j, sums[i][j])
		}
	}
	return mean, cov
}

// covWith gives the covariance of the traits with a quantity by node.
func (g *Grid) covWith(w weights, mean [traits]float64, node []float64) (cov [traits]float64) {
	for c, p := range w {
		if p < 1e-12 {
			continue
		}
		for t, x := range g.traitsAt(c) {
			cov[t] += p * (x - mean[t]) * node[c/gridLengths]
		}
	}
	return cov
}

// momentsOf gives a density's mean and covariance as those of a normal one.
func (g *Grid) momentsOf(w weights) traitPrior {
	mean, cov := g.meanAndCov(w)
	return traitPrior{mean: mean[:], cov: cov}
}
