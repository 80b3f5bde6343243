package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"wintertop/weather"
)

// record gives the daily weather of the valley from the first to the last day,
// both included, rounded as a station reports it.
func record(c climate, seed uint64, first, last weather.Date) []weather.Day {
	const lead = 60 // days before the record, so that it does not begin in the middle
	rng := rand.New(rand.NewPCG(seed, 1))
	var s sky
	var days []weather.Day
	for d := first - lead; d <= last; d++ {
		minC, maxC, rainMM := s.next(c, rng, d)
		if d >= first {
			days = append(days, weather.Day{Date: d, MinC: tenths(minC), MaxC: tenths(maxC), RainMM: tenths(rainMM), SnowCM: math.Round(s.snowCM)})
		}
	}
	return days
}

// tenths rounds to one decimal and never gives a negative zero.
func tenths(x float64) float64 { return math.Round(10*x)/10 + 0 }

func stationCSV(days []weather.Day) []byte {
	var out bytes.Buffer
	out.WriteString("date,tmin_c,tmax_c,rain_mm,snow_depth_cm\n")
	for _, d := range days {
		fmt.Fprintf(&out, "%s,%.1f,%.1f,%.1f,%.0f\n", d.Date, d.MinC, d.MaxC, d.RainMM, d.SnowCM)
	}
	return out.Bytes()
}

// sky is what one day hands on to the next.
type sky struct {
	winter    int     // the year in which it began
	leanC     float64 // of this winter
	kind      int     // of this winter: mild, middling, hard
	wanderC   float64
	wet       bool
	wetBefore bool
	easterly  bool
	depthC    float64 // to which the easterly running cools
	easterlyC float64 // as far as it has come
	snowCM    float64
}

func (s *sky) next(c climate, rng *rand.Rand, d weather.Date) (minC, maxC, rainMM float64) {
	if w := weather.WinterOf(d, false).Year; w != s.winter {
		s.winter = w
		s.leanC = c.winterSpreadC * rng.NormFloat64()
		s.kind = 1
		if u := rng.Float64(); u < c.mildShare {
			s.kind = 0
		} else if u > 1-c.hardShare {
			s.kind = 2
		}
	}
	day := d.DayOfYear()
	s.turnEasterly(c, rng, d)

	chance := c.wetAfterDry.on(day)
	if s.wet {
		chance = c.wetAfterWet.on(day)
	}
	if s.easterly {
		chance *= c.easterlyDries
	}
	s.wetBefore, s.wet = s.wet, rng.Float64() < chance
	amount := c.rainMM.on(day) / math.Gamma(1+1/c.rainShape) * math.Pow(-math.Log(1-rng.Float64()), 1/c.rainShape)
	if s.wet {
		rainMM = max(0.1, amount)
	}

	// The wander goes by half days: a minimum lies between the maxima of its own
	// day and of the day before. The night is half yesterday's sky.
	s.wander(c, rng, day)
	nightC := c.meanC.on(day) + s.leanC + s.wanderC + s.easterlyC + (c.cloudLift(s.wetBefore, day)+c.cloudLift(s.wet, day))/2
	minC = nightC - (c.rangeC(s.wetBefore, day)+c.rangeC(s.wet, day))/4*math.Exp(c.rangeSpread*rng.NormFloat64())
	s.wander(c, rng, day)
	noonC := c.meanC.on(day) + s.leanC + s.wanderC + s.easterlyC + c.cloudLift(s.wet, day)
	maxC = noonC + c.rangeC(s.wet, day)/2*math.Exp(c.rangeSpread*rng.NormFloat64())
	maxC = max(maxC, minC+0.5)
	s.lieSnow(c, (minC+maxC)/2, rainMM)
	return minC, maxC, rainMM
}

// wander takes the day-to-day wander half a day on.
func (s *sky) wander(c climate, rng *rand.Rand, day int) {
	s.wanderC = math.Sqrt(c.wanderKept)*s.wanderC + math.Sqrt(1-c.wanderKept)*c.wanderC.on(day)*rng.NormFloat64()
}

// cloudLift is what a wet or a dry day adds to the season's mean.
func (c climate) cloudLift(wet bool, day int) float64 {
	if wet {
		return c.cloudC.on(day) / 2
	}
	return -c.cloudC.on(day) / 2
}

func (c climate) rangeC(wet bool, day int) float64 {
	if wet {
		return c.wetRangeC.on(day)
	}
	return c.dryRangeC.on(day)
}

func (s *sky) turnEasterly(c climate, rng *rand.Rand, d weather.Date) {
	_, month, _ := d.YMD()
	u := rng.Float64()
	switch {
	case s.easterly:
		s.easterly = u >= c.easterlyLeaves
	case month >= time.November || month <= time.March:
		if s.easterly = u < c.easterly[s.kind]; s.easterly {
			s.depthC = c.easterlyC[0] + (c.easterlyC[1]-c.easterlyC[0])*rng.Float64()
		}
	}
	goal := 0.0
	if s.easterly {
		goal = s.depthC
	}
	s.easterlyC += c.easterlyPace * (goal - s.easterlyC)
}

func (s *sky) lieSnow(c climate, meanC, rainMM float64) {
	s.snowCM *= 1 - c.snowSettles
	if meanC < c.snowBelowC {
		s.snowCM += c.snowCMPerMM * rainMM
	}
	s.snowCM = max(0, s.snowCM-c.meltCMPerC*max(0, meanC))
	if s.snowCM < 0.5 {
		s.snowCM = 0
	}
}
