package forecast

import (
	"context"
	"math"

	"wintertop/canopy"
)

// hindDay is a noted day of a hindcast: the field, and what all its notes
// share, by course and grid node.
type hindDay struct {
	field
	nodes    []int     // that the notes' rows need
	massStep []int     // where the leaf mass stands in its spread
	heightLn []float64 // of the relative height
	// leastLn is ln of the least top length that lifts the wanted share, for each of
	// the sizes within a node's step.
	leastLn [][len(withinStep)]float64
}

// place works out what all notes of the day share. The error is ctx's.
func (d *hindDay) place(ctx context.Context, wanted *canopy.Wanted, sizeStep float64) error {
	n, scale := len(d.leafG), spreadOfLeafG()
	d.massStep, d.heightLn, d.leastLn = make([]int, n), make([]float64, n), make([][len(withinStep)]float64, n)
	return inParallel(ctx, d.courses, func(course int) error {
		for _, node := range d.nodes {
			i := course*gridNodes + node
			massLn := lnOrLow(d.leafG[i])
			d.massStep[i], d.heightLn[i] = scale.stepOn(massLn), lnOrLow(d.height[i])
			for k, within := range withinStep {
				d.leastLn[i][k] = wanted.LeastLnHeight(massLn+within*sizeStep) - d.heightLn[i]
			}
		}
		return nil
	})
}

// judge compares one row's forecast on one day with what was noted. To the
// spread over traits and weather come the plot's and the trial's deviation and
// that of the plants noted.
func (h *hindcast) judge(r *row, d *hindDay, o outcome) judged {
	stand, params := h.place.Site.Canopy, h.learning.params
	plants, courses := math.Sqrt(float64(o.plants)), float64(d.courses)
	switch o.what {
	case WhatLeafMass:
		mass := spreadOfLeafG() // dry
		d.each(r, func(at, _ int, w float64) { mass.addAt(d.massStep[at], d.leafG[at], w/courses) })
		b := mass.blurred(mass.bell(math.Hypot(r.doubtSD, stand.MassLnSD/plants)))
		x, weight := b.points()
		for i := range x {
			x[i] /= stand.DryShare
		}
		return judgeSpread(x, weight, o.value)
	case WhatTopHeight:
		height := spreadOfHeightCM()
		d.each(r, func(at, i int, w float64) {
			for q, ln := range r.stake.lengths(i) {
				height.addAt(height.stepOn(d.heightLn[at]+ln), d.height[at]*r.stake.lengthCM[i*lengthPoints+q], w/(courses*lengthPoints))
			}
		})
		b := height.blurred(height.bell(math.Hypot(params.PlotHeightSDLn, stand.HeightLnSD/plants)))
		x, weight := b.points()
		return judgeSpread(x, weight, o.value)
	}
	chance := 0.0
	d.each(r, func(at, i int, w float64) {
		for _, least := range d.leastLn[at] {
			chance += w / (courses * float64(len(withinStep))) * r.stake.longer(i, least)
		}
	})
	return judgeChance(chance, o.value)
}

// each calls do for every course and node of a row's core: at is the place in
// the field, i that in the stake, w the weight.
func (d *hindDay) each(r *row, do func(at, i int, w float64)) {
	for course := range d.courses {
		for k, i := range r.stake.core {
			do(course*gridNodes+r.stake.nodes[i], i, r.stake.inCore[k])
		}
	}
}
