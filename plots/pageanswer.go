package plots

import (
	"fmt"
	"strings"

	"wintertop/forecast"
)

// answer is the pick of one place.
type answer struct {
	Place, WhatToDo, Odds string
	LeftOut               []string
	Window, EndDay        string
	FitDays               string // how many are left; "" where not known
	Rows                  []answerRow
	Calendar              twinChart
}

type answerRow struct {
	Rank                                        int
	Name, Note, Verdict, Meaning, Reason, Class string
	EndOdds, Best, Leaf, Shaded, Basis, Tied    string
	EndParts                                    []string
	Brief                                       bool // one of many, of which a phone shows little
}

func answerOf(p *forecast.Picks, id string) (answer, error) {
	names := pickNames(p)
	a := answer{Place: plain(p.Place), WhatToDo: p.Answer(names), Odds: oddsWords(p),
		Window: windowWords(p), EndDay: dayMonth(p.To)}
	if len(p.Rows) > 0 && len(p.Rows[0].Dates) > 0 {
		if left := p.Rows[0].Dates[0].FitDaysLeft; finite(left) {
			a.FitDays = fmt.Sprintf("Days fit for machinery from %s to %s: %s in the mean of the past winters.", dayMonth(p.AsOf), dayMonth(p.To), number(left, 0))
		}
	}
	for _, year := range p.LeftOutYears {
		a.LeftOut = append(a.LeftOut, plain(year))
	}
	for i, r := range p.Rows {
		row := answerRowOf(p, r, names[i])
		row.Brief = isBrief(p, i)
		a.Rows = append(a.Rows, row)
	}
	wide, err := wideCalendar(p)
	if err != nil {
		return a, err
	}
	wide.bare = true
	a.Calendar, err = twinOf(p.Place, "", wide.chart(), phoneCalendar(p), id)
	return a, err
}

func answerRowOf(p *forecast.Picks, r forecast.Pick, name string) answerRow {
	verdict, meaning := verdictWords(p, r)
	row := answerRow{Rank: r.Rank, Name: name, Note: rowNote(r), Verdict: verdict, Meaning: meaning, Reason: plain(r.Reason),
		Class: strings.ReplaceAll(verdict, " ", "-"), Best: number(100*r.ChanceBest, 0) + " %", Basis: plain(r.Basis), Tied: r.Tied.Ranges()}
	if finite(r.LeafEndG) {
		row.Leaf = number(r.LeafEndG, 1) + " g"
	}
	if r.HasShaded {
		row.Shaded = dayMonth(r.ShadedUntil)
	}
	if r.Basis != "assumed" {
		row.Basis = counted(r.Notes, "value")
	}
	if n := len(r.Dates); n > 0 {
		end := r.Dates[n-1]
		row.EndOdds = percent(end.All) + " %"
		row.EndParts = []string{"belts " + percent(end.Lift) + " %,", "shade " + percent(end.Shaded) + " %"}
		if finite(end.RootNoFrost) {
			row.EndParts[1] += ","
			row.EndParts = append(row.EndParts, "roots "+percent(end.RootNoFrost)+" %")
		}
	}
	return row
}
