package weather

import "math"

// Course is the course of temperature through consecutive days, rebuilt from
// each day's extremes: a sine from the minimum, shortly before sunrise, over
// the maximum to dusk, then an exponential fall towards the coming minimum
// (Parton & Logan 1981). As published the night ends above that minimum and
// jumps to it at sunrise; here the last part of the night runs straight to it,
// so that the course is continuous and holds each day's extremes. Times are
// in local solar time.
type Course struct {
	first      Date
	minC, maxC []float64
	sky        sky
	params     Params
}

// NewCourse takes the daily extremes, °C, of a run of days from first on; NaN
// in both is a missing day. The slices are kept, not copied. Before the first
// day, after the last and beside a gap a day's own extremes stand for its
// neighbour's.
func NewCourse(first Date, minC, maxC []float64, latDeg float64, params Params) Course {
	return Course{first, minC, maxC, newSky(latDeg), params}
}

// At gives the temperature, °C, at an hour from 0 to 24 of a day counted from
// 0 on the first; NaN on a missing day. Hours of real stations differ from it
// by 1.0–1.3 °C on average.
func (c Course) At(day int, hour float64) float64 {
	switch a := c.arc(day); {
	case math.IsNaN(c.minC[day]):
		return math.NaN()
	case hour < a.minHour:
		return c.night(day).at(hour)
	case hour <= a.duskHour:
		return a.at(hour)
	}
	return c.night(day + 1).at(hour - 24)
}

// falls gives the hour of the day, negative on the evening before, at which
// the temperature last comes down to thresholdC before the day's minimum,
// which must not lie above it.
func (c Course) falls(day int, thresholdC float64) float64 {
	if n := c.night(day); n.duskC > thresholdC {
		return n.when(thresholdC)
	}
	a := c.arc(c.neighbour(day-1, day))
	return a.minHour + a.spanH*(1-a.rising(thresholdC)) - 24
}

// rises gives the hour of the day, negative on the evening before, at which
// the temperature comes up to thresholdC before the day's maximum, which must
// not lie below it.
func (c Course) rises(day int, thresholdC float64) float64 {
	a := c.arc(day)
	if a.minC > thresholdC {
		return c.night(day).when(thresholdC)
	}
	return a.minHour + a.spanH*a.rising(thresholdC)
}

// neighbour gives the index beside, or day where that is missing.
func (c Course) neighbour(beside, day int) int {
	if beside < 0 || beside >= len(c.minC) || math.IsNaN(c.minC[beside]) {
		return day
	}
	return beside
}

// arc is the sine of one day, from the minimum to dusk.
type arc struct {
	minHour, duskHour float64
	spanH             float64 // half a period of the sine
	minC, maxC        float64
}

func (c Course) arc(day int) arc {
	p := c.params
	daylightH := 24 / math.Pi * c.sky.at((c.first + Date(day)).DayOfYear()).sunsetAngle
	daylightH = math.Max(1, math.Min(23, daylightH))
	return p.arcOf(12-daylightH/2, daylightH, c.minC[day], c.maxC[day])
}

// arcOf puts the maximum at noon + MaxLagH, and dusk at sunset but never
// before the maximum.
func (p Params) arcOf(sunrise, daylightH, minC, maxC float64) arc {
	minHour, spanH := sunrise+p.MinLagH, daylightH+2*(p.MaxLagH-p.MinLagH)
	return arc{minHour, math.Max(sunrise+daylightH, minHour+spanH/2), spanH, minC, maxC}
}

func (a arc) at(hour float64) float64 {
	return a.minC + (a.maxC-a.minC)*math.Sin(math.Pi*(hour-a.minHour)/a.spanH) // Parton & Logan 1981, day
}

// rising gives the part of spanH after which the sine comes up to thresholdC,
// at most one half, where the maximum is.
func (a arc) rising(thresholdC float64) float64 {
	if thresholdC >= a.maxC {
		return 0.5
	}
	return math.Asin((thresholdC-a.minC)/(a.maxC-a.minC)) / math.Pi
}

// night is the fall, or rise, from dusk to the coming minimum; hours count
// from midnight, negative before it.
type night struct {
	duskHour, minHour float64
	duskC, minC       float64
	decay, turn       float64
}

// night gives the night that ends with the minimum of day.
func (c Course) night(day int) night {
	today := c.arc(c.neighbour(day, min(day, len(c.minC))-1))
	before := c.arc(c.neighbour(day-1, day))
	return night{before.duskHour - 24, today.minHour, before.at(before.duskHour), today.minC, c.params.NightDecay, c.params.NightTurn}
}

func (n night) at(hour float64) float64 {
	part := (hour - n.duskHour) / (n.minHour - n.duskHour)
	left := math.Exp(-n.decay * math.Min(part, n.turn)) // Parton & Logan 1981, night
	if part > n.turn {
		left *= (1 - part) / (1 - n.turn)
	}
	return n.minC + (n.duskC-n.minC)*left
}

// when gives the hour at which the night passes thresholdC; dusk where it
// never does.
func (n night) when(thresholdC float64) float64 {
	left := (thresholdC - n.minC) / (n.duskC - n.minC)
	if !(left >= 0 && left <= 1) {
		return n.duskHour
	}
	part, atTurn := -math.Log(left)/n.decay, math.Exp(-n.decay*n.turn)
	if left < atTurn {
		part = 1 - (1-n.turn)*left/atTurn
	}
	return n.duskHour + part*(n.minHour-n.duskHour)
}
