package weather

import "math"

// Course is the course of temperature through consecutive days, rebuilt from
// each day's extremes: a sine from the minimum, shortly before sunrise, over
// the maximum to dusk, then an exponential fall towards the coming minimum
// (Parton & Logan 1981). Times are in local solar time.
//
// As published the night ends above the coming minimum and jumps to it at
// sunrise, and the evening before a colder day falls below its own day's
// minimum. Here the last part of the night runs straight to the minimum, and
// midnight is held within the extremes of both days that meet there. So the
// course is continuous, takes each extreme and stays between them from
// midnight to midnight. Where two days share no temperature, as in records
// whose days end at another hour, midnight lies halfway between them.
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
// 0 on the first; NaN on a missing day. Hours of a maritime station differ from
// it by 1.2 °C on average in winter, and it passes a threshold hours too early
// or too late: a third of its winter days have their minimum beside midnight,
// not before sunrise.
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

// night is the fall, or rise, from dusk over midnight to the coming minimum;
// hours count from midnight, negative before it.
type night struct {
	duskHour, minHour      float64
	duskC, midnightC, minC float64
	decay, turn            float64
}

// night gives the night that ends with the minimum of day.
func (c Course) night(day int) night {
	after := c.neighbour(day, min(day, len(c.minC))-1)
	before := c.neighbour(day-1, after)
	evening, today := c.arc(before), c.arc(after)
	n := night{
		duskHour: evening.duskHour - 24, minHour: today.minHour,
		duskC: evening.at(evening.duskHour), minC: today.minC,
		decay: c.params.NightDecay, turn: c.params.NightTurn,
	}
	n.midnightC = within(n.minC+(n.duskC-n.minC)*n.left(0),
		math.Max(evening.minC, today.minC), math.Min(evening.maxC, today.maxC))
	return n
}

// within holds x between low and high; where low lies above high it gives the
// middle.
func within(x, low, high float64) float64 {
	if low > high {
		return (low + high) / 2
	}
	return math.Max(low, math.Min(high, x))
}

// left gives the share of the fall from dusk that is still to come.
func (n night) left(hour float64) float64 {
	part := (hour - n.duskHour) / (n.minHour - n.duskHour)
	left := math.Exp(-n.decay * math.Min(part, n.turn)) // Parton & Logan 1981, night
	if part > n.turn {
		left *= (1 - part) / (1 - n.turn)
	}
	return left
}

// hourOf is the inverse of left.
func (n night) hourOf(left float64) float64 {
	part, atTurn := -math.Log(left)/n.decay, math.Exp(-n.decay*n.turn)
	if left < atTurn {
		part = 1 - (1-n.turn)*left/atTurn
	}
	return n.duskHour + part*(n.minHour-n.duskHour)
}

// at follows the published fall, stretched on either side of midnight to meet
// midnightC.
func (n night) at(hour float64) float64 {
	atMidnight := n.left(0)
	if hour < 0 {
		return n.midnightC + (n.duskC-n.midnightC)*(n.left(hour)-atMidnight)/(1-atMidnight)
	}
	return n.minC + (n.midnightC-n.minC)*n.left(hour)/atMidnight
}

// when gives the hour at which the night passes thresholdC, the later one of
// two; dusk where it never does.
func (n night) when(thresholdC float64) float64 {
	atMidnight := n.left(0)
	if part := (thresholdC - n.minC) / (n.midnightC - n.minC); part >= 0 && part <= 1 {
		return n.hourOf(part * atMidnight)
	}
	if part := (thresholdC - n.midnightC) / (n.duskC - n.midnightC); part >= 0 && part <= 1 {
		return n.hourOf(atMidnight + part*(1-atMidnight))
	}
	return n.duskHour
}
