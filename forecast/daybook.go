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

	extinctionPerG float64 // of light, per g dry leaf per plant
	f              *field
	// Per course and grid node: where a leaf mass stands in its spread and in the
	// table of shares, ln of the relative height, ln of the least top length that
	// lifts the wanted share, whether the row is shaded.
	massStep  []int
	massCell  []canopy.MassCell
	heightLn  []float64
	leastLn   []float64
	shaded    []bool
	massScale spread // never filled: it places leaf masses
}

func newDayBook(p *Place, c crop, shares *canopy.ShareTable, wanted *canopy.Wanted, courses int) *dayBook {
	n, params := courses*gridNodes, p.Site.Canopy
	return &dayBook{
		extinctionPerG: params.CropExtinction * params.LeafAreaM2PerG * c.plantsPerM2,
		place:          p, crop: c, shares: shares, wanted: wanted, massScale: spreadOfLeafG(),
		massStep: make([]int, n), massCell: make([]canopy.MassCell, n), heightLn: make([]float64, n), leastLn: make([]float64, n), shaded: make([]bool, n),
	}
}

// lightAt gives the share of light that passes a mean leaf mass, g dry.
func (d *dayBook) lightAt(leafG float64) float64 { return math.Exp(-d.extinctionPerG * leafG) }

// prepare works out what every row of the crop shares; of what only the pick
// needs, nothing where none is made that day. The error is ctx's.
func (d *dayBook) prepare(ctx context.Context, f *field, picking bool) error {
	d.f = f
	shadeG := -math.Log(d.place.Site.Params.ShadeLimit) / d.extinctionPerG
	return inParallel(ctx, f.courses, func(course int) error {
		for i := course * gridNodes; i < (course+1)*gridNodes; i++ {
			leafG := f.leafG[i]
			massLn := lnOrLow(leafG)
			d.massCell[i], d.massStep[i] = d.shares.Mass(massLn), d.massScale.stepOn(massLn)
			d.heightLn[i] = lnOrLow(f.height[i])
			if picking {
				d.leastLn[i] = lnOrLow(d.wanted.LeastHeightCM(leafG)) - d.heightLn[i]
				d.shaded[i] = leafG >= shadeG
			}
		}
		return nil
	})
}
