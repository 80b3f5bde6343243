package main

import (
	"context"

	"wintertop/forecast"
	"wintertop/weather"
)

func verifyCommand() *command {
	return &command{
		name: "verify",
		does: "how good past forecasts would have been",
		examples: []example{
			{"wintertop verify --in my-trial", "each past winter forecast from the others, against the notebook"},
			{"wintertop verify --in my-trial --out verified", "as the file verified/verify.csv"},
		},
		more: "Each winter is left out with its weather and notes and forecast from the 15th of four months on. Lower crps\n" +
			"and brier are better; cover50 and cover90 should be near 0.5 and 0.9. Few winters make rough scores.",
		files: []string{"verify.csv"},
		flags: trialFlags | outFlags,
		run:   runVerify,
	}
}

func runVerify(ctx context.Context, j *job) (*outcome, error) {
	k, err := j.know(ctx)
	if err != nil {
		return nil, err
	}
	return verifyOutcome(ctx, k)
}

// verifyOutcome makes the table of the verify command and says what it means.
func verifyOutcome(ctx context.Context, k *known) (*outcome, error) {
	if _, err := k.goal(); err != nil {
		return nil, err
	}
	all, found, err := forecast.Verify(ctx, k.trial, func(w weather.WinterYear) (from, to weather.Date) {
		from, to, _ = k.asked.window.inWinter(w) // as good in one winter as in another
		return from, to
	})
	if err != nil {
		return nil, err
	}
	t := forecast.VerifyTable(all)
	o := &outcome{table: t, findings: append(k.findings, found...), files: []file{tableFile(t)}}
	for _, v := range all {
		for _, line := range v.Summary() {
			if v.Place != "" {
				line = v.Place + ", " + line
			}
			o.before = append(o.before, line)
		}
	}
	return o, nil
}
