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
	h, err := l.hindcast(context.Background(), trial, p, w, p.winters(w), of)
	if err != nil {
		t.Fatal(err)
	}
	lead := day(t, "2014-12-15")
	courses, _, err := tracesOf(p, h.past, h.first, lead, h.last, nil)
	if err != nil {
		t.Fatal(err)
	}
	rows := slices.DeleteFunc(slices.Clone(h.rows), func(r *row) bool { return l.Lines[r.line].Line == "unseen" })
	draws := l.grid.drawnFor(stakesOf(append([]*row{nil}, rows...)), true)
	if len(draws.at) >= len(l.grid.draws) {
		t.Error("two lines with notes need every draw of the grid: nothing is spared or tested")
	}
	days := map[weather.Date]*hindDay{}
	for _, d := range dates {
		days[d] = &hindDay{}
	}
	if err := h.play(context.Background(), h.crops[0], draws, courses, days); err != nil {
		t.Fatal(err)
	}
	_, asSown, err := l.rowsOf(context.Background(), trial, p, w) // with its weeds
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	err = newStage(l.grid.whole(), l.params, asSown[0], courses).play(context.Background(), func(f *field) error {
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
				for _, node := range r.stake.coreNodes() {
					at, want := course*own.nodes+draws.place[node], course*gridNodes+node
					if own.leafG[at] != f.leafG[want] || own.height[at] != f.height[want] {
						t.Fatalf("%s, course %d, node %d: %v g, height %v; the outlook has %v g, %v", f.date, course, node, own.leafG[at], own.height[at], f.leafG[want], f.height[want])
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

// What is noted in the winter left out, and its weather after the lead, must not
// bear on its forecast.
func TestHindcastDoesNotLookAhead(t *testing.T) {
	w, lead, late := weather.WinterYear{Year: 2014}, day(t, "2014-12-15"), day(t, "2015-02-20")
	forecastOf := func(autumn string, warmerC float64) judged {
		trial := loadAsOf(t, with(t, "notes.csv", notesCSV+"2014-10-15,stout14,leaf_mass,"+autumn+",g,10\n"), "2015-03-31")
		p := trial.Places[0]
		for _, days := range [][]weather.Day{p.Record.Days, p.Filled.Days} {
			for i := range days {
				if days[i].Date > lead {
					days[i].MinC, days[i].MaxC = days[i].MinC+warmerC, days[i].MaxC+warmerC
				}
			}
		}
		left, err := learn(t, trial).without(context.Background(), w)
		if err != nil {
			t.Fatal(err)
		}
		of := []outcome{{planting: "stout14", winter: w, date: late, what: WhatLeafMass, value: 12, plants: 10}}
		h, err := left.hindcast(context.Background(), trial, p, w, others(p.completeWinters(), w), of)
		if err != nil {
			t.Fatal(err)
		}
		out, err := h.from(context.Background(), lead)
		if err != nil {
			t.Fatal(err)
		}
		return out[0]
	}
	plain := forecastOf("18", 0)
	if got := forecastOf("60", 0); got != plain {
		t.Errorf("another note of the winter left out: %+v, was %+v", got, plain)
	}
	if got := forecastOf("18", 5); got != plain {
		t.Errorf("other weather after the lead: %+v, was %+v", got, plain)
	}
}
