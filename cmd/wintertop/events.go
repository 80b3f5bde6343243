package main

import (
	"context"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather"
	"wintertop/weather/table"
)

func eventsCommand() *command {
	return &command{
		name: "events",
		does: "freeze-thaw events of the canopy, of one winter or of all",
		examples: []example{
			{"wintertop events --in my-trial", "of the winter that holds the record's last day"},
			{"wintertop events --in my-trial --winter 2023/24", "of one winter"},
			{"wintertop events --in my-trial --all --format csv", "of all winters, as CSV on standard output"},
		},
		more: "Times are local solar time: an event starts when the canopy falls to the freezing point and ends when it is back at the\n" +
			"thaw point. hours_frozen and freezing_degree_hours count the canopy below 0 °C over the whole days of the event, so\n" +
			"they may differ from end less start. An event that has not thawed by as-of is open, and its end blank.",
		files: []string{"events.csv", "events.svg"},
		flags: trialFlags | allFlag | outFlags | pngFlag,
		run:   runEvents,
	}
}

func runEvents(_ context.Context, j *job) (*outcome, error) {
	a := j.asked
	if a.all && a.winter != "" {
		return nil, &usageError{what: "--all and --winter exclude each other", hint: "leave one of them out"}
	}
	if err := j.need(stationRole, siteRole); err != nil {
		return nil, err
	}
	trial, findings, err := forecast.LoadWeather(j.inputs.open, j.files(), j.reading())
	if err != nil {
		return nil, err
	}
	day := trial.LastDay()
	if a.hasAsOf {
		day = a.asOf
	} else {
		findings = append(findings, trial.EndsApart()...)
	}
	cut, filled, err := trial.AsOf(day)
	if err != nil {
		return nil, err
	}
	return eventsOutcome(cut, append(forecast.Before(findings, day), filled...), day, a)
}

// eventsOutcome makes the table and the charts of the events command. A chart
// sets one winter among all of the record.
func eventsOutcome(trial *forecast.Trial, findings table.Findings, day weather.Date, a *asked) (*outcome, error) {
	wanted := map[*forecast.Place]weather.WinterYear{}
	for _, p := range trial.Places {
		w, err := a.winterAt(day, p.Site.Weather.South())
		if err != nil {
			return nil, err
		}
		if w.Last() < p.Record.First() || w.First() > p.Record.Last() {
			return nil, notInRecord(w, p.Record)
		}
		wanted[p] = w
	}
	t := stack(trial.Places, func(p *forecast.Place) *table.Table {
		if a.all {
			return weather.EventsTable(p.Events())
		}
		return weather.EventsTable(p.EventsOf(wanted[p]))
	})
	o := &outcome{table: t, findings: findings, files: []file{tableFile(t)}}
	for _, p := range trial.Places {
		charts, err := chartFiles(a, placeName("events", p.Name), plots.Events(frostsOf(p, wanted[p], day)))
		if err != nil {
			return nil, err
		}
		o.files = append(o.files, charts...)
	}
	return o, nil
}

// frostsOf gathers the freezing of a place for a chart of one winter among all.
func frostsOf(p *forecast.Place, winter weather.WinterYear, day weather.Date) plots.Frosts {
	return plots.Frosts{
		Place: p.Name, Winter: winter, AsOf: day,
		Counts: p.Record.CountWinters(winter.South), Events: p.Events(),
	}
}
