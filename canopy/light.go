package canopy

import "math"

// ExtinctionPerG gives k·LAI of the crop for 1 g of dry leaf per plant.
func (p *Params) ExtinctionPerG(plantsPerM2 float64) float64 {
	return p.CropExtinction * p.LeafAreaM2PerG * plantsPerM2
}

func (s *Stand) extinctionPerG() float64 { return s.params.ExtinctionPerG(s.planting.PlantsPerM2) }

// LeafAreaIndex fills dst (length N, nil allocates) with the crop's leaf area,
// m² per m² of ground.
func (s *Stand) LeafAreaIndex(dst []float64) []float64 {
	dst = s.into(dst)
	area := s.params.LeafAreaM2PerG * s.planting.PlantsPerM2
	for d, mass := range s.totalG {
		dst[d] = mass * area
	}
	return dst
}

// GroundLight fills dst (length N, nil allocates) with the share of light that
// reaches the ground through the crop alone (Beer–Lambert); weeds are no
// shade. It is 1 before emergence.
func (s *Stand) GroundLight(dst []float64) []float64 {
	dst = s.into(dst)
	extinction := s.extinctionPerG()
	for d, mass := range s.totalG {
		dst[d] = math.Exp(-extinction * mass)
	}
	return dst
}

// caughtLight gives the shares of light that a tall and a short canopy catch
// when they grow mixed, each with its leaves spread evenly over its height:
// the tall one alone above the short one's top, both by k·LAI below it. tallX
// and shortX are k·LAI, the heights in one unit, tallCM > 0.
// Spitters & Aerts 1983; Barillot et al. 2011.
func caughtLight(tallX, tallCM, shortX, shortCM float64) (tall, short float64) {
	above := tallX * (1 - shortCM/tallCM)
	below := tallX - above
	mixed := below + shortX
	if mixed == 0 {
		return 1 - exp(-above), 0
	}
	through := exp(-above)
	perX := -through * math.Expm1(-mixed) / mixed
	return 1 - through + perX*below, perX * shortX
}
