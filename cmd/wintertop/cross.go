package main

import (
	"context"
	"fmt"
	"strings"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather"
	"wintertop/weather/table"
)

func crossCommand() *command {
	return &command{
		name: "cross",
		does: "which lines to cross: what their progeny is expected to be, and its chance to hold through the window",
		examples: []example{
			{"wintertop cross --in my-trial", "all pairs of lines with notes, best first"},
			{"wintertop cross --in my-trial --select 0.05", "where the best twentieth of the progeny lines is kept"},
			{"wintertop cross --in my-trial --floor root_score=3 --floor flavour_score=3", "parents with at least these scores in lines.csv"},
			{"wintertop cross --in my-trial --out cross", "every column as a file, and the picture"},
		},
		more: "p_chosen: chance that a line out of the best share (--select) of a cross's progeny lifts and shades on every day of\n" +
			"the window of one winter; lo, hi: the same at 5 and 95 % of what is not known of the parents. Past winters are\n" +
			"played whole, from the day of the newest sowing on, several places alike; roots are left out, for no line changes\n" +
			"frost at the crown.\n" +
			"size, length and hardy_c: what the progeny lines stand about.\n" +
			"Assumed: the traits are additive, so that progeny lines stand about their parents' middle, with half of the variance\n" +
			"between lines (less what related parents share) and what segregates within lines (within_line_share of the site\n" +
			"file, 0); and heritable_share (0.5) of the variance seen among them breeds true. If that is wrong: half_h2 is\n" +
			"p_chosen where that share is half, half_on where only half of what sets lines apart is passed on.",
		files: []string{"cross.csv", "cross.svg"},
		flags: trialFlags | crossFlags | outFlags | pngFlag,
		run:   runCross,
	}
}

// crossing is what the flags of cross say.
type crossing struct {
	share   float64
	floors  []forecast.Floor
	untried bool
}

// usualShare of the progeny lines is kept where no flag says.
const usualShare = 0.1

// shareFlag is --select.
type shareFlag struct{ to *float64 }

func (f *shareFlag) String() string { return "" }
func (f *shareFlag) Type() string   { return "share" }
func (f *shareFlag) Set(s string) error {
	number, of := s, 1.0
	if n, ok := strings.CutSuffix(s, "%"); ok {
		number, of = n, 100
	}
	n := table.ParseNumber(number)
	if share := n.Value / of; n.Known && share >= 0.0001 && share <= 1 {
		*f.to = share
		return nil
	}
	return &usageError{what: "--select " + quote(s) + " is not a share", hint: "write the share of progeny lines that is kept, from 0.0001 to 1, such as 0.1"}
}

// floorFlag is --floor.
type floorFlag struct{ to *[]forecast.Floor }

func (f *floorFlag) String() string { return "" }
func (f *floorFlag) Type() string   { return "column=least" }
func (f *floorFlag) Set(s string) error {
	at := strings.LastIndex(s, "=")
	switch {
	case at > 0 && s[at-1] == '<':
		return &usageError{what: "--floor " + quote(s) + " is a most, not a least", hint: "a floor is the least value that a parent must have, such as --floor root_score=3"}
	case at > 0:
		if n := table.ParseNumber(s[at+1:]); n.Known {
			*f.to = append(*f.to, forecast.Floor{Column: s[:at], Least: n.Value})
			return nil
		}
	}
	return &usageError{what: "--floor " + quote(s) + " is not a column and its least value", hint: "write them as --floor root_score=3"}
}

func runCross(ctx context.Context, j *job) (*outcome, error) {
	whole, findings, err := j.load()
	if err != nil {
		return nil, err
	}
	if err := j.asked.crossing.findColumns(whole); err != nil {
		return nil, err
	}
	k, err := learn(ctx, j.asked, whole, findings, (*known).winterIsThere)
	if err != nil {
		return nil, err
	}
	x, err := k.crosses(ctx)
	if err != nil {
		return nil, err
	}
	return crossOutcome(k, x)
}

// crosses pairs the lines of a trial as the flags say.
func (k *known) crosses(ctx context.Context) (*forecast.Crosses, error) {
	asked := k.asked.crossing
	share := asked.share
	if share == 0 {
		share = usualShare
	}
	x, found, err := k.learning.Cross(ctx, k.trial, forecast.Breeding{
		AsOf: k.asOf, Select: share, Floors: asked.floors, Untried: asked.untried,
		Window: func(w weather.WinterYear) (from, to weather.Date) {
			from, to, _ = k.asked.window.inWinter(w) // as good in one winter as in another
			return from, to
		},
	})
	k.findings = append(k.findings, found...)
	return x, err
}

// findColumns gives the floors the names of the columns as the lines file has
// them.
func (c *crossing) findColumns(trial *forecast.Trial) error {
	for i, f := range c.floors {
		column, ok := trial.RatingColumn(f.Column)
		if !ok {
			e := &usageError{what: "--floor: the lines file has no column of numbers " + quote(f.Column), hint: "add one to it, with a number for each line"}
			if columns := trial.RatingColumns(); len(columns) > 0 {
				e.hint = "did you mean " + nearest(f.Column, columns) + "?"
			}
			return e
		}
		if strings.HasPrefix(strings.ToLower(column), "hardiness") {
			return &usageError{what: "--floor " + column + ": a lower figure is a hardier line, so that a floor would keep the softer ones",
				hint: "leave it out: pairs are ranked by their hardiness as it is"}
		}
		c.floors[i].Column = column
	}
	return nil
}

// crossOutcome makes the table and the picture of the cross command.
func crossOutcome(k *known, x *forecast.Crosses) (*outcome, error) {
	t := forecast.CrossTable(x)
	o := &outcome{table: t, text: []section{{foldAll(x.Answer()), fitted(forecast.CrossText(x, shownPairs), pickColumns, "length", "size", "hardy_c", "pair").Narrow(pickColumns, "cross")}}, findings: k.findings, files: []file{tableFile(t)}}
	if more := len(x.Pairs) - shownPairs; more > 0 && k.asked.format == "text" {
		o.remarks = append(o.remarks, fmt.Sprintf("shown: the first %d pairs; --format csv or json and --out have %d more, and every column", shownPairs, more))
	}
	if len(x.Pairs) > 0 {
		o.after = fold(x.Assumed())
	}
	for _, l := range x.LeftOut {
		o.remarks = append(o.remarks, fmt.Sprintf("left out: %s (%s)", l.Line, l.Why))
	}
	if len(x.Pairs) == 0 && !k.asked.crossing.untried {
		o.remarks = append(o.remarks, "hint: parents need notes; --untried takes lines without them too")
	}
	charts, err := chartFiles(k.asked, "cross", plots.Cross(x))
	o.files = append(o.files, charts...)
	return o, err
}

// shownPairs is how many pairs text form lists.
const shownPairs = 20
