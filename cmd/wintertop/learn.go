package main

import (
	"context"

	"wintertop/forecast"
)

func learnCommand() *command {
	return &command{
		name: "learn",
		does: "each line's top size, top length and hardiness from the notes of all winters",
		examples: []example{
			{"wintertop learn --in my-trial", "from all notes up to the record's last day"},
			{"wintertop learn --in my-trial --as-of 2015-03-31", "from the notes up to a day"},
			{"wintertop learn --in my-trial --out traits", "as the file traits/traits.csv"},
		},
		more: "The sd columns are one standard deviation of doubt. hardiness_c holds for the canopy at this station.\n" +
			"A line without notes shows what is assumed of any line.",
		files: []string{"traits.csv"},
		flags: trialFlags | outFlags,
		run:   runLearn,
	}
}

func runLearn(ctx context.Context, j *job) (*outcome, error) {
	k, err := j.know(ctx)
	if err != nil {
		return nil, err
	}
	return learnOutcome(k), nil
}

// learnOutcome makes the table of the learn command.
func learnOutcome(k *known) *outcome {
	t := forecast.TraitsTable(k.learning.Lines)
	return &outcome{table: t, findings: k.findings, files: []file{tableFile(t)}}
}
