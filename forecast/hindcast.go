package forecast

import (
	"context"
	"slices"
	"sync"

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
	days     map[weather.Date]*hindDay // room for what was noted, of lead after lead
	spare    sync.Pool                 // stands that are needed no more
	first    weather.Date              // by which every crop is sown
	last     weather.Date              // last noted day
}

// hindcast prepares to forecast what was noted in one winter, of which nothing
// was learned. The error is ctx's.
func (l *Learning) hindcast(ctx context.Context, trial *Trial, p *Place, w weather.WinterYear, past []weather.WinterYear, of []outcome) (*hindcast, error) {
	h := &hindcast{learning: l, place: p, past: past, of: of, days: map[weather.Date]*hindDay{}, spare: sync.Pool{New: func() any { return &canopy.Stand{} }}, first: of[0].date, last: of[0].date}
	var err error
	if h.rows, h.crops, err = l.rowsOf(ctx, trial, p, w); err != nil {
		return nil, err
	}
	for _, c := range h.crops {
		h.first = min(h.first, c.sown)
	}
	for _, o := range of {
		h.last, h.days[o.date] = max(h.last, o.date), &hindDay{}
	}
	for i := range h.crops {
		h.crops[i].cultivated = h.last // weeds change neither leaf nor height: none are grown
	}
	return h, nil
}

// from forecasts each outcome as of a lead and judges it.
func (h *hindcast) from(ctx context.Context, lead weather.Date) ([]judged, error) {
	t, _, err := tracesOf(h.place, h.past, h.first, lead, h.last, nil)
	if err != nil {
		return nil, err
	}
	out := make([]judged, len(h.of))
	for c := range h.crops {
		rows, days := make([]*row, len(h.of)), map[weather.Date]*hindDay{}
		for i, o := range h.of {
			at := slices.IndexFunc(h.rows, func(r *row) bool {
				return r.crop == c && slices.ContainsFunc(r.plantings, func(q *Planting) bool { return q.Name == o.planting })
			})
			if at >= 0 {
				rows[i], days[o.date] = h.rows[at], h.days[o.date]
			}
		}
		if len(days) == 0 {
			continue
		}
		if err := h.play(ctx, h.crops[c], h.learning.grid.drawnFor(stakesOf(rows), true), t, days); err != nil {
			return nil, err
		}
		for _, day := range days {
			if err := day.place(ctx, h.place.wantedHeights(), h.learning.grid.sizeStep()); err != nil {
				return nil, err
			}
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

// play runs some draws of a crop along the courses of weather and fills the
// fields of the wanted days at the nodes that those draws serve. The observed
// days are run once; each past winter goes on from a copy of the stand.
func (h *hindcast) play(ctx context.Context, c crop, draws drawn, t traces, days map[weather.Date]*hindDay) error {
	seen := t.courses[0]
	for date, f := range days {
		f.draws, f.nodes, f.date, f.courses, f.observed = draws, len(draws.nodes), date, len(t.courses), seen.Index(date) <= t.common
		if f.observed {
			f.courses = 1
		}
		f.leafG, f.height = resized(f.leafG, f.courses*f.nodes), resized(f.height, f.courses*f.nodes)
	}
	reading := func(w *weather.Winter, course int) func(int, *canopy.Stand) {
		run := make([]float64, len(draws.at))
		return func(day int, s *canopy.Stand) {
			f := days[w.First+weather.Date(day)]
			if f == nil {
				return
			}
			at := course * f.nodes
			draws.refineLog(f.leafG[at:at+f.nodes], s.LeafG(run), h.learning.params.MassOffsetG)
			draws.refine(f.height[at:at+f.nodes], s.RelativeHeight(run))
		}
	}
	stand, sown := c.sow(draws.traits()), seen.Index(c.sown)
	stand.Grow(seen, sown, t.common, reading(seen, 0))
	return inParallel(ctx, len(t.courses), func(i int) error {
		w, own := t.courses[i], stand.CloneIn(h.spare.Get().(*canopy.Stand))
		own.Grow(w, max(t.common+1, sown), len(w.Days)-1, reading(w, i))
		h.spare.Put(own)
		return nil
	})
}

// resized gives n numbers in the room of others that are needed no more, where
// they have it; what stands there means nothing.
func resized[T any](room []T, n int) []T { return slices.Grow(room[:0], n)[:n] }
