package weather

import "math"

// CanopyDropC gives how far the exposed leaves cool below the screen in a
// night, °C, from the range between yesterday's field maximum and the night's
// field minimum. Fitted over short grass; between places the mean drop
// differs by SD 0.35 °C, and on an open windy coast it is about 0.75 whatever
// the range.
func (p Params) CanopyDropC(yesterdayMaxC, minC float64) float64 {
	return math.Max(0, math.Min(p.DropMaxC, p.DropBaseC+p.DropPerDegree*(yesterdayMaxC-minC)))
}

// BuriedShare gives the share, 0-1, of a standing top that lies below the
// surface of the snow. NaN depth is bare ground.
func (p Params) BuriedShare(snowCM float64) float64 {
	if !(snowCM > 0) {
		return 0
	}
	return math.Min(1, snowCM/p.SnowTopCM)
}

// TissueUnderSnowC gives the temperature of buried leaves, °C: a frost falls
// off exponentially with the depth of the snow above. Snow never makes leaves
// colder, so temperatures above 0 °C are given back as they are.
func (p Params) TissueUnderSnowC(canopyC, snowCM float64) float64 {
	if canopyC >= 0 || !(snowCM > 0) {
		return canopyC
	}
	return canopyC * math.Exp(-snowCM/p.SnowEFoldCM)
}
