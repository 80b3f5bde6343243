package canopy

// lt50C gives the canopy temperature that kills half of the exposed tissue of
// draw d at a hardening index, °C.
func (s *Stand) lt50C(d int, hardening float64) float64 {
	p := &s.params
	return p.UnhardenedC + hardening*(s.hardinessC[d]-p.UnhardenedC) + p.InjuryMemory*s.injury[d]
}

// LT50C fills dst (length N, nil allocates) with the LT50 of the top at the
// hardening of the last day grown, °C; 0 before emergence.
func (s *Stand) LT50C(dst []float64) []float64 {
	dst = s.into(dst)
	for d := range dst {
		dst[d] = 0
		if s.emerged {
			dst[d] = s.lt50C(d, s.hardening)
		}
	}
	return dst
}

// forgetInjury fades the memory of earlier frosts by one day.
func (s *Stand) forgetInjury() {
	if s.params.InjuryMemory == 0 {
		return
	}
	for d := range s.injury {
		s.injury[d] *= 1 - s.params.InjuryForgetting
	}
}
