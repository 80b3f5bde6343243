package forecast

import (
	"context"
	"slices"
	"testing"

	"wintertop/weather"
)

// The hindcast runs only the draws, days and quantities it needs: where it
// looks, it must see what the outlook sees, to the last bit.
func TestHindcastSeesWhatTheOutlookSees(t *testing.T) {
	trial := loadAsOf(t, folder(t), "2015-03-31")
	l, p, w := learn(t, trial), trial.Places[0], weather.WinterYear{Year: 2014}
	var of []outcome
	dates := []weather.Date{day(t, "2014-11-20"), day(t, "2015-02-10"), day(t, "2015-03-08")} // the first before the lead
	for _, d := range dates {
		for _, planting := range []string{"stout14", "plain14"} {
			of = append(of, outcome{planting: planting, winter: w, date: d, what: WhatLeafMass, value: 10, plants: 10})
		}
	}
	h := l.hindcast(trial, p, w, p.winters(w), of)
	lead := day(t, "2014-12-15")
	courses, _, err := tracesOf(p, h.past, h.first, lead, h.last, nil)
	if err != nil {
		t.Fatal(err)
	}
	rows := slices.DeleteFunc(slices.Clone(h.rows), func(r *row) bool { return l.Lines[r.line].Line == "unseen" })
	draws := drawsOf(append([]*row{nil}, rows...))
	if len(draws) >= len(l.grid.draws) {
		t.Error("two lines with notes need every draw of the grid: nothing is spared or tested")
	}
	days := map[weather.Date]*field{}
	for _, d := range dates {
		days[d] = &field{}
	}
	if err := h.play(context.Background(), h.crops[0], draws, courses, days); err != nil {
		t.Fatal(err)
	}
	_, asSown := l.rowsOf(trial, p, w) // with its weeds
	seen := 0
	err = newStage(l.grid, l.params, asSown[0], courses).play(context.Background(), func(f *field) error {
		own := days[f.date]
		if own == nil {
			return nil
		}
		seen++
		if own.courses != f.courses || own.observed != f.observed || own.date != f.date {
			t.Fatalf("%s: %d courses, observed %v; the outlook has %d, %v", f.date, own.courses, own.observed, f.courses, f.observed)
		}
		for course := range f.courses {
			for _, r := range rows {
				for _, node := range r.stake.nodes {
					if at := course*gridNodes + node; own.leafG[at] != f.leafG[at] || own.height[at] != f.height[at] {
						t.Fatalf("%s, course %d, node %d: %v g, height %v; the outlook has %v g, %v", f.date, course, node, own.leafG[at], own.height[at], f.leafG[at], f.height[at])
					}
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen != len(dates) {
		t.Errorf("%d of %d days seen", seen, len(dates))
	}
}

// Without the winter's own notes a forecast of it must not know them: what is
// noted in the winter left out changes nothing but what it is judged against.
func TestVerifyDoesNotLookAhead(t *testing.T) {
	window := func(w weather.WinterYear) (from, to weather.Date) {
		return weather.NewDate(w.Year+1, 2, 1), weather.NewDate(w.Year+1, 3, 15)
	}
	scores := func(late string) []Score {
		trial := loadAsOf(t, with(t, "notes.csv", notesCSV+"2014-10-15,stout14,leaf_mass,"+late+",g,10\n2015-02-20,stout14,leaf_mass,12,g,10\n"), "2015-03-31")
		all, _, err := Verify(context.Background(), trial, window)
		if err != nil {
			t.Fatal(err)
		}
		return slices.DeleteFunc(all[0].Scores, func(s Score) bool { return s.What != WhatLeafMass || s.Method != ByForecast })
	}
	few, many := scores("18"), scores("60")
	if len(few) != 4 || few[0].N != 3 {
		t.Fatalf("%d leads, %d forecasts; four leads, notes of two lines in one winter and one in the other", len(few), few[0].N)
	}
	// Two of the three forecasts are of 2013/14, to which the autumn of 2014 is
	// another winter's note; that of 2014/15 alone must stand still.
	if few[0].CRPS == many[0].CRPS {
		t.Error("notes of another winter teach nothing")
	}
}
