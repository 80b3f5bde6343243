package main

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"slices"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather/table"
)

func sowCommand() *command {
	return &command{
		name: "sow",
		does: "how much of which line to sow when, so that next winter's weeks are supplied",
		examples: []example{
			{"wintertop sow --in my-trial", "for what demand.csv of the trial folder asks for"},
			{"wintertop sow --in my-trial --demand my-trial/demand.csv --out plan", "for another demand, every week and price as files"},
			{"wintertop sow --in my-trial --as-of 2025-06-01", "as it would have been planned on a day"},
		},
		more: "A row of the demand is a week or a range of days of the season, and kg; three lines are enough:\n" +
			"  from,until,kg                          or  week,kg\n" +
			"  02-01,02-14,800                            6,400\n" +
			"  02-15,03-14,1600                           7,400\n" +
			"Needed besides: yield_per_m2 (kg of roots that can be sold) in the site file, or by line in the lines file.\n" +
			"The site file may say crew (m² lifted on a day fit for machines) and area_max (m²). The wanted share of\n" +
			"winters is its assurance. A line is sown in the weeks of the year in which the trial was, as densely as its\n" +
			"newest planting; each past winter is played from sowing on, and each area is set apart for one week.",
		files: []string{"sow.csv", "sow-weeks.csv", "sow-prices.csv", "sow.svg"},
		flags: fileFlags | asOfFlag | demandFlag | outFlags | pngFlag,
		run:   runSow,
	}
}

func runSow(ctx context.Context, j *job) (*outcome, error) {
	demand, findings, err := j.demand()
	if err != nil {
		return nil, err
	}
	if demand == nil {
		return nil, &usageError{
			what: "sow needs a demand that no flag names: --demand",
			hint: "put demand.csv into the trial folder or name it with --demand; three lines are enough: " + forecast.DemandForm,
		}
	}
	k, err := j.know(ctx, nil)
	if err != nil {
		return nil, err
	}
	k.findings = append(k.findings, findings...)
	plan, err := k.sow(ctx, demand)
	if err != nil {
		return nil, err
	}
	return sowOutcome(k, plan)
}

// demand reads the demand that a flag names or the trial folder holds; nil
// where neither does.
func (j *job) demand() (*forecast.Demand, table.Findings, error) {
	name := j.asked.named[demandRole]
	if name == "" && j.asked.in != "" {
		name = joinGiven(j.asked.in, demandRole.fileName())
		if err := j.folder(); err != nil {
			return nil, nil, err
		}
	}
	if name == "" {
		return nil, nil, nil
	}
	f, err := j.inputs.open(name)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) && j.asked.named[demandRole] == "" {
			return nil, nil, nil
		}
		return nil, nil, err
	}
	return readDemand(f, name)
}

func readDemand(f io.ReadCloser, name string) (*forecast.Demand, table.Findings, error) {
	defer f.Close()
	return forecast.ReadDemand(f, name)
}

// sow plans the next season's sowing.
func (k *known) sow(ctx context.Context, demand *forecast.Demand) (*forecast.SowPlan, error) {
	plan, found, err := forecast.PlanSowing(ctx, k.trial, k.learning, demand, k.asOf)
	k.findings = append(k.findings, found...)
	return plan, err
}

// sowIfPossible plans the sowing beside other answers, which stand without it:
// where no plan can be made it is nil, and a finding says why.
func (k *known) sowIfPossible(ctx context.Context, demand *forecast.Demand) (*forecast.SowPlan, error) {
	plan, err := k.sow(ctx, demand)
	var input *table.InputError
	if errors.As(err, &input) {
		for _, fault := range input.Faults {
			fault.Severity, fault.TreatedAs, fault.What = table.Warning, "no sowing planned", "no sowing is planned: "+fault.What
			k.findings = append(k.findings, fault)
		}
		return nil, nil
	}
	return plan, err
}

// sowCautions stand beside a plan, which is acted on twice: when it is sown and
// when it is lifted.
var sowCautions = []string{
	"Cautions: a plan is drawn from past winters, and a harder one may come. Do not lift on wet or",
	"frozen ground or frozen tops; stop and isolate the harvester before clearing it; local rules and",
	"licensed advice come first. Walk the field before you lift, and look at the seedbed before you sow.",
}

// sowOutcome makes the tables and the chart of the sow command.
func sowOutcome(k *known, plan *forecast.SowPlan) (*outcome, error) {
	t := plan.SowTable()
	o := &outcome{
		table: t, before: fold(plan.Answer()), findings: k.findings,
		files: []file{tableFile(t), tableFile(plan.WeeksTable()), tableFile(plan.PricesTable())},
	}
	if words := plan.Shortfall(); words != "" {
		o.before = append(o.before, fold(words)...)
	}
	short := t.Only("line", "sow_from", "area_m2", "lift_from", "lift_until", "lift_share_mean", "lift_share_worst", "place")
	if len(plan.Rows) == 0 {
		short = plan.WeeksTable().Only("from", "until", "kg", "fit_days", "winters_without_fit_day", "winters_with_root_frost")
	}
	o.text = []section{{table: fitted(short, pickColumns)}}
	for _, r := range plan.Rows {
		o.after = append(o.after, fold(plan.Says(r))...)
	}
	for _, words := range plan.GroundWords() {
		o.after = append(o.after, fold(words)...)
	}
	o.after = slices.Concat(o.after, []string{""}, plan.PriceWords(), []string{""}, sowCautions)
	files, err := chartFiles(k.asked, "sow", plots.Sowing(plan))
	if err != nil {
		return nil, err
	}
	o.files = append(o.files, files...)
	return o, nil
}
