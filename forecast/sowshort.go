package forecast

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wintertop/weather"
)

// why says why a plan for the wanted share of winters cannot be had, and what
// to do instead.
func (p *planner) why(ctx context.Context, plan areaPlan, may int, areaMaxM2 float64) (short, instead string, err error) {
	n := len(p.years) * fifths
	if plan.ok {
		return fmt.Sprintf("area_max is %.0f m², and %.0f m² are needed", areaMaxM2, math.Ceil(plan.total)),
			"ask for less, find more land, or be content with fewer winters", nil
	}
	var weak []int
	held, firm := make([]int, len(p.periods)), 0
	for course := range n {
		every := true
		for k := range p.periods {
			if p.holds(p.lift[k], course) {
				held[k]++
			} else {
				every = false
			}
		}
		if every {
			firm++
		}
	}
	for k := range p.periods {
		if held[k] < n-may {
			weak = append(weak, k)
		}
	}
	switch {
	case firm >= n-may:
		return p.crewWords(p.tightest()), "lift part of it in the weeks before and store it, or find more hands", nil
	case len(weak) == 0:
		instead, err = p.store(ctx, 0, may)
		return fmt.Sprintf("no area does it: there is a line with enough top in every week asked for in only %s of the %d winters played, and %s are needed", inWinters(firm, n-may), len(p.years), inWinters(n-may, firm)), instead, err
	}
	k := weak[0]
	for _, i := range weak {
		if held[i] < held[k] {
			k = i
		}
	}
	short = fmt.Sprintf("no area does it: %s there is a line with enough top in only %s of the %d winters played, and %s are needed",
		p.periods[k].words(), inWinters(held[k], n-may), len(p.years), inWinters(n-may, held[k]))
	if k := p.tightest(); p.crewShort(k) {
		short += "; besides, " + p.crewWords(k)
	}
	instead, err = p.store(ctx, weak[0], may)
	return short, instead, err
}

// tightest gives the period that is nearest to the crew's limit or over it.
func (p *planner) tightest() int {
	k := 0
	for i := range p.periods {
		if p.supply.most[i]/p.periods[i].KG < p.supply.most[k]/p.periods[k].KG {
			k = i
		}
	}
	return k
}

// crewWords says what the crew can lift in a period.
func (p *planner) crewWords(k int) string {
	return fmt.Sprintf("%s the crew can lift %.0f m², over the days fit for machines in the mean winter, and that is too little for %.0f kg",
		p.periods[k].words(), p.supply.most[k], p.periods[k].KG)
}

// crewShort says whether the crew can lift too little in a period even where all
// of the best yield lifts.
func (p *planner) crewShort(k int) bool {
	best := 0.0
	for _, w := range p.ways {
		best = max(best, w.yieldKG)
	}
	return p.supply.most[k]*best < p.periods[k].KG
}

// inWinters says a count of courses in winters, beside another count.
func inWinters(courses, beside int) string {
	return winterCount(float64(courses)/fifths, float64(beside)/fifths)
}

// winterCount says winters that are counted to a fifth; the fifth itself only
// where a count beside it would else read the same and is not.
func winterCount(winters float64, beside ...float64) string {
	for _, other := range beside {
		if math.Abs(other-winters) > 0.5/fifths && math.Round(other) == math.Round(winters) {
			return fmt.Sprintf("%.1f", winters)
		}
	}
	return fmt.Sprintf("%.0f", winters)
}

// holds says whether any way is worth lifting in a course.
func (p *planner) holds(ways [][]float64, course int) bool {
	return slices.ContainsFunc(ways, func(of []float64) bool { return of[course] >= p.learning.params.WorthShare })
}

// store names the last week before a period by which enough winters leave some
// line worth lifting: what the later weeks need is lifted then and stored.
func (p *planner) store(ctx context.Context, period, may int) (string, error) {
	first, _ := demandSeason(p.plan.Winter)
	var mondays []weather.Date
	var days [][]weather.Date
	for monday := mondayOf(first + 6); monday+6 < p.periods[period].From; monday += 7 {
		mondays, days = append(mondays, monday), append(days, []weather.Date{monday, monday + 3, monday + 6})
	}
	const nothing = "no week of the season holds in enough winters: other lines, or roots from elsewhere"
	if len(days) == 0 {
		return nothing, nil
	}
	lift, err := p.lifting(ctx, days)
	if err != nil {
		return "", err
	}
	for k := len(days) - 1; k >= 0; k-- {
		held := 0
		for course := range len(p.years) * fifths {
			if p.holds(lift[k], course) {
				held++
			}
		}
		if held >= len(p.years)*fifths-may {
			words := fmt.Sprintf("lift earlier and store: in the week of %s tops still hold in %s of the %d winters; lift by then what is wanted from %s on",
				dayMonth(mondays[k]), inWinters(held, held), len(p.years), dayMonth(p.periods[period].From))
			ground, err := p.sowings[0].land(ctx, []Period{{From: mondays[k], Until: mondays[k] + 6}}, p.years)
			if err == nil && !math.IsNaN(ground.fitDays[0]) {
				words += "; that week itself has " + daysOf(ground.fitDays[0], "fit day")
			}
			return words, err
		}
	}
	return nothing, nil
}
