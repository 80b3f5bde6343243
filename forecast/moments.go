package forecast

import "math"

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
