package weather

import "math"

// ReferenceET0MM gives the evaporation of a well-watered short grass, mm d⁻¹,
// from extraterrestrial radiation, MJ m⁻² d⁻¹, and the day's extremes, °C
// (Hargreaves). Made for periods of five days and more. FAO-56 eq. 52.
func ReferenceET0MM(extraterrestrialMJ, minC, maxC float64) float64 {
	const mmPerMJ = 0.408 // FAO-56 eq. 20, 1 / latent heat
	return 0.0023 * ((minC+maxC)/2 + 17.8) * math.Sqrt(maxC-minC) * extraterrestrialMJ * mmPerMJ
}
