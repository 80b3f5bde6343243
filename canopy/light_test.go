package canopy

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestCaughtLight(t *testing.T) {
	// Spitters & Aerts 1983, formulas; worked for crop L = 2, k = 0.5 and
	// weed L = 1, k = 0.7, from memory and recomputed.
	crop, weed := caughtLight(2*0.5, 10, 1*0.7, 10)
	near(t, "mixed, together", crop+weed, 0.81732, 5e-6)
	near(t, "mixed, crop", crop, 0.48077, 5e-6)
	near(t, "mixed, weed", weed, 0.33654, 5e-6)
	crop, weed = caughtLight(2*0.5, 10, 1*0.7, 0)
	near(t, "crop on top, crop", crop, 0.63212, 5e-6)
	near(t, "crop on top, weed", weed, 0.18520, 5e-6)
	near(t, "crop on top, together", crop+weed, 0.81732, 5e-6)
}

func TestGroundLight(t *testing.T) {
	// Beer–Lambert at k 0.5: LAI 4.605 lets 10 % through, 5.991 5 %, 2
	// 0.3679; recomputed.
	p := Standard()
	p.CropExtinction = 0.5
	s := Sow(made, []Traits{{1, -9}, {1, -9}, {1, -9}, {1, -9}}, p)
	for d, lai := range []float64{4.605, 5.991, 2, 0} {
		s.totalG[d] = lai / (p.LeafAreaM2PerG * made.PlantsPerM2)
		near(t, "leaf area index", s.LeafAreaIndex(nil)[d], lai, 1e-12)
		near(t, "ground light", s.GroundLight(nil)[d], []float64{0.1, 0.05, 0.3679, 1}[d], 5e-5)
	}
}

// Two canopies in thin layers, Beer–Lambert from the top down.
func layerByLayer(tallX, tallCM, shortX, shortCM float64) (tall, short float64) {
	const layers = 20000
	light := 1.0
	for i := range layers {
		x := tallX / layers
		y := 0.0
		if middle := tallCM * (1 - (float64(i)+0.5)/layers); middle < shortCM {
			y = shortX / layers * tallCM / shortCM
		}
		if x+y > 0 {
			caught := light * -math.Expm1(-x-y)
			tall += caught * x / (x + y)
			short += caught * y / (x + y)
			light -= caught
		}
	}
	return tall, short
}

func TestCaughtLightLayerByLayer(t *testing.T) {
	for _, c := range [][4]float64{{2.4, 40, 0.3, 5}, {2.4, 12, 2.8, 11}, {0.4, 9, 1.5, 8}, {1, 20, 0, 5}, {0, 10, 1, 5}} {
		tall, short := caughtLight(c[0], c[1], c[2], c[3])
		wantTall, wantShort := layerByLayer(c[0], c[1], c[2], c[3])
		near(t, "tall", tall, wantTall, 2e-4)
		near(t, "short", short, wantShort, 2e-4)
	}
}

func TestLightIsConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tallX := rapid.Float64Range(0, 6).Draw(t, "tall k·LAI")
		shortX := rapid.Float64Range(0, 6).Draw(t, "short k·LAI")
		shortCM := rapid.Float64Range(0, 40).Draw(t, "short cm")
		tall, short := caughtLight(tallX, 40, shortX, shortCM)
		if !(tall >= 0 && short >= 0) || math.Abs(tall+short+math.Expm1(-tallX-shortX)) > 1e-14 {
			t.Fatalf("caught %v and %v", tall, short)
		}
	})
}

func TestWeedLight(t *testing.T) {
	p := Standard()
	near(t, "in the open", p.weedLight(0, 0, 1), 1, 0)
	near(t, "crop of hardly any leaf", p.weedLight(1e-9, 30, 1), 1, 1e-8)
	// As tall as its weed of leaf area 1: Spitters & Aerts's worked case, over
	// what the weed would catch alone.
	near(t, "mixed", p.weedLight(2*0.5, p.WeedLeastCM+p.WeedCMPerLAI, 1), 0.33654/(1-math.Exp(-0.7)), 1e-5)
	// Hardly any weed: all its leaves see the light let through above its
	// top, times the mean of exp(-k·LAI) over the crop's leaf below it.
	const cropX, cropCM = 2.0, 30.0
	below := cropX * p.WeedLeastCM / cropCM
	near(t, "hardly any weed", p.weedLight(cropX, cropCM, 1e-12),
		math.Exp(below-cropX)*(1-math.Exp(-below))/below, 1e-9)
	rapid.Check(t, func(t *rapid.T) {
		area := rapid.Float64Range(1e-4, 4).Draw(t, "weed LAI")
		cropX := rapid.Float64Range(0, 5).Draw(t, "crop k·LAI")
		low, high := rapid.Float64Range(1, 40).Draw(t, "cm"), rapid.Float64Range(0, 20).Draw(t, "taller by cm")
		light, taller := p.weedLight(cropX, low, area), p.weedLight(cropX, low+high, area)
		denser := p.weedLight(cropX*1.1, low, area)
		const slack = 1e-10 // rounding, over the light that a weed of least area catches
		if !(light >= 0 && light <= 1+slack) || taller > light+slack || denser > light+slack {
			t.Fatalf("light %v, under a taller crop %v, under a denser one %v", light, taller, denser)
		}
	})
}
