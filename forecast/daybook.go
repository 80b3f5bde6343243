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
	shadeG         float64 // leaf mass, g dry per plant, that shades the row
	f              *field
	// Per course and grid node, for the season: where a leaf mass stands in its
	// spread and in the table of shares, ln of the relative height.
	massStep  []int
	massCell  []canopy.MassCell
	heightLn  []float64
	massScale spread // never filled: it places leaf masses
}

func (g *Grid) dayBook(p *Place, c crop, shares *canopy.ShareTable, wanted *canopy.Wanted, courses int) *dayBook {
	n := courses * gridNodes
	d := &dayBook{
		extinctionPerG: p.Site.Canopy.ExtinctionPerG(c.plantsPerM2),
		place:          p, crop: c, shares: shares, wanted: wanted, grid: g, massScale: spreadOfLeafG(),
		massStep: make([]int, n), massCell: make([]canopy.MassCell, n), heightLn: make([]float64, n),
	}
	d.shadeG = p.Site.shadeG(c.plantsPerM2)
	return d
}

// shadeG gives the mean leaf mass, g dry per plant, at which no more light than
// the limit reaches the ground.
func (s *Site) shadeG(plantsPerM2 float64) float64 {
	return -math.Log(s.Params.ShadeLimit) / s.Canopy.ExtinctionPerG(plantsPerM2)
}

// lightAt gives the share of light that passes a mean leaf mass, g dry.
func (d *dayBook) lightAt(leafG float64) float64 { return math.Exp(-d.extinctionPerG * leafG) }

// prepare works out what the seasons of all rows of the crop share on one day.
// The error is ctx's.
func (d *dayBook) prepare(ctx context.Context) error {
	f := d.f
	return inParallel(ctx, f.courses, func(course int) error {
		for i := course * gridNodes; i < (course+1)*gridNodes; i++ {
			massLn := lnOrLow(f.leafG[i])
			d.massCell[i], d.massStep[i] = d.shares.Mass(massLn), d.massScale.stepOn(massLn)
			d.heightLn[i] = lnOrLow(f.height[i])
		}
		return nil
	})
}
