package forecast

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wintertop/canopy"
	"wintertop/weather"
	"wintertop/weather/table"
)

// without gives the trial without the notes of one winter.
func (t *Trial) without(w weather.WinterYear) *Trial {
	left := *t
	left.Notes = nil
	winterOf := map[string]weather.WinterYear{}
	for _, p := range t.Plantings {
		winterOf[p.Name] = p.Winter
	}
	for _, n := range t.Notes {
		if winterOf[n.Planting] != w {
			left.Notes = append(left.Notes, n)
		}
	}
	return &left
}

// verifyNotes forecasts every outcome at a place as of each lead, its winter
// left out of the weather played and of the notes learned from.
func verifyNotes(ctx context.Context, trial *Trial, p *Place, winters []weather.WinterYear, window func(weather.WinterYear) (from, to weather.Date)) ([]Score, []OddsClass, table.Findings, error) {
	all := outcomesOf(trial, p, window)
	var findings table.Findings
	judgedBy := map[string][4][]judged{} // by what
	add := func(what string, lead int, j judged) {
		by := judgedBy[what]
		by[lead] = append(by[lead], j)
		judgedBy[what] = by
	}
	kept := make([]outcome, 0, len(all))
	for _, w := range noted(all) {
		if !slices.Contains(winters, w) || len(winters) < 2 {
			findings = append(findings, table.Finding{File: p.Record.File, Severity: table.Note, TreatedAs: "not verified",
				What: fmt.Sprintf("the notes of %s are not verified: its weather is not complete, or no other winter is", w)})
			continue
		}
		of := slices.DeleteFunc(slices.Clone(all), func(o outcome) bool { return o.winter != w })
		kept = append(kept, of...)
		left := trial.without(w)
		learning, _, err := Learn(ctx, left)
		if err != nil {
			return nil, nil, nil, err
		}
		for k, lead := range leads(w) {
			forecasts, err := learning.hindcast(ctx, left, p, w, others(winters, w), lead, of)
			if err != nil {
				return nil, nil, nil, err
			}
			for i, o := range of {
				add(o.what, k, forecasts[i])
			}
		}
	}
	var scores []Score
	for _, what := range []string{WhatLeafMass, WhatTopHeight, WhatLift} {
		var own, last, base []judged
		for _, o := range kept {
			if o.what != what {
				continue
			}
			judge := judgeValue
			if what == WhatLift {
				judge = judgeChance
			}
			a, b, c := notebook(kept, o)
			for _, m := range []struct {
				value float64
				to    *[]judged
			}{{a, &own}, {b, &last}, {c, &base}} {
				if !math.IsNaN(m.value) {
					*m.to = append(*m.to, judge(m.value, o.value))
				}
			}
		}
		if len(kept) == 0 {
			continue
		}
		w := kept[0].winter
		from, _ := window(w)
		for k, lead := range leads(w) {
			days := int(from - lead)
			if by := judgedBy[what][k]; len(by) > 0 {
				scores = append(scores, tallied(what, ByForecast, days, by), tallied(what, ByOwnMean, days, own), tallied(what, ByLastWinter, days, last))
				if what == WhatLift {
					scores = append(scores, tallied(what, ByBaseRate, days, base))
				}
			}
		}
	}
	return scores, oddsClasses(judgedBy[WhatLift]), findings, nil
}

// noted gives the winters of some outcomes, in order.
func noted(all []outcome) []weather.WinterYear {
	var winters []weather.WinterYear
	for _, o := range all {
		if !slices.Contains(winters, o.winter) {
			winters = append(winters, o.winter)
		}
	}
	slices.SortFunc(winters, func(a, b weather.WinterYear) int { return a.Year - b.Year })
	return winters
}

// hindcast plays one winter from a lead on and judges the forecast of each
// outcome.
func (l *Learning) hindcast(ctx context.Context, trial *Trial, p *Place, w weather.WinterYear, past []weather.WinterYear, lead weather.Date, of []outcome) ([]judged, error) {
	rows, crops := l.rowsOf(trial, p, w)
	first, last := crops[0].sown, of[0].date
	for _, c := range crops {
		first = min(first, c.sown)
	}
	for _, o := range of {
		last = max(last, o.date)
	}
	t, _, err := tracesOf(p, past, first, lead, last, nil)
	if err != nil {
		return nil, err
	}
	lifting := canopy.NewLifting(p.Site.Canopy)
	wanted := lifting.Wanted(p.Site.Params.WantedShare)
	out := make([]judged, len(of))
	for c := range crops {
		err := newStage(l.grid, l.params, crops[c], t).play(ctx, func(f *field) error {
			for i, o := range of {
				if o.date != f.date {
					continue
				}
				for _, r := range rows {
					if r.crop == c && slices.ContainsFunc(r.plantings, func(q *Planting) bool { return q.Name == o.planting }) {
						out[i] = l.judge(r, f, o, p.Site.Canopy, wanted)
					}
				}
			}
			return ctx.Err()
		})
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// judge compares one row's forecast on one day with what was noted. To the
// spread over traits and weather come the plot's and the trial's deviation and
// that of the plants noted.
func (l *Learning) judge(r *row, f *field, o outcome, stand canopy.Params, wanted *canopy.Wanted) judged {
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
				least := lnOrLow(wanted.LeastHeightCM(f.leafG[at])) - lnOrLow(f.height[at])
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
		b := height.blurred(math.Hypot(l.params.PlotHeightSDLn, stand.HeightLnSD/math.Sqrt(float64(o.plants))))
		x, weight := b.points()
		return judgeSpread(x, weight, o.value)
	}
	return judgeChance(chance, o.value)
}

// oddsClasses compares chances with what came true, tenth by tenth.
func oddsClasses(byLead [4][]judged) []OddsClass {
	var sums [10]struct{ chance, came, n float64 }
	for _, lead := range byLead {
		for _, j := range lead {
			c := &sums[min(int(j.chance*10), 9)]
			c.chance, c.came, c.n = c.chance+j.chance, c.came+j.came, c.n+1
		}
	}
	var classes []OddsClass
	for _, c := range sums {
		if c.n > 0 {
			low, high := wilson(c.came, c.n)
			classes = append(classes, OddsClass{Chance: c.chance / c.n, Seen: c.came / c.n, N: int(c.n), Low: low, High: high})
		}
	}
	return classes
}
