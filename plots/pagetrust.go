package plots

import (
	"fmt"

	"wintertop/forecast"
)

// trustSection says how good past forecasts at one place would have been.
type trustSection struct {
	Place   string
	Words   []string
	Picture twinChart
	Scores  *resultGrid
}

func trustSectionOf(v forecast.Verification, number int) (trustSection, error) {
	t := trustSection{Place: plain(v.Place), Words: trustWords(v), Scores: scoresGrid(v)}
	wide := trustLayoutOf(v, false)
	wide.bare = true
	if len(t.Words) == 0 {
		t.Words = []string{wide.finding()}
		return t, nil
	}
	var err error
	t.Picture, err = twinOf("", wide.foot(), wide.chart(), phoneReliability(v), fmt.Sprintf("trust%d", number))
	return t, err
}

// scoresGrid puts the methods side by side, a row for each thing and lead.
func scoresGrid(v forecast.Verification) *resultGrid {
	g := &resultGrid{File: "verify.csv", Heads: []gridHead{{"What", false}, {"Days ahead", true}, {"Forecasts", true}}}
	for _, m := range methodsCompared {
		g.Heads = append(g.Heads, gridHead{"Error: " + m.name, true})
	}
	g.Heads = append(g.Heads, gridHead{"Inside 50 % interval", true}, gridHead{"Inside 90 % interval", true})
	cell := func(text string) gridCell { return gridCell{Text: text, Number: true} }
	for _, t := range verifiedThings {
		decimals, unit := 1, map[string]string{forecast.WhatLeafMass: ", g", forecast.WhatTopHeight: ", cm"}[t.what]
		if t.what == forecast.WhatLift {
			decimals = 3
		}
		for _, lead := range leadsOf(v, t.what) {
			row := gridRow{Cells: []gridCell{{Text: t.head + unit}, cell(number(float64(lead), 0)), cell("–")}}
			at, inside := []int{lead}, []gridCell{cell("–"), cell("–")}
			for _, m := range methodsCompared {
				c, n, _ := curveOf(v, t.what, m.method, at, forecast.Score.Loss)
				row.Cells = append(row.Cells, cell(number(c.at[0], decimals)))
				if m.method == forecast.ByForecast {
					row.Cells[2] = cell(number(float64(n), 0))
				}
			}
			for i, of := range []func(forecast.Score) float64{
				func(s forecast.Score) float64 { return s.Cover50 },
				func(s forecast.Score) float64 { return s.Cover90 },
			} {
				if c, _, ok := curveOf(v, t.what, forecast.ByForecast, at, of); ok {
					inside[i] = cell(wholePercent(c.at[0]) + " %")
				}
			}
			row.Cells = append(row.Cells, inside...)
			g.Rows = append(g.Rows, row)
		}
	}
	if len(g.Rows) == 0 {
		return nil
	}
	return g
}
