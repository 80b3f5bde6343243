package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"

	"wintertop/forecast"
	"wintertop/weather"
	"wintertop/weather/table"
)

func stationCommand() *command {
	return &command{
		name: "station",
		does: "read, check and summarise the station history, winter by winter",
		examples: []example{
			{"wintertop station --in my-trial", "the winters of a trial folder's station"},
			{"wintertop station --station airport.csv --units us", "a file in °F and inches whose header does not say so"},
			{"wintertop station --in my-trial --logger leaves.csv", "how much colder than the screen a logger among the leaves was"},
			{"wintertop station --in my-trial --out checked", "with the cleaned record and all findings as files"},
		},
		more: "A gap of up to three days is filled by interpolation and marked. Day counts use observed days only.\n" +
			"Without a site file winters are counted as in the north and events by the standard canopy.\n" +
			"A trial folder's logger.csv is used like --logger; the fitted drop goes into site.csv by hand.",
		files: []string{"station-clean.csv", "station-findings.csv", "winters.csv", "drop.csv (with a logger)"},
		flags: trialFlags | loggerFlag | outFlags,
		run:   runStation,
	}
}

func runStation(_ context.Context, j *job) (*outcome, error) {
	if err := j.need(stationRole); err != nil {
		return nil, err
	}
	trial, findings, siteless, err := j.loadStation()
	if err != nil {
		return nil, err
	}
	if j.asked.hasAsOf {
		findings = forecast.Before(findings, j.asked.asOf)
	}
	for _, place := range trial.Places {
		if j.asked.hasAsOf {
			place.Record = place.Record.Upto(j.asked.asOf)
		}
		var filled table.Findings
		place.Filled, filled = place.Record.Filled()
		findings = append(findings, filled...)
	}
	o, err := stationOutcome(trial, findings, j.asked)
	if err != nil {
		return nil, err
	}
	if siteless {
		o.remarks = append(o.remarks, "no site file: winters are counted as in the north, events by the standard canopy")
	}
	return o, j.addLoggers(trial, o)
}

// loadStation reads the weather of every place, or of the station file alone
// where there is no site file.
func (j *job) loadStation() (trial *forecast.Trial, findings table.Findings, siteless bool, err error) {
	files := j.files()
	siteless = files.Site == "" && files.Dir == ""
	if files.Site == "" && files.Dir != "" {
		_, err := os.Stat(joinGiven(files.Dir, siteRole.fileName()))
		siteless = errors.Is(err, fs.ErrNotExist)
	}
	if !siteless {
		trial, findings, err = forecast.LoadWeather(j.inputs.open, files, j.reading())
		return trial, findings, false, err
	}
	name := files.Station
	if name == "" {
		name = joinGiven(files.Dir, stationRole.fileName())
	}
	f, err := j.inputs.open(name)
	if err != nil {
		return nil, nil, true, err
	}
	defer f.Close()
	record, findings, err := weather.Read(f, name, j.reading())
	if err != nil {
		return nil, findings, true, err
	}
	place := &forecast.Place{Record: record}
	place.Site.Weather.Params = weather.Standard()
	return &forecast.Trial{Files: files, Places: []*forecast.Place{place}}, findings, true, nil
}

// stationOutcome makes the tables of the station command.
func stationOutcome(trial *forecast.Trial, findings table.Findings, a *asked) (*outcome, error) {
	for _, place := range trial.Places {
		if a.winter == "" {
			continue
		}
		w, err := a.winterAt(place.Record.Last(), place.Site.Weather.South())
		if err != nil {
			return nil, err
		}
		if w.Last() < place.Record.First() || w.First() > place.Record.Last() {
			return nil, notInRecord(w, place.Record)
		}
	}
	winters := wintersOf(trial, a)
	clean := stack(trial.Places, func(p *forecast.Place) *table.Table { return weather.CleanTable(p.Filled) })
	return &outcome{
		table:    winters,
		findings: findings,
		remarks:  fewWinters(trial.Places),
		files:    []file{tableFile(clean), tableFile(weather.FindingsTable(aboutStations(trial, findings))), tableFile(winters)},
	}, nil
}

// wintersOf gives winters.csv, of one winter, ranked among all, where one is
// asked for.
func wintersOf(trial *forecast.Trial, a *asked) *table.Table {
	return stack(trial.Places, func(p *forecast.Place) *table.Table {
		t := weather.WintersTable(p.Record.CountWinters(p.Site.Weather.South()), p.Events())
		if a.winter != "" {
			t.Rows = slices.DeleteFunc(t.Rows, func(row []table.Cell) bool { return row[0] != table.Text(a.winter) })
		}
		return t
	})
}

// aboutStations keeps the findings about station files.
func aboutStations(trial *forecast.Trial, findings table.Findings) table.Findings {
	return slices.DeleteFunc(slices.Clone(findings), func(f table.Finding) bool {
		return !slices.ContainsFunc(trial.Places, func(p *forecast.Place) bool { return p.Record.File == f.File })
	})
}

// leastWinters is the number of complete winters below which odds are coarse.
const leastWinters = 10

// fewWinters warns where a record is short.
func fewWinters(places []*forecast.Place) []string {
	var remarks []string
	for _, p := range places {
		complete := 0
		for _, c := range p.Record.CountWinters(p.Site.Weather.South()) {
			if c.Complete {
				complete++
			}
		}
		if complete < leastWinters {
			remarks = append(remarks, fmt.Sprintf("warning: %s has %d complete winters: odds made of fewer than %d move in steps of %s and miss the rare hard winter",
				p.Record.File, complete, leastWinters, step(complete)))
		}
	}
	return remarks
}

// step gives the least change that odds over n winters can show.
func step(n int) string {
	if n == 0 {
		return "all or nothing"
	}
	return fmt.Sprintf("%.0f %%", 100/float64(n))
}
