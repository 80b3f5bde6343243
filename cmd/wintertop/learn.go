package main

import (
	"context"
	"slices"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather"
)

func learnCommand() *command {
	return &command{
		name: "learn",
		does: "each line's top size, top length and hardiness from the notes of all winters, and what was lost to the winter, the line or neither",
		examples: []example{
			{"wintertop learn --in my-trial", "from all notes up to the record's last day"},
			{"wintertop learn --in my-trial --as-of 2025-03-31", "from the notes up to a day"},
			{"wintertop learn --in my-trial --out traits", "traits.csv with the chart, and loss-split.csv"},
		},
		more: "The sd columns are one standard deviation of doubt. hardiness_c holds for the canopy at this station.\n" +
			"A line without notes shows what is assumed of any line, or of the offspring of the lines its pedigree names.\n" +
			"p_hardier is the chance that a line is hardier than a check. In loss-split.csv, kept_* are shares of the autumn's leaf\n" +
			"mass left in late winter: seen, expected of the line, expected of a standard line; told_apart (0 to 1) says how far the\n" +
			"winter's notes could tell lines apart in hardiness.",
		files: []string{"traits.csv", "loss-split.csv", "traits.svg"},
		flags: trialFlags | outFlags | pngFlag,
		run:   runLearn,
	}
}

func runLearn(ctx context.Context, j *job) (*outcome, error) {
	k, err := j.know(ctx, (*known).winterIsThere)
	if err != nil {
		return nil, err
	}
	return learnOutcome(k)
}

// learnOutcome makes the tables and the chart of the learn command.
func learnOutcome(k *known) (*outcome, error) {
	t := forecast.TraitsTable(k.learning.Lines)
	splits, found := k.learning.Splits(k.trial, func(w weather.WinterYear) (from, to weather.Date) {
		from, to, _ = k.asked.window.inWinter(w) // as good in one winter as in another
		return from, to
	})
	charts, err := chartFiles(k.asked, "traits", plots.Traits(k.learning.Lines))
	return &outcome{
		table: t, text: []section{{table: fitted(forecast.TraitsText(k.learning.Lines), pickColumns, "prior_from", "kind", "winters")}}, findings: slices.Concat(k.findings, found),
		files: append([]file{tableFile(t), tableFile(forecast.LossSplitTable(splits))}, charts...),
	}, err
}
