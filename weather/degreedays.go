package weather

import "math"

// DegreeDays gives the degree-days of one day above lowerC with a horizontal
// cut-off at upperC, +Inf for none, °C d: the area under a sine through the
// day's extremes (single sine method, Baskerville & Emin 1969, Allen 1976) in
// closed form. minC must not exceed maxC, nor lowerC upperC.
func DegreeDays(minC, maxC, lowerC, upperC float64) float64 {
	return degreesAbove(minC, maxC, lowerC) - degreesAbove(minC, maxC, upperC)
}

// degreesAbove gives the area above one threshold.
func degreesAbove(minC, maxC, thresholdC float64) float64 {
	mean, half := (minC+maxC)/2, (maxC-minC)/2
	switch {
	case maxC <= thresholdC:
		return 0
	case minC >= thresholdC:
		return mean - thresholdC
	}
	theta := math.Asin((thresholdC - mean) / half)
	// Allen 1976, the case that crosses the lower threshold
	return ((mean-thresholdC)*(math.Pi/2-theta) + half*math.Cos(theta)) / math.Pi
}

// DegreesBelow gives the degree-days, °C d, and the hours of one day below
// thresholdC, under the same sine as DegreeDays.
func DegreesBelow(minC, maxC, thresholdC float64) (degreeDays, hours float64) {
	mean, half := (minC+maxC)/2, (maxC-minC)/2
	switch {
	case minC >= thresholdC:
		return 0, 0
	case maxC <= thresholdC:
		return thresholdC - mean, 24
	}
	theta := math.Asin((thresholdC - mean) / half)
	// Allen 1976, mirrored
	degreeDays = ((thresholdC-mean)*(math.Pi/2+theta) + half*math.Cos(theta)) / math.Pi
	return degreeDays, 24 * (0.5 + theta/math.Pi)
}
