package forecast

import (
	"math"
	"slices"
)

// pinball is the loss of a forecast quantile x at level p when y came true.
func pinball(p, x, y float64) float64 {
	if y >= x {
		return p * (y - x)
	}
	return (1 - p) * (x - y)
}

// crps is the continuous ranked probability score of weighted values, sorted,
// when y came true: twice the mean pinball loss over their middle levels, in
// the unit of y; for one value its absolute error (Hersbach 2000). The weights
// sum to 1.
func crps(x, weight []float64, y float64) float64 {
	score, reached := 0.0, 0.0
	for i, w := range weight {
		score += 2 * w * pinball(reached+w/2, x[i], y)
		reached += w
	}
	return score
}

// fairCRPS is the score of an ensemble of equally likely members as if it had
// endlessly many (Ferro 2014); of one member its absolute error.
func fairCRPS(members []float64, y float64) float64 {
	x := slices.Sorted(slices.Values(members))
	n := float64(len(x))
	weight := make([]float64, len(x))
	spread := 0.0 // half the mean absolute difference of two members
	for i := range x {
		weight[i] = 1 / n
		spread += x[i] * (2*float64(i) + 1 - n) / (n * n)
	}
	if n == 1 {
		return crps(x, weight, y)
	}
	return crps(x, weight, y) - spread/(n-1)
}

// Brier holds the Brier score and its three parts (Murphy 1973): score =
// reliability - resolution + uncertainty, where all forecasts of a class are
// the same.
type Brier struct{ Score, Reliability, Resolution, Uncertainty float64 }

// brier scores chances against what came true (0 or 1). Classes are tenths,
// each represented by the mean of its chances.
func brier(chance, came []float64) Brier {
	const classes = 10
	var sum, hits, n [classes]float64
	var b Brier
	total, base := float64(len(chance)), 0.0
	for i, p := range chance {
		c := min(int(p*classes), classes-1)
		sum[c] += p
		hits[c] += came[i]
		n[c]++
		base += came[i] / total
		b.Score += (p - came[i]) * (p - came[i]) / total
	}
	for c := range classes {
		if n[c] == 0 {
			continue
		}
		forecast, seen := sum[c]/n[c], hits[c]/n[c]
		b.Reliability += n[c] / total * square(forecast-seen)
		b.Resolution += n[c] / total * square(seen-base)
	}
	b.Uncertainty = base * (1 - base)
	return b
}

// wilson gives the 95 % interval of a share of which hits of n were seen
// (Wilson 1927; z = 1.959964).
func wilson(hits, n float64) (low, high float64) {
	const z = 1.959964
	p, zz := hits/n, z*z
	middle := (p + zz/(2*n)) / (1 + zz/n)
	half := z / (1 + zz/n) * math.Sqrt(p*(1-p)/n+zz/(4*n*n))
	return max(0, middle-half), min(1, middle+half)
}
