package weather

import "math"

// CrownMinC gives the lowest temperature of the crowns, °C, for each day of w,
// with soil hilled up by hilledCM, cm (0: none). A day's night is the one that
// ends on it; nothing depends on later days.
//
// The soil is followed in layers, three hours at a time, from the canopy
// above: its night temperature, by day the screen's. Heat passes between them
// by longwave radiation and still air (Params.CoverExchangeWM2K), then by
// conduction; a layer whose water freezes stays at 0 °C until it is ice. Snow
// holds back the cold by Params.SnowEFoldCM, but not the warmth that melt
// water carries down. A crown above the soil takes a temperature between
// surface and canopy, as a rod that is held warm at its foot.
//
// It holds below a standing top of standard size: bare soil in wind exchanges
// twice as much. Sun on the soil, a ridge's flanks and the quality of the soil
// are left out. Against layers of 5 mm and steps of 10 min through the Course
// it is off by 0.1–0.3 °C on average for bare crowns; hilled ones come out
// 0.2–0.55 °C too cold, since the days of summer and autumn are warmer than
// those of midwinter for the same extremes.
func (w *Winter) CrownMinC(hilledCM float64) []float64 {
	p := w.Site.Params
	depthCM := math.Max(0, hilledCM) - p.CrownAboveCM
	canopyShare := 1 - 1/math.Cosh(depthCM/p.CrownEFoldCM)
	coldest := make([]float64, len(w.Days))
	for i := range coldest {
		coldest[i] = math.Inf(1)
	}
	w.followSoil(func(day int, c *soilColumn) {
		coldest[day] = min(coldest[day], c.atC(depthCM/100, canopyShare))
	})
	return coldest
}

// RootFrost says for each day of w whether the crowns fell below
// Params.RootFrostC, where root tissue freezes; hilledCM as in CrownMinC. It
// covers frost only: a root without frost need not be sound. At De Bilt it
// finds 10 days a winter in crowns that are not hilled, and 4 to 19 with single
// constants at the ends of their ranges.
func (w *Winter) RootFrost(hilledCM float64) []bool {
	frost := make([]bool, len(w.Days))
	for i, minC := range w.CrownMinC(hilledCM) {
		frost[i] = minC < w.Site.Params.RootFrostC
	}
	return frost
}

// topsoilFrozen says for each day whether more than Params.TopsoilIceShare of
// the water in the upper 5 cm of soil is ice at the end of the afternoon.
func (w *Winter) topsoilFrozen() []bool {
	frozen := make([]bool, len(w.Days))
	w.followSoil(func(day int, c *soilColumn) {
		frozen[day] = c.iceShare(topsoilLayers) > w.Site.Params.TopsoilIceShare
	})
	return frozen
}

const topsoilLayers = 2 // the upper 5 cm

// soilLayersM gives the thickness of the layers from the surface down, m.
func soilLayersM() []float64 { return []float64{0.02, 0.03, 0.06, 0.14, 0.35, 0.90} }

// soilSteps are the eight steps of three hours from 18 h of the evening before
// to 18 h: the share of the way from the day's minimum up to yesterday's
// maximum, then to its own. They are means over the Course of days alike in
// midwinter, but for the step at dawn, which is nearer to the minimum than its
// mean, 0.13, since it ends there.
func soilSteps() (night, day [4]float64) {
	return [4]float64{0.52, 0.33, 0.21, 0.14}, [4]float64{0.10, 0.67, 0.98, 0.81}
}

// followSoil takes the soil through the days of w and shows it after each
// step. All layers start at the mean temperature of the first ten days: of no
// matter to the winter when it starts in summer or autumn.
func (w *Winter) followSoil(see func(day int, c *soilColumn)) {
	startC, n := 0.0, min(10, len(w.Days))
	for i := range n {
		startC += (w.CanopyMinC[i] + w.MaxC[i]) / 2 / float64(n)
	}
	p := w.Site.Params
	night, day := soilSteps()
	c := p.newSoilColumn(soilLayersM(), 3*3600, startC)
	yesterdayMaxC := w.MaxC[0]
	for i, minC := range w.CanopyMinC {
		if c.snow = 1; w.SnowCM[i] > 0 {
			c.snow = math.Exp(-w.SnowCM[i] / p.SnowEFoldCM)
		}
		for _, share := range night {
			c.step(minC + share*(yesterdayMaxC-minC))
			see(i, c)
		}
		for _, share := range day {
			c.step(minC + share*(w.MaxC[i]-minC))
			see(i, c)
		}
		yesterdayMaxC = w.MaxC[i]
	}
}
