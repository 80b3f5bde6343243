package canopy

import (
	"fmt"

	"wintertop/weather"
)

// Planting is what a grower decides: one line sown at one place on one date.
type Planting struct {
	Sown           weather.Date
	LastCultivated weather.Date // zero where unknown: weeds start after sowing
	PlantsPerM2    float64
}

// weedsFrom gives the first day on which weeds grow.
func (p Planting) weedsFrom() weather.Date {
	if p.LastCultivated == 0 {
		return p.Sown + 1
	}
	return p.LastCultivated + 1
}

// Traits are one draw of a line's canopy traits. Top length is not among them:
// it scales height and touches nothing else.
type Traits struct {
	TopSize    float64 // leaf mass potential, 1 = standard
	HardinessC float64 // LT50 of fully hardened leaves, °C; lower is hardier
}

// check panics on values that no caller should pass.
func (p Planting) check(traits []Traits) {
	if !(p.PlantsPerM2 > 0) {
		panic(fmt.Sprintf("canopy: %v plants per m2", p.PlantsPerM2))
	}
	for i, t := range traits {
		if !(t.TopSize > 0) || t.HardinessC != t.HardinessC {
			panic(fmt.Sprintf("canopy: draw %d has traits %+v", i, t))
		}
	}
}
