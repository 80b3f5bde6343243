package forecast

import (
	"context"
	"math"

	"wintertop/canopy"
)

// dayBook adds up one day of one crop for each of its rows.
type dayBook struct {
	place  *Place
	crop   crop
	shares *canopy.ShareTable
	wanted *canopy.Wanted

	grid *Grid

	extinctionPerG float64 // of light, per g dry leaf per plant
	shadeLn        float64 // ln of the leaf mass, g dry per plant, that shades the row
	f              *field

	nodes int // at which the field is known
	// Per course and such node: ln of leaf mass, where that stands in the table of
	// shares, ln of the relative height.
	massLn, heightLn []float64
	massCell         []canopy.MassCell
	// For a season, once one is asked for: which step of its spread each value is in.
	steps  []seasonSteps
	scales *seasonSpreads // never filled: they place values
}

// seasonSteps are the steps of a node's values in a season's spreads.
type seasonSteps struct{ mass, leaves, weeds, lt50 int16 }

// dayBook prepares for the rows of one crop, and tells each where its nodes stand.
func (g *Grid) dayBook(p *Place, c crop, draws drawn, rows []*row, courses int) *dayBook {
	n := courses * len(draws.nodes)
	d := &dayBook{
		extinctionPerG: p.Site.Canopy.ExtinctionPerG(c.plantsPerM2),
		place:          p, crop: c, shares: p.liftShares(), wanted: p.wantedHeights(), grid: g, nodes: len(draws.nodes),
		massLn: make([]float64, n), heightLn: make([]float64, n), massCell: make([]canopy.MassCell, n),
	}
	d.shadeLn = math.Log(p.Site.shadeG(c.plantsPerM2))
	for _, r := range rows {
		r.at = make([]int32, len(r.stake.nodes))
		for i, node := range r.stake.nodes {
			r.at[i] = int32(draws.place[node])
		}
	}
	return d
}

// shadeG gives the mean leaf mass, g dry per plant, at which no more light than
// the limit reaches the ground.
func (s *Site) shadeG(plantsPerM2 float64) float64 {
	return -math.Log(s.Params.ShadeLimit) / s.Canopy.ExtinctionPerG(plantsPerM2)
}

// lightAt gives the share of light that passes a mean leaf mass, g dry.
func (d *dayBook) lightAt(leafG float64) float64 { return math.Exp(-d.extinctionPerG * leafG) }

// prepare works out what all rows of the crop share on one day, with what only
// a season asks for. The error is ctx's.
func (d *dayBook) prepare(ctx context.Context, season bool) error {
	f := d.f
	if season && d.steps == nil {
		d.steps, d.scales = make([]seasonSteps, len(d.massLn)), newSeasonSpreads()
	}
	return inParallel(ctx, f.courses, func(course int) error {
		for i := course * f.nodes; i < (course+1)*f.nodes; i++ {
			massLn := lnOrLow(f.leafG[i])
			d.massLn[i], d.heightLn[i], d.massCell[i] = massLn, lnOrLow(f.height[i]), d.shares.Mass(massLn)
			if !season {
				continue
			}
			d.steps[i] = seasonSteps{
				mass: int16(d.scales.mass.stepOn(massLn)), leaves: int16(d.scales.leaves.stepOn(f.liveLeaves[i])),
				weeds: int16(d.scales.weeds.stepOn(f.weedCover[i])), lt50: int16(d.scales.lt50.stepOn(f.lt50C[i])),
			}
		}
		return nil
	})
}
