package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather"
	"wintertop/weather/table"
)

func pickCommand() *command {
	return &command{
		name: "pick",
		does: "which lines to lift when, for the late-winter window",
		examples: []example{
			{"wintertop pick --in my-trial", "as of the record's last day"},
			{"wintertop pick --in my-trial --as-of 2015-12-01 --window 02-15..03-31", "as of a day, for another window"},
			{"wintertop pick --in my-trial --out pick", "every column and day as files, and the calendar"},
		},
		more: "Verdicts: hold (the odds reach the assurance on every day of the window), lift early (on some day from\n" +
			"as-of on), too weak (on none), not known yet (a line without notes). Assurance is set in the site file.",
		files: []string{"pick.csv", "pick-dates.csv", "calendar.svg"},
		flags: trialFlags | outFlags,
		run:   runPick,
	}
}

func runPick(ctx context.Context, j *job) (*outcome, error) {
	k, looks, err := j.knowAndLook(ctx, afterWindow)
	if err != nil {
		return nil, err
	}
	return pickOutcome(k, picks(looks))
}

// cautions stand wherever people act on a pick.
var cautions = []string{
	"Cautions: belt harvesters maim, so stop and isolate before clearing. Wet or frozen ground ruts and",
	"overturns machinery; frozen tops and ground are not for lifting. Frost-injured roots rot and may not be",
	"fit for sale: local rules and licensed advice come first. A forecast never replaces walking the field.",
}

// pickOutcome makes the tables and the charts of the pick command.
func pickOutcome(k *known, picks []*forecast.Picks) (*outcome, error) {
	t := forecast.PickTable(picks)
	o := &outcome{
		table: t, text: shortPick(t), after: cautions, findings: k.findings,
		files: []file{tableFile(t), tableFile(forecast.PickDatesTable(picks))},
	}
	for _, p := range picks {
		o.before = append(o.before, whatToDo(p))
		if len(p.LeftOut) > 0 {
			o.remarks = append(o.remarks, "note: not in the odds: "+strings.Join(p.LeftOut, ", "))
		}
		chart, err := plots.Calendar(p)
		if err != nil {
			return nil, err
		}
		f, err := chartFile(placeName("calendar", p.Place), chart)
		if err != nil {
			return nil, err
		}
		o.files = append(o.files, f)
	}
	o.remarks = slices.Compact(o.remarks)
	return o, nil
}

// whatToDo answers in one sentence what to do with the rows of a place.
func whatToDo(p *forecast.Picks) string {
	var b strings.Builder
	if p.Place != "" {
		b.WriteString(p.Place + ": ")
	}
	rows := map[string]int{}
	for _, r := range p.Rows {
		rows[r.Line]++
	}
	of := func(v forecast.Verdict, date bool) string {
		var names []string
		for _, r := range p.Rows {
			if r.Verdict != v {
				continue
			}
			name := r.Line
			if rows[r.Line] > 1 {
				name += " (" + r.Planting + ")"
			}
			if date {
				name += " by " + dayMonth(r.HoldsUntil)
			}
			names = append(names, name)
		}
		return strings.Join(names, ", ")
	}
	var parts []string
	for _, say := range []struct {
		verdict forecast.Verdict
		words   string
		date    bool
	}{
		{forecast.Hold, "leave %s for the window", false},
		{forecast.LiftEarly, "lift %s", true},
		{forecast.TooWeak, "do not count on %s for the belts", false},
		{forecast.NotKnownYet, "measure %s first (no notes)", false},
	} {
		if names := of(say.verdict, say.date); names != "" {
			parts = append(parts, fmt.Sprintf(say.words, names))
		}
	}
	fmt.Fprintf(&b, "For %s to %s: %s.", dayMonth(p.From), dayMonth(p.To), strings.Join(parts, "; "))
	return b.String()
}

func dayMonth(d weather.Date) string {
	_, month, day := d.YMD()
	return fmt.Sprintf("%d %s", day, month)
}

// shortPick keeps the columns that fit a terminal; the other formats and the
// file have all. Plantings are told apart only where a line has several.
func shortPick(t *table.Table) *table.Table {
	lineAt := slices.Index(t.Columns, "line")
	lines := map[table.Cell]bool{}
	for _, row := range t.Rows {
		lines[row[lineAt]] = true
	}
	keep := []string{"rank", "line", "verdict", "holds_from", "holds_until", "chance_best", "shaded_until", "tied", "place"}
	if len(lines) < len(t.Rows) {
		keep = slices.Insert(keep, 2, "planting")
	}
	short := &table.Table{Name: t.Name}
	for i, name := range t.Columns {
		if !slices.Contains(keep, name) {
			continue
		}
		short.Columns = append(short.Columns, name)
		for r, row := range t.Rows {
			if len(short.Rows) == r {
				short.Rows = append(short.Rows, nil)
			}
			short.Rows[r] = append(short.Rows[r], row[i])
		}
	}
	return short
}
