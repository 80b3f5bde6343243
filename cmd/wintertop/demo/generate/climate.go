package main

import "math"

// season is a quantity that runs through the year as one cosine: mean ±
// amplitude, lowest on the day of the year given.
type season struct{ mean, amplitude, lowestOn float64 }

func (s season) on(dayOfYear int) float64 {
	return s.mean - s.amplitude*math.Cos(2*math.Pi*(float64(dayOfYear)-s.lowestOn)/365.25)
}

// climate is the invented valley: mild and wet, its winters ruled by sea winds
// and now and then by a cold easterly. Every number is a choice; the test
// beside it says what they lead to and which real stations that lies among.
type climate struct {
	// A day's mean temperature is the season, plus the winter's own lean,
	// plus a day-to-day wander, plus what cloud and an easterly do to it.
	meanC         season
	winterSpreadC float64 // SD of the winter's own lean
	wanderC       season  // SD of the day-to-day wander
	wanderKept    float64 // share of the wander kept to the next day
	cloudC        season  // a wet day's mean against a dry one's

	// The day's range, narrowed by cloud.
	dryRangeC, wetRangeC season
	rangeSpread          float64 // SD of the logarithm of each half of it

	wetAfterDry, wetAfterWet season
	rainMM                   season  // mean of a wet day
	rainShape                float64 // of a Weibull: below 1 many drizzles, few downpours

	// An easterly sets in by chance from November to March, how often depends
	// on the kind of winter; the cold deepens over some days and drains away.
	easterly       [3]float64 // chance a day: mild, middling, hard winter
	mildShare      float64    // of winters
	hardShare      float64
	easterlyLeaves float64 // chance a day that it gives way
	easterlyC      [2]float64
	easterlyDries  float64 // factor on the chance of a wet day
	easterlyPace   float64 // share of the remaining change made in a day

	// Snow falls instead of rain below snowBelowC, settles and melts.
	snowBelowC, snowCMPerMM, snowSettles, meltCMPerC float64
}

func valley() climate {
	return climate{
		meanC:          season{10.4, 5.6, 16},
		winterSpreadC:  0.75,
		wanderC:        season{2.10, -0.35, 21},
		wanderKept:     0.72,
		cloudC:         season{0.2, 1.8, 196},
		dryRangeC:      season{9.5, 1.9, 365},
		wetRangeC:      season{6.0, 1.2, 365},
		rangeSpread:    0.25,
		wetAfterDry:    season{0.29, 0.09, 190},
		wetAfterWet:    season{0.63, 0.10, 190},
		rainMM:         season{6.2, 1.2, 140},
		rainShape:      0.78,
		easterly:       [3]float64{0.003, 0.011, 0.045},
		mildShare:      0.45,
		hardShare:      0.12,
		easterlyLeaves: 0.13,
		easterlyC:      [2]float64{-4, -9},
		easterlyDries:  0.5,
		easterlyPace:   0.35,
		snowBelowC:     0.7,
		snowCMPerMM:    0.9,
		snowSettles:    0.10,
		meltCMPerC:     1.6,
	}
}
