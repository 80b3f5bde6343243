package main

import (
	"context"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather"
	"wintertop/weather/table"
)

func verifyCommand() *command {
	return &command{
		name: "verify",
		does: "how good past forecasts would have been",
		examples: []example{
			{"wintertop verify --in my-trial", "each past winter forecast from the others, against the notebook"},
			{"wintertop verify --in my-trial --out verified", "verify.csv, and reliability.svg with the odds against what came"},
		},
		more: "Each winter is left out with its weather and notes and forecast from the 15th of four months on. Lower crps\n" +
			"and brier are better; cover50 and cover90 should be near 0.5 and 0.9. Few winters make rough scores.",
		files: []string{"verify.csv", "reliability.svg"},
		flags: trialFlags | outFlags | pngFlag,
		run:   runVerify,
	}
}

func runVerify(ctx context.Context, j *job) (*outcome, error) {
	k, err := j.know(ctx, (*known).winterIsThere)
	if err != nil {
		return nil, err
	}
	all, found, err := k.verified(ctx)
	if err != nil {
		return nil, err
	}
	k.findings = append(k.findings, found...)
	return verifyOutcome(k, all)
}

// verified makes the forecasts of past winters again.
func (k *known) verified(ctx context.Context) ([]forecast.Verification, table.Findings, error) {
	return forecast.Verify(ctx, k.trial, k.learning, func(w weather.WinterYear) (from, to weather.Date) {
		from, to, _ = k.asked.window.inWinter(w) // as good in one winter as in another
		return from, to
	})
}

// verifyOutcome makes the table and the charts of the verify command and says
// what they mean.
func verifyOutcome(k *known, all []forecast.Verification) (*outcome, error) {
	t := forecast.VerifyTable(all)
	o := &outcome{table: t, findings: k.findings, files: []file{tableFile(t)}}
	for _, v := range all {
		for _, line := range v.Summary() {
			if v.Place != "" {
				line = v.Place + ", " + line
			}
			o.before = append(o.before, fold(line)...)
		}
		files, err := chartFiles(k.asked, placeName("reliability", v.Place), plots.Reliability(v))
		if err != nil {
			return nil, err
		}
		o.files = append(o.files, files...)
	}
	return o, nil
}
