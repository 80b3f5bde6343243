package forecast

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wintertop/weather"
	"wintertop/weather/table"
)

// verifyNotes forecasts every outcome at a place as of each lead, its winter
// left out of the weather played and of the notes learned from, and adds the
// scores to v.
func (v *Verification) verifyNotes(ctx context.Context, trial *Trial, p *Place, winters []weather.WinterYear, without func(weather.WinterYear) (*Learning, error), window func(weather.WinterYear) (from, to weather.Date)) (table.Findings, error) {
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
		v.NotedWinters++
		learning, err := without(w)
		if err != nil {
			return nil, err
		}
		again, err := learning.hindcast(ctx, trial, p, w, others(winters, w), of)
		if err != nil {
			return nil, err
		}
		for k, lead := range leads(w) {
			forecasts, err := again.from(ctx, lead)
			if err != nil {
				return nil, err
			}
			for i, o := range of {
				add(o.what, k, forecasts[i])
			}
		}
	}
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
				v.Scores = append(v.Scores, tallied(what, ByForecast, days, by), tallied(what, ByOwnMean, days, own), tallied(what, ByLastWinter, days, last))
				if what == WhatLift {
					v.Scores = append(v.Scores, tallied(what, ByBaseRate, days, base))
				}
			}
		}
	}
	v.Odds = oddsClasses(judgedBy[WhatLift])
	return findings, nil
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
