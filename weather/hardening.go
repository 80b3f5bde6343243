package weather

import "math"

// HardeningTarget gives the hardening index, 0-1, that leaves settle at when
// held at a daily mean temperature, °C.
func (p Params) HardeningTarget(meanC float64) float64 {
	return 1 / (1 + math.Exp((meanC-p.HardenMidC)/p.HardenWidthC))
}

// Harden gives the hardening index after one day at a daily mean temperature,
// °C, from the index before it: leaves gain at a fixed rate and lose the
// faster the warmer it is. Gay & Eagles 1991, with rates of other species.
func (p Params) Harden(index, meanC float64) float64 {
	target := p.HardeningTarget(meanC)
	rate := p.HardenRate
	if target < index {
		rate = math.Max(p.SoftenRateLow, math.Min(p.SoftenRateHigh, p.SoftenRate+p.SoftenPerC*(meanC-p.SoftenAtC)))
	}
	return index + rate*(target-index)
}
