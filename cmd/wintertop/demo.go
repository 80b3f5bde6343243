package main

import (
	"context"
	"io"
	"io/fs"
	"strings"

	"wintertop/cmd/wintertop/demo"
	"wintertop/forecast"
	"wintertop/weather"
)

func demoCommand() *command {
	return &command{
		name: "demo",
		does: "the whole job on the built-in, invented example; no files needed",
		examples: []example{
			{"wintertop demo", "prints the pick and where the report is, in a new temporary folder"},
			{"wintertop demo --out example", "writes everything to the folder example"},
			{"wintertop demo --as-of 2024-12-15 --out past", "as it would have been on a day of the past"},
			{"wintertop season --in example/trial", "any command runs on the example's trial folder"},
		},
		more:    "Valley, weather, lines and notes of the example are invented.",
		flags:   timeFlags | outFlags | pngFlag,
		files:   []string{"trial/ (its inputs)", "what station, events, season, learn, pick, order, sow, next, cross, trial, verify, report and constants write"},
		scratch: true,
		run:     runDemo,
	}
}

// trialFolder is the folder that holds the example's inputs under --out.
const trialFolder = "trial"

func runDemo(ctx context.Context, j *job) (*outcome, error) {
	a := *j.asked
	example := demo.Trial()
	open := func(name string) (io.ReadCloser, error) {
		return example.Open(strings.TrimPrefix(name, trialFolder+"/"))
	}
	whole, findings, err := forecast.Load(open, forecast.Files{Dir: trialFolder}, weather.Reading{})
	if err != nil {
		return nil, err
	}
	var goal forecast.Goal
	k, err := learn(ctx, &a, whole, findings, func(k *known) (err error) {
		if goal, err = k.goalFor(afterWindow); err == nil {
			k.planAhead(ctx)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	goal.Want = everything
	f, err := example.Open(demandRole.fileName())
	if err != nil {
		return nil, err
	}
	demand, found, err := readDemand(f, trialFolder+"/"+demandRole.fileName())
	if err != nil {
		return nil, err
	}
	k.findings = append(k.findings, found...)
	all, err := k.answer(ctx, goal, demand, true)
	if err != nil {
		return nil, err
	}
	made, err := k.outcomes(all)
	if err != nil {
		return nil, err
	}
	o := made[0]
	o.remarks = append(o.remarks, "the example is invented: valley, weather, lines and notes")
	o.told = func(folder string) []string {
		return []string{
			"the report: " + joinGiven(folder, "report.html"),
			"the example's trial folder: " + joinGiven(folder, trialFolder),
		}
	}
	o.files = append(o.files, tableFile(constantsTable()))
	for _, part := range made[1:] {
		o.files = append(o.files, part.files...)
	}
	inputs, err := exampleFiles(example)
	if err != nil {
		return nil, err
	}
	o.files = append(o.files, inputs...)
	return o, nil
}

// outcomes gives the pick and what else the demo writes, made side by side.
func (k *known) outcomes(all answers) ([]*outcome, error) {
	parts := []func() (*outcome, error){
		func() (*outcome, error) { return pickOutcome(k, picks(all.looks)) },
		func() (*outcome, error) { return stationOutcome(k.trial, k.findings, k.asked) },
		func() (*outcome, error) { return eventsOutcome(k.trial, nil, k.asOf, k.asked) },
		func() (*outcome, error) { return seasonOutcome(k, seasons(all.looks)) },
		func() (*outcome, error) { return learnOutcome(k) },
		func() (*outcome, error) { return orderOutcome(k, orders(all.looks)) },
		func() (*outcome, error) {
			if all.sowing == nil {
				return &outcome{}, nil
			}
			return sowOutcome(k, all.sowing)
		},
		func() (*outcome, error) { return nextOutcome(k, advices(all.looks)), nil },
		func() (*outcome, error) { return crossOutcome(k, all.crossed) },
		func() (*outcome, error) { return trialOutcome(k, all.plans) },
		func() (*outcome, error) { return verifyOutcome(k, all.verified) },
		func() (*outcome, error) { return reportOutcome(k, all) },
	}
	made := make([]*outcome, len(parts))
	return made, sideBySide(len(parts), func(i int) (err error) {
		made[i], err = parts[i]()
		return err
	})
}

// exampleFiles gives the example's inputs as files to write.
func exampleFiles(example fs.FS) ([]file, error) {
	var files []file
	for _, r := range append(roles[:], demandRole) {
		content, err := fs.ReadFile(example, r.fileName())
		if err != nil {
			if r == aheadRole {
				continue
			}
			return nil, err
		}
		files = append(files, bytesFile(trialFolder+"/"+r.fileName(), content))
	}
	return files, nil
}
