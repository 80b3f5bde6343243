package canopy

import (
	"math"

	"wintertop/weather"
)

// growWeeds takes common chickweed, Stellaria media, through one day: its leaf
// area grows exponentially by warmth (Storkey & Cussans 2000) and by the light
// that the crop leaves to it, and levels off as the mat closes.
func (s *Stand) growWeeds(minC, maxC, parMJ float64) {
	p := &s.params
	if !s.weedy {
		s.weedy = true
		for d := range s.weedLAI {
			s.weedLAI[d] = p.WeedStartLAI
		}
	}
	rate := p.WeedGrowthPerDegreeDay * weather.DegreeDays(minC, maxC, p.WeedBaseC, math.Inf(1)) * parMJ / (parMJ + p.WeedHalfLightMJ)
	if !(rate > 0) {
		return
	}
	s.measure()
	extinction := s.extinctionPerG()
	for d, area := range s.weedLAI {
		light := p.weedLight(extinction*s.totalG[d], p.StandardTopCM*s.height[d], area)
		s.weedLAI[d] = area * exp(rate*light*(1-area/p.WeedCeilingLAI))
	}
}

// weedLight gives the light that weeds of leaf area index area catch under a
// crop of k·LAI cropX and height cropCM, relative to the same weeds in the
// open.
func (p *Params) weedLight(cropX, cropCM, area float64) float64 {
	if cropX == 0 {
		return 1
	}
	weedX, weedCM := p.WeedExtinction*area, p.WeedLeastCM+p.WeedCMPerLAI*area
	var caught float64
	if cropCM > weedCM {
		_, caught = caughtLight(cropX, cropCM, weedX, weedCM)
	} else {
		caught, _ = caughtLight(weedX, weedCM, cropX, cropCM)
	}
	return caught / -math.Expm1(-weedX)
}

// WeedCover fills dst (length N, nil allocates) with the share of ground that
// chickweed covers, an index and no biomass: 0 until the last cultivation. It
// does not wait for the crop to come up.
func (s *Stand) WeedCover(dst []float64) []float64 {
	dst = s.into(dst)
	for d, area := range s.weedLAI {
		dst[d] = -math.Expm1(-s.params.WeedExtinction * area)
	}
	return dst
}
