package forecast

import (
	"context"
	"math"

	"wintertop/canopy"
)

// hindDay is a noted day of a hindcast: the field at the nodes that the notes' rows
// need, and what all notes share, laid out like it.
type hindDay struct {
	field
	draws    drawn
	massStep []int     // where the leaf mass stands in its spread
	heightLn []float64 // of the relative height
	// leastLn is ln of the least top length that lifts the wanted share, for each of
	// the sizes within a node's step.
	leastLn [][len(withinStep)]float64
}

// place works out what all notes of the day share. The error is ctx's.
func (d *hindDay) place(ctx context.Context, wanted *canopy.Wanted, sizeStep float64) error {
	n, scale := d.courses*d.nodes, spreadOfLeafG()
	d.massStep, d.heightLn, d.leastLn = resized(d.massStep, n), resized(d.heightLn, n), resized(d.leastLn, n)
	return inParallel(ctx, d.courses, func(course int) error {
		for i := course * d.nodes; i < (course+1)*d.nodes; i++ {
			massLn := lnOrLow(d.leafG[i])
			d.massStep[i], d.heightLn[i] = scale.stepOn(massLn), lnOrLow(d.height[i])
			for q, within := range withinStep {
				d.leastLn[i][q] = wanted.LeastLnHeight(massLn+within*sizeStep) - d.heightLn[i]
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
		height, lengths := spreadOfHeightCM(), r.stake.coreLengths()
		d.each(r, func(at, k int, w float64) {
			for _, length := range lengths[k*lengthPoints:][:lengthPoints] {
				height.addAt(height.stepOn(d.heightLn[at]+length.ln), d.height[at]*length.cm, w/(courses*lengthPoints))
			}
		})
		b := height.blurred(height.bell(math.Hypot(params.PlotHeightSDLn, stand.HeightLnSD/plants)))
		x, weight := b.points()
		return judgeSpread(x, weight, o.value)
	}
	chance := 0.0
	var lengths tail
	for k, i := range r.stake.core {
		lengths = r.stake.tail(i, lengths)
		place, sum := d.draws.place[r.stake.nodes[i]], 0.0
		for course := range d.courses {
			for _, least := range d.leastLn[course*d.nodes+place] {
				sum += lengths.longer(least)
			}
		}
		chance += r.stake.inCore[k] * sum / (courses * float64(len(withinStep)))
	}
	return judgeChance(chance, o.value)
}

// each calls do for every course and node of a row's core: at is its place in the
// field, k that in the core, w its weight.
func (d *hindDay) each(r *row, do func(at, k int, w float64)) {
	for course := range d.courses {
		for k, i := range r.stake.core {
			do(course*d.nodes+d.draws.place[r.stake.nodes[i]], k, r.stake.inCore[k])
		}
	}
}
