package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather/table"
)

func pickCommand() *command {
	return &command{
		name: "pick",
		does: "which lines to lift when, for the late-winter window",
		examples: []example{
			{"wintertop pick --in my-trial", "as of the record's last day"},
			{"wintertop pick --in my-trial --as-of 2024-12-01 --window 02-15..03-31", "as of a day, for another window"},
			{"wintertop pick --in my-trial --since 2025-11-01", "what has changed since a day"},
			{"wintertop pick --in my-trial --out pick", "every column and day as files, and the calendar"},
		},
		more: "Verdicts: hold (the odds reach the assurance on every day of the window), lift early (on some day from\n" +
			"as-of on), too weak (on none), not known yet (a line without notes). Assurance is set in the site file.\n" +
			"Rank goes by the mean of p_all over the window, then by the mean lift share; p_all is the chance that the\n" +
			"stand lifts, the row is shaded and no root has frozen, in the same winter.\n" +
			"tied lists the ranks of rows not told apart: of the winters played, neither lifts more in 60 of 100. Two rows\n" +
			"at a time: 1 may be tied with 2 and 2 with 3, yet 1 with 3 not, and a rank between two tied ones may be tied\n" +
			"with neither. It asks of lifting only, as chance_best does; shade and roots count for the rank.\n" +
			"Text cuts long names and shows what fits 100 columns; --format csv and --out have everything.",
		files: []string{"pick.csv", "pick-dates.csv", "calendar.svg", "pick-since.csv (with --since)"},
		flags: trialFlags | sinceFlag | detrendFlag | outFlags | pngFlag,
		run:   runPick,
	}
}

func runPick(ctx context.Context, j *job) (*outcome, error) {
	k, looks, err := j.knowAndLook(ctx, forecast.WantPicks, afterWindow)
	if err != nil {
		return nil, err
	}
	o, err := pickOutcome(k, picks(looks))
	if err != nil || !j.asked.hasSince {
		return o, err
	}
	return o, since(ctx, k, picks(looks), o)
}

// since sets the same pick as of an earlier day beside it.
func since(ctx context.Context, k *known, now []*forecast.Picks, o *outcome) error {
	looks, err := k.earlier(ctx, forecast.WantPicks)
	if err != nil {
		return err
	}
	before := picks(looks)
	t := forecast.SinceTable(now, before)
	o.table, o.text = t, perPlace(now, func(p *forecast.Picks) *table.Table {
		return shortSince(forecast.SinceTable([]*forecast.Picks{p}, before))
	})
	o.files = append(o.files, tableFile(t))
	return nil
}

// earlier plays the same winter as of the day that --since names.
func (k *known) earlier(ctx context.Context, want forecast.Want) ([]forecast.Outlook, error) {
	a := *k.asked
	if a.since >= k.asOf {
		return nil, &usageError{what: fmt.Sprintf("--since %s is not before as-of %s", a.since, k.asOf), hint: "give an earlier day"}
	}
	a.asOf, a.hasAsOf = a.since, true
	var goal forecast.Goal
	then, err := learn(ctx, &a, k.whole, nil, func(then *known) (err error) {
		if goal, err = then.goal(); err != nil {
			return err
		}
		if today, err := k.goal(); err == nil && today.Winter != goal.Winter {
			return &usageError{what: fmt.Sprintf("--since %s lies in the winter %s, as-of in %s", a.since, goal.Winter, today.Winter), hint: "give a day of the same winter"}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	goal.Want = want
	return then.look(ctx, goal)
}

// cautions stand wherever people act on a pick.
var cautions = []string{
	"Cautions: belt harvesters maim, so stop and isolate before clearing. Wet or frozen ground ruts and",
	"overturns machinery; frozen tops and ground are not for lifting. Frost-injured roots rot and may not",
	"be fit for sale: local rules and licensed advice come first. A forecast never replaces walking the",
	"field.",
}

// pickOutcome makes the tables and the charts of the pick command.
func pickOutcome(k *known, picks []*forecast.Picks) (*outcome, error) {
	t := forecast.PickTable(picks)
	o := &outcome{table: t, after: cautions, findings: k.findings, files: []file{tableFile(t)}}
	var dates, charts []file
	parts := []func() error{func() error { o.text = perPlace(picks, shortPick); return nil }}
	if k.asked.writes() {
		parts = append(parts,
			func() error { dates = []file{tableFile(forecast.PickDatesTable(picks))}; return nil },
			func() (err error) { charts, err = calendars(k.asked, picks); return err },
		)
	}
	if err := sideBySide(len(parts), func(i int) error { return parts[i]() }); err != nil {
		return nil, err
	}
	o.files = slices.Concat(o.files, dates, charts)
	for _, p := range picks {
		if slices.ContainsFunc(p.Rows, func(r forecast.Pick) bool { return r.Reason == forecast.RootsFrozen }) {
			o.remarks = append(o.remarks, "note: root frost is the least certain part (where the reading gives 10 root-frost days a winter it may be 4 to 19);",
				"soil hilled over the crowns, hilled_cm in the plantings file, keeps most of it out")
		}
		if len(p.NotKnown) > 0 {
			o.remarks = append(o.remarks, "note: not known: "+strings.Join(p.NotKnown, ", "))
		}
	}
	o.remarks = slices.Compact(o.remarks)
	return o, nil
}

// calendars draws the calendar of each place.
func calendars(a *asked, picks []*forecast.Picks) ([]file, error) {
	var all []file
	for _, p := range picks {
		chart, err := plots.Calendar(p)
		if err != nil {
			return nil, err
		}
		files, err := chartFiles(a, placeName("calendar", p.Place), chart)
		if err != nil {
			return nil, err
		}
		all = append(all, files...)
	}
	return all, nil
}
