package forecast

import (
	"context"
	"math"
	"slices"
	"strings"

	"wintertop/weather/table"
)

// answer chooses the areas, prices other shares of winters, and says what to do
// where the wanted one cannot be had.
func (p *planner) answer(ctx context.Context, areaMaxM2 float64) error {
	winters, n := len(p.years), len(p.years)*fifths
	may, _ := mayGiveUp(winters, p.plan.Wanted)
	plans := map[int]areaPlan{}
	least := func(giveUp int) areaPlan {
		if _, known := plans[giveUp]; !known {
			plans[giveUp] = p.supply.plainer(p.supply.least(giveUp))
		}
		return plans[giveUp]
	}
	wanted := slices.Clone(prices)
	if !slices.Contains(wanted, p.plan.Wanted) {
		wanted = append(wanted, p.plan.Wanted)
	}
	slices.Sort(wanted)
	for _, share := range wanted {
		giveUp, enough := mayGiveUp(winters, share)
		price := Price{Wanted: share, Kept: float64(n-giveUp) / fifths, AreaM2: math.NaN(), BoundM2: math.NaN(), Enough: enough}
		if plan := least(giveUp); plan.ok {
			price.AreaM2, price.BoundM2 = plan.total, plan.bound
		}
		p.plan.Prices = append(p.plan.Prices, price)
	}
	fits := func(plan areaPlan) bool { return plan.ok && (areaMaxM2 == 0 || plan.total <= areaMaxM2) }
	chosen := least(may)
	if !fits(chosen) {
		var err error
		if p.plan.Short, p.plan.Instead, err = p.why(ctx, chosen, may, areaMaxM2); err != nil {
			return err
		}
		low, high := may+1, n // the fewest courses to give up lie in low..high; n is none kept
		for low < high {
			if middle := (low + high) / 2; fits(least(middle)) {
				high = middle
			} else {
				low = middle + 1
			}
		}
		may = low
		if may >= n {
			if chosen.ok { // it is the land that no winter makes do with
				p.plan.Instead = "ask for less or find more land"
			}
			p.weeks(areaPlan{})
			return nil
		}
		chosen = least(may)
	}
	p.plan.AreaM2, p.plan.BoundM2 = chosen.total, chosen.bound
	p.rows(chosen)
	p.weeks(chosen)
	return nil
}

// rows lays out what to sow.
func (p *planner) rows(plan areaPlan) {
	met := p.supply.met(plan)
	for _, is := range met {
		if is {
			p.plan.Met += 1. / fifths
		}
	}
	parts := make([][]SowPart, len(p.periods))
	for j, w := range p.ways {
		s := p.sowings[w.sowing]
		line := p.lines[w.line]
		row := SowRow{Place: s.place.Name, Line: p.trial.Lines[line].Name, From: s.monday, Until: s.monday + 6, YieldKGPerM2: w.yieldKG,
			LiftWorst: 1, Notes: p.learning.Lines[line].Notes}
		weight := 0.0
		for k, period := range p.periods {
			m2 := plan.areaM2[k][j]
			if m2 < leastPlotM2 {
				continue
			}
			if row.AreaM2 == 0 {
				row.First = period.From
			}
			row.AreaM2 += m2
			row.Last = period.Until
			for course, is := range met {
				if is {
					share := p.lift[k][j][course]
					row.LiftMean, weight = row.LiftMean+m2*share, weight+m2
					row.LiftWorst = min(row.LiftWorst, share)
				}
			}
			parts[k] = append(parts[k], SowPart{len(p.plan.Rows), m2})
		}
		if row.AreaM2 > 0 {
			row.LiftMean /= weight
			p.plan.Rows = append(p.plan.Rows, row)
		}
	}
	// Largest area first.
	order := numbers(len(p.plan.Rows))
	slices.SortStableFunc(order, func(a, b int) int {
		switch x, y := p.plan.Rows[a].AreaM2, p.plan.Rows[b].AreaM2; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	rows, at := make([]SowRow, len(order)), make([]int, len(order))
	for i, o := range order {
		rows[i], at[o] = p.plan.Rows[o], i
	}
	p.plan.Rows = rows
	for _, of := range parts {
		for i := range of {
			of[i].Row = at[of[i].Row]
		}
		slices.SortFunc(of, func(a, b SowPart) int { return a.Row - b.Row })
		p.plan.Weeks = append(p.plan.Weeks, SowWeek{Parts: of})
	}
}

// leastPlotM2 is the area below which a part of a plan is rounding.
const leastPlotM2 = 1e-6

// weeks lays out how the demand is met.
func (p *planner) weeks(plan areaPlan) {
	for k, period := range p.periods {
		if len(p.plan.Weeks) == k {
			p.plan.Weeks = append(p.plan.Weeks, SowWeek{})
		}
		w := &p.plan.Weeks[k]
		w.Period, w.FitDays, w.NoFit, w.RootFrosts = period, p.land.fitDays[k], p.land.noFit[k], p.land.rootFrosts[k]
		p.plan.FitKnown = !math.IsNaN(w.FitDays)
		if !plan.ok {
			continue
		}
		for _, part := range w.Parts {
			w.AreaM2 += part.AreaM2
		}
		courses := len(p.years) * fifths
		for course := range courses {
			share := p.supply.share(plan, k, course)
			w.MeanKG += share * period.KG / float64(courses)
			if share >= enough {
				w.Met += 1. / fifths
			}
		}
	}
}

// findings name what the plan leaves out.
func (p *planner) findings(trial *Trial) table.Findings {
	if len(p.plan.LeftOut) == 0 {
		return nil
	}
	file, _ := trial.Files.name(trial.Files.Lines, "lines.csv")
	return table.Findings{{File: file, Severity: table.Note, TreatedAs: "not sown", What: "not in the plan: " + strings.Join(p.plan.LeftOut, ", "),
		Hint: "a line is sown for sale once a winter's notes tell of its top"}}
}
