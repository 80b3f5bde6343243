package forecast

import "math"

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
