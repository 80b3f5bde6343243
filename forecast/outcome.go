package forecast

import (
	"slices"

	"wintertop/canopy"
	"wintertop/weather"
)

// outcome is what the notes of one planting say of one day in the window.
type outcome struct {
	line, planting string
	winter         weather.WinterYear
	date           weather.Date
	what           string
	value          float64 // fresh g, cm, or 1 where the wanted share lifted
	plants         int
}

// outcomesOf gathers what can be verified at a place: leaf mass and top height
// noted in the window, and whether the wanted share lifted, from the share
// noted or else from leaf mass and height noted on the same day.
func outcomesOf(trial *Trial, p *Place, window func(weather.WinterYear) (from, to weather.Date)) []outcome {
	lifting := canopy.NewLifting(p.Site.Canopy)
	var all []outcome
	for i := range trial.Plantings {
		planting := &trial.Plantings[i]
		if trial.placeOf(planting) != p {
			continue
		}
		from, to := window(planting.Winter)
		values := map[weather.Date]map[Trait]Note{}
		var dates []weather.Date
		for _, n := range trial.Notes {
			if n.Planting != planting.Name || n.Date < from || n.Date > to {
				continue
			}
			if values[n.Date] == nil {
				values[n.Date] = map[Trait]Note{}
				dates = append(dates, n.Date)
			}
			values[n.Date][n.Trait] = n
		}
		slices.Sort(dates)
		for _, d := range dates {
			add := func(what string, value float64, plants int) {
				all = append(all, outcome{planting.Line, planting.Name, planting.Winter, d, what, value, plants})
			}
			mass, weighed := values[d][LeafMass]
			height, measured := values[d][TopHeight]
			lifted, tried := values[d][LiftedShare]
			if weighed {
				add(WhatLeafMass, mass.Value, mass.Plants)
			}
			if measured {
				add(WhatTopHeight, height.Value, height.Plants)
			}
			share := lifted.Value
			if !tried {
				share = lifting.Share(mass.Value*p.Site.Canopy.DryShare, height.Value)
			}
			if tried || weighed && measured {
				came := 0.0
				if share >= p.Site.Params.WantedShare {
					came = 1
				}
				add(WhatLift, came, lifted.Plants)
			}
		}
	}
	return all
}

// notebook says what the notes of other winters alone would forecast of one
// outcome: the line's mean over its other winters, its mean in the last one
// before, and the mean of all lines. NaN where there is none.
func notebook(all []outcome, o outcome) (ownMean, lastWinter, base float64) {
	var own, last, every mean
	latest := -1
	for _, a := range all {
		if a.what != o.what || a.winter == o.winter {
			continue
		}
		every.add(a.value)
		if a.line != o.line {
			continue
		}
		own.add(a.value)
		if a.winter.Year < o.winter.Year {
			if a.winter.Year > latest {
				latest, last = a.winter.Year, mean{}
			}
			if a.winter.Year == latest {
				last.add(a.value)
			}
		}
	}
	return own.value(), last.value(), every.value()
}

// mean adds values up; of nothing it is NaN.
type mean struct{ sum, n float64 }

func (m *mean) add(x float64) { m.sum, m.n = m.sum+x, m.n+1 }
func (m mean) value() float64 { return m.sum / m.n } // NaN of nothing
