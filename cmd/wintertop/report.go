package main

import (
	"bytes"
	"context"
	"path/filepath"
	"slices"
	"strings"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather/table"
)

func reportCommand() *command {
	return &command{
		name: "report",
		does: "one page with all of it, for printing or a phone",
		examples: []example{
			{"wintertop report --in my-trial --out page", "the page, as page/report.html"},
			{"wintertop report --in my-trial --as-of 2024-12-01 --out page", "as it would have been on a day"},
			{"wintertop report --in my-trial --verify --out page", "with how good past forecasts would have been; takes longer"},
		},
		more: "With a demand (demand.csv of the trial folder, or --demand) it holds the plan of sow too.\n" +
			"The page is one file without scripts or outside addresses. Without --out the table of lines is printed.",
		files: []string{"report.html"},
		flags: trialFlags | demandFlag | detrendFlag | verifyFlag | outFlags,
		run:   runReport,
	}
}

func runReport(ctx context.Context, j *job) (*outcome, error) {
	demand, found, err := j.demand()
	if err != nil {
		return nil, err
	}
	var goal forecast.Goal
	k, err := j.know(ctx, func(k *known) (err error) {
		if goal, err = k.goalFor(nil); err == nil {
			k.planAhead(ctx)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	k.findings = append(k.findings, found...)
	goal.Want = everything
	all, err := k.answer(ctx, goal, demand, j.asked.verify)
	if err != nil {
		return nil, err
	}
	o, err := reportOutcome(k, all)
	if err == nil && j.asked.out == "" {
		o.remarks = append(o.remarks, "the page is written with --out DIR only")
	}
	return o, err
}

// everything is what an outlook can give.
const everything = forecast.WantSeason | forecast.WantNext | wantOrder

// reportOutcome makes the page of the report command. Its answer is the pick;
// as of a day after the window the page shows the season without it.
func reportOutcome(k *known, a answers) (*outcome, error) {
	traits := forecast.TraitsTable(k.learning.Lines)
	o := &outcome{table: traits, findings: k.findings}
	all := &asked{} // the page sets the winter among all others
	page := plots.Page{
		Version: version(), Seasons: seasons(a.looks), Lines: k.learning.Lines, Crosses: a.crossed, Winters: wintersOf(k.trial, all),
		Sowing: a.sowing, Verifications: a.verified, Next: advices(a.looks), Plans: a.plans, Constants: constantsTable(),
		Findings: atHome(aboutStations(k.trial, k.findings)),
	}
	var stations []string
	for _, p := range k.trial.Places {
		stations = append(stations, stationName(p))
		if len(a.looks) > 0 {
			page.Frosts = append(page.Frosts, frostsOf(p, a.looks[0].Season.Winter, k.asOf))
		}
	}
	page.Station = strings.Join(slices.Compact(stations), ", ")
	if len(k.trial.Places) == 1 && k.trial.Places[0].Site.Weather.Name != "" {
		page.Title = "How the tops stand: " + k.trial.Places[0].Site.Weather.Name
	}
	page.Picks, page.Orders = picks(a.looks), orders(a.looks)
	if len(page.Picks) > 0 {
		o.table = forecast.PickTable(page.Picks)
		o.text = perPlace(page.Picks, shortPick)
		o.after = cautions
	}
	var b bytes.Buffer
	if err := page.HTML(&b); err != nil {
		return nil, err
	}
	o.files = []file{bytesFile("report.html", b.Bytes())}
	return o, nil
}

// stationName gives the name that the record gives, else that of its file.
func stationName(p *forecast.Place) string {
	if p.Record.Station != "" {
		return p.Record.Station
	}
	return filepath.Base(p.Record.File)
}

// atHome names files without their folders: the page's bytes are the same
// wherever the trial folder lies.
func atHome(findings table.Findings) table.Findings {
	for i := range findings {
		findings[i].File = filepath.Base(findings[i].File)
	}
	return findings
}
