package main

import (
	"context"
	"errors"
	"io/fs"
	"os"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather/table"
)

func trialCommand() *command {
	return &command{
		name: "trial",
		does: "how many winters, places, plots and plants it takes to tell two lines apart",
		examples: []example{
			{"wintertop trial --in my-trial", "lines 1 °C apart in hardiness, right nine times in ten"},
			{"wintertop trial --station my-trial/station.csv --site my-trial/site.csv --differ 0.5C", "before there is a trial; half a degree"},
			{"wintertop trial --in my-trial --differ 20% --chance 0.95 --best-of 10", "the best of ten that leads by a fifth in leaf mass"},
			{"wintertop trial --in my-trial --out design", "trial.csv, trial-winters.csv and trial.svg"},
		},
		more: "Each complete winter of the record is as likely as the other; some teach nothing of hardiness, too mild or so hard\n" +
			"that nothing is left. Supposed: leaf mass of every plot weighed in mid October, December, January and February,\n" +
			"customary dates (common practice, no source), as the mean of so many plants; lines about the standard one; places\n" +
			"that share the winter. chance_low and chance_high: with plots and lines' own winters varying as much, and as little,\n" +
			"as their ranges in constants allow. p_nothing: no winter of the trial teaches. The sowing is that of the newest\n" +
			"planting, else 5 July (south 5 January) with 80 plants per m².",
		files: []string{"trial.csv", "trial-winters.csv", "trial.svg"},
		flags: fileFlags | asOfFlag | designFlags | outFlags | pngFlag,
		run:   runTrial,
	}
}

func runTrial(ctx context.Context, j *job) (*outcome, error) {
	if err := j.need(stationRole, siteRole); err != nil {
		return nil, err
	}
	trial, findings, err := j.loadBeforeSowing()
	if err != nil {
		return nil, err
	}
	k := &known{asked: j.asked, asOf: trial.LastDay()}
	if j.asked.hasAsOf {
		k.asOf = j.asked.asOf
	}
	k.findings = forecast.Before(findings, k.asOf)
	var found table.Findings
	if k.trial, found, err = trial.AsOf(k.asOf); err != nil {
		return nil, err
	}
	k.findings = append(k.findings, found...)
	plans, err := k.planned(ctx)
	if err != nil {
		return nil, err
	}
	for _, plan := range plans {
		k.findings = append(k.findings, plan.Warnings()...)
	}
	return trialOutcome(k, plans)
}

// loadBeforeSowing reads the whole trial where there is a lines file, else the
// weather alone.
func (j *job) loadBeforeSowing() (*forecast.Trial, table.Findings, error) {
	files := j.files()
	bare := files.Lines == "" && files.Dir == ""
	if files.Lines == "" && files.Dir != "" {
		_, err := os.Stat(joinGiven(files.Dir, linesRole.fileName()))
		bare = errors.Is(err, fs.ErrNotExist)
	}
	if bare {
		return forecast.LoadWeather(j.inputs.open, files, j.reading())
	}
	return forecast.Load(j.inputs.open, files, j.reading())
}

// planned sizes a trial at every place.
func (k *known) planned(ctx context.Context) ([]*forecast.TrialPlan, error) {
	goal := forecast.DesignGoal{Differ: forecast.Difference{Hardiness: true, By: 1}, Chance: 0.9, BestOf: 2}
	if k.asked.differ.By > 0 {
		goal.Differ = k.asked.differ
	}
	if k.asked.chance > 0 {
		goal.Chance = k.asked.chance
	}
	if k.asked.bestOf > 0 {
		goal.BestOf = k.asked.bestOf
	}
	var plans []*forecast.TrialPlan
	for _, p := range k.trial.Places {
		plan, err := forecast.PlanTrial(ctx, p, k.trial.NextSowing(p), goal)
		if err != nil {
			return nil, err
		}
		plans = append(plans, plan)
	}
	return plans, nil
}

// plannedIfAny is planned for the page, which does without where no past winter
// can be followed.
func (k *known) plannedIfAny(ctx context.Context) ([]*forecast.TrialPlan, error) {
	plans, err := k.planned(ctx)
	var input *table.InputError
	if errors.As(err, &input) {
		return nil, nil
	}
	return plans, err
}

// trialOutcome makes the tables and the charts of the trial command.
func trialOutcome(k *known, plans []*forecast.TrialPlan) (*outcome, error) {
	t := forecast.TrialTable(plans)
	o := &outcome{table: t, findings: k.findings, files: []file{tableFile(t), tableFile(forecast.TrialWintersTable(plans))}}
	for _, plan := range plans {
		alone := *plan
		alone.Place = ""
		o.text = append(o.text, section{fold(placed(plan.Place, plan.Answer())), forecast.LeastTrialTable([]*forecast.TrialPlan{&alone})})
		files, err := chartFiles(k.asked, placeName("trial", plan.Place), plots.Trial(plan))
		if err != nil {
			return nil, err
		}
		o.files = append(o.files, files...)
	}
	o.after = []string{
		"The smallest trials that reach the wanted chance, by winters and places, else the largest tried;",
		"all sizes are in trial.csv. chance_low, chance_high: with plots and lines' own winters varying as",
		"much, and as little, as `wintertop constants` allows. Supposed are leaf masses of mid October,",
		"December, January and February.",
	}
	return o, nil
}
