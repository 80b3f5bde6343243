package weather

import "math"

// Bucket gives the water in the topsoil at the end of a day, mm, from that of
// the day before, the day's rain and reference evaporation, mm. The drier the
// topsoil, the less of it evaporates; what it cannot hold drains. Vieira et
// al. 2019.
func (p Params) Bucket(beforeMM, rainMM, evaporationMM float64) float64 {
	left := beforeMM * (1 - math.Max(0, math.Min(p.BucketMM, evaporationMM))/p.BucketMM)
	return math.Min(p.BucketMM, left+rainMM)
}

// FitForMachines says whether machines can work on a day with so much rain,
// mm, and water in the topsoil at its end, mm. Vieira et al. 2019, for
// sugarcane; frost in the soil stops them too, see Winter.Fit.
func (p Params) FitForMachines(rainMM, bucketMM float64) bool {
	return rainMM < p.FitRainMM && bucketMM < p.BucketFull*p.BucketMM
}

// Fit says for each day of w whether machines can work: little rain, a topsoil
// that is not full of water, and no ice left in its upper 5 cm at the end of
// the afternoon. The topsoil starts full.
//
// A day whose rain is not known is not fit and leaves the topsoil full, as
// rain might have. known is false, and no day is fit, where the rain of more
// than one day in twenty is not known. The evaporation is that of short
// grass, not of the crop. Params.BucketFull decides the answer: 11 fit days
// from 1 February to 15 March at De Bilt with 0.90, 17 with 0.95, before
// frozen soil is taken off.
func (w *Winter) Fit() (fit []bool, known bool) {
	fit = make([]bool, len(w.Days))
	unknown := 0
	for _, d := range w.Days {
		if math.IsNaN(d.RainMM) {
			unknown++
		}
	}
	if unknown*20 > len(w.Days) {
		return fit, false
	}
	p, aboveMJ := w.Site.Params, extraterrestrialOver(w.Site.LatitudeDeg)
	frozen := w.topsoilFrozen()
	bucketMM := p.BucketMM
	for i, d := range w.Days {
		if math.IsNaN(d.RainMM) {
			bucketMM = p.BucketMM
			continue
		}
		evaporationMM := ReferenceET0MM(aboveMJ[d.Date.DayOfYear()], d.MinC, d.MaxC)
		bucketMM = p.Bucket(bucketMM, d.RainMM, evaporationMM)
		fit[i] = p.FitForMachines(d.RainMM, bucketMM) && !frozen[i]
	}
	return fit, true
}
