package forecast

import (
	"context"
	"math"
	"slices"

	"wintertop/canopy"
	"wintertop/weather"
)

// hindcast is a past winter to be forecast again from what was learned without
// it. Of its crops only leaf mass and height are asked for, on the noted days.
type hindcast struct {
	learning *Learning
	place    *Place
	past     []weather.WinterYear // to be played
	of       []outcome            // what came true
	rows     []*row
	crops    []crop
	wanted   *canopy.Wanted
	first    weather.Date // by which every crop is sown
	last     weather.Date // last noted day
}

// hindcast prepares to forecast what was noted in one winter. The trial holds
// no notes of it.
func (l *Learning) hindcast(trial *Trial, p *Place, w weather.WinterYear, past []weather.WinterYear, of []outcome) *hindcast {
	h := &hindcast{learning: l, place: p, past: past, of: of, first: of[0].date, last: of[0].date}
	h.rows, h.crops = l.rowsOf(trial, p, w)
	for _, c := range h.crops {
		h.first = min(h.first, c.sown)
	}
	for _, o := range of {
		h.last = max(h.last, o.date)
	}
	for i := range h.crops {
		h.crops[i].cultivated = h.last // weeds change neither leaf nor height: none are grown
	}
	h.wanted = canopy.NewLifting(p.Site.Canopy).Wanted(p.Site.Params.WantedShare)
	return h
}

// from forecasts each outcome as of a lead and judges it.
func (h *hindcast) from(ctx context.Context, lead weather.Date) ([]judged, error) {
	t, _, err := tracesOf(h.place, h.past, h.first, lead, h.last, nil)
	if err != nil {
		return nil, err
	}
	out := make([]judged, len(h.of))
	for c := range h.crops {
		rows, days := make([]*row, len(h.of)), map[weather.Date]*field{}
		for i, o := range h.of {
			at := slices.IndexFunc(h.rows, func(r *row) bool {
				return r.crop == c && slices.ContainsFunc(r.plantings, func(q *Planting) bool { return q.Name == o.planting })
			})
			if at >= 0 {
				rows[i], days[o.date] = h.rows[at], &field{}
			}
		}
		if len(days) == 0 {
			continue
		}
		if err := h.play(ctx, h.crops[c], drawsOf(rows), t, days); err != nil {
			return nil, err
		}
		err := inParallel(ctx, len(h.of), func(i int) error {
			if rows[i] != nil {
				out[i] = h.judge(rows[i], days[h.of[i].date], h.of[i])
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// drawsOf gives the canopy's draws, ascending, that the nodes in use of some
// rows need; rows may be nil.
func drawsOf(rows []*row) []int {
	needed := make([]bool, nodeSizes*gridHards)
	for _, r := range rows {
		if r == nil {
			continue
		}
		for _, node := range r.stake.nodes {
			size, hard := node/gridHards, node%gridHards
			needed[size/2*gridHards+hard] = true
			needed[(size+1)/2*gridHards+hard] = true // the same where size is even
		}
	}
	var draws []int
	for d, is := range needed {
		if is {
			draws = append(draws, d)
		}
	}
	return draws
}

// play runs some draws of a crop along the courses of weather and fills the
// fields of the wanted days at the nodes that those draws serve. The observed
// days are run once; each past winter goes on from a copy of the stand.
func (h *hindcast) play(ctx context.Context, c crop, draws []int, t traces, days map[weather.Date]*field) error {
	traits := make([]canopy.Traits, len(draws))
	for i, d := range draws {
		traits[i] = h.learning.grid.draws[d]
	}
	seen := t.courses[0]
	for date, f := range days {
		f.date, f.courses, f.observed = date, len(t.courses), seen.Index(date) <= t.common
		if f.observed {
			f.courses = 1
		}
		f.leafG, f.height = make([]float64, f.courses*gridNodes), make([]float64, f.courses*gridNodes)
	}
	reading := func(w *weather.Winter, course int) func(int, *canopy.Stand) {
		few, whole := make([]float64, len(draws)), make([]float64, len(h.learning.grid.draws))
		spreadOut := func(x []float64) []float64 {
			for i, d := range draws {
				whole[d] = x[i]
			}
			return whole
		}
		return func(day int, s *canopy.Stand) {
			f := days[w.First+weather.Date(day)]
			if f == nil {
				return
			}
			at := course * gridNodes
			h.learning.grid.refineLog(f.leafG[at:at+gridNodes], spreadOut(s.LeafG(few)), h.learning.params.MassOffsetG)
			h.learning.grid.refine(f.height[at:at+gridNodes], spreadOut(s.RelativeHeight(few)))
		}
	}
	stand, sown := c.sow(traits), seen.Index(c.sown)
	stand.Grow(seen, sown, t.common, reading(seen, 0))
	return inParallel(ctx, len(t.courses), func(i int) error {
		w := t.courses[i]
		stand.Clone().Grow(w, max(t.common+1, sown), len(w.Days)-1, reading(w, i))
		return nil
	})
}

// judge compares one row's forecast on one day with what was noted. To the
// spread over traits and weather come the plot's and the trial's deviation and
// that of the plants noted.
func (h *hindcast) judge(r *row, f *field, o outcome) judged {
	stand, params := h.place.Site.Canopy, h.learning.params
	mass, height, chance := spreadOfLeafG(), spreadOfHeightCM(), 0.0
	for course := range f.courses {
		for i, node := range r.stake.nodes {
			at, w := course*gridNodes+node, r.stake.weight[i]/float64(f.courses)
			switch o.what {
			case WhatLeafMass:
				mass.add(f.leafG[at]/stand.DryShare, w)
			case WhatTopHeight:
				for _, cm := range r.stake.lengthCM[i*lengthPoints:][:lengthPoints] {
					height.add(f.height[at]*cm, w/lengthPoints)
				}
			case WhatLift:
				least := h.wanted.LeastLnHeight(lnOrLow(f.leafG[at])) - lnOrLow(f.height[at])
				chance += w * r.stake.longer(i, least)
			}
		}
	}
	switch o.what {
	case WhatLeafMass:
		b := mass.blurred(math.Hypot(r.doubtSD, stand.MassLnSD/math.Sqrt(float64(o.plants))))
		x, weight := b.points()
		return judgeSpread(x, weight, o.value)
	case WhatTopHeight:
		b := height.blurred(math.Hypot(params.PlotHeightSDLn, stand.HeightLnSD/math.Sqrt(float64(o.plants))))
		x, weight := b.points()
		return judgeSpread(x, weight, o.value)
	}
	return judgeChance(chance, o.value)
}
