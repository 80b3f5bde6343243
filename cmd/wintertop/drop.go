package main

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"wintertop/forecast"
	"wintertop/weather"
	"wintertop/weather/table"
)

// addLoggers fits the canopy drop of every place that has a logger among its
// leaves: the file that --logger names, or the usual one in the trial folder.
func (j *job) addLoggers(trial *forecast.Trial, o *outcome) error {
	given := j.asked.named[loggerRole]
	if given != "" && len(trial.Places) > 1 {
		return &usageError{
			what: fmt.Sprintf("--logger names one file, but the trial has %d places", len(trial.Places)),
			hint: "put files such as logger-" + trial.Places[0].Name + ".csv into the trial folder and leave --logger out",
		}
	}
	var logged []*forecast.Place
	fits := map[*forecast.Place]weather.DropFit{}
	for _, p := range trial.Places {
		name := given
		if name == "" && j.asked.in != "" {
			name = joinGiven(j.asked.in, placeName(string(loggerRole), p.Name)+filepath.Ext(loggerRole.fileName()))
		}
		if name == "" {
			continue
		}
		logger, findings, err := j.readLogger(name)
		if given == "" && errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		fit, err := weather.FitDrop(p.Record, logger, p.Site.Weather)
		if err != nil {
			return &dataError{
				what: name + ": " + err.Error(),
				hint: fmt.Sprintf("the station's record runs from %s to %s, the logger's from %s to %s",
					p.Record.First(), p.Record.Last(), logger.First(), logger.Last()),
			}
		}
		o.findings = append(o.findings, findings...)
		o.remarks = append(o.remarks, doubtsOf(name, fit)...)
		said := fitWords(name, p, fit)
		if j.asked.format == "text" {
			o.after = append(o.after, said...)
		} else {
			o.remarks = append(o.remarks, said...)
		}
		logged, fits[p] = append(logged, p), fit
	}
	if len(logged) > 0 {
		t := stack(logged, func(p *forecast.Place) *table.Table { return weather.DropTable(fits[p]) })
		o.files = append(o.files, tableFile(t))
	}
	return nil
}

// readLogger reads a logger's record up to as-of.
func (j *job) readLogger(name string) (weather.Record, table.Findings, error) {
	f, err := j.inputs.open(name)
	if err != nil {
		return weather.Record{}, nil, err
	}
	defer f.Close()
	logger, findings, err := weather.Read(f, name, j.reading())
	if err != nil {
		return logger, nil, err
	}
	if a := j.asked; a.hasAsOf {
		if a.asOf < logger.First() {
			return logger, nil, &dataError{what: fmt.Sprintf("%s: begins on %s, after as-of %s", name, logger.First(), a.asOf)}
		}
		logger = logger.Upto(a.asOf)
	}
	return logger, findings, nil
}

// doubtsOf warns of a fit that says little.
func doubtsOf(name string, f weather.DropFit) []string {
	var doubts []string
	if f.Few() {
		doubts = append(doubts, fmt.Sprintf("warning: %s has %d winter nights beside the station: so few say little, go on logging", name, f.Nights))
	}
	if f.OffDays != 0 {
		way := "on"
		if f.OffDays < 0 {
			way = "back"
		}
		doubts = append(doubts, fmt.Sprintf("warning: %s fits the station better with its dates moved a day %s: check the logger's clock", name, way))
	}
	if f.DropC <= 0 {
		doubts = append(doubts, fmt.Sprintf("warning: %s is no colder than the field's screen: was the logger under snow or mulch, or does the site need another min_offset?", name))
	}
	return doubts
}

// fitWords says what the fit is, what it does to the events of the station,
// and how to use it.
func fitWords(name string, p *forecast.Place, f weather.DropFit) []string {
	now, then := p.Site.Weather, f.Applied(p.Site.Weather)
	month := "January"
	if now.South() {
		month = "July"
	}
	place := ""
	if p.Name != "" {
		place = "," + p.Name
	}
	words := []string{
		fmt.Sprintf("%s: %d winter nights from %s to %s, %d more set aside as wild", name, f.Nights, f.First, f.Last, f.SetAside),
		fmt.Sprintf("canopy drop = %.2f (standard error %.2f) + %.3f (%.3f) x (yesterday's maximum - minimum), held between 0 and %g °C; single nights differ from it by SD %.2f °C",
			then.Params.DropBaseC, f.BaseSEC, then.Params.DropPerDegree, f.PerDegreeSE, then.Params.DropMaxC, f.ResidualSDC),
		fmt.Sprintf("on the mean winter night, %.1f °C between maximum and minimum, the leaves are %.2f °C (%.2f) colder than the screen; the site's drop now makes it %.2f",
			f.RangeC, f.DropC, f.DropSEC, now.Params.CanopyDropC(f.RangeC, 0)),
	}
	before, winters := weather.EventsByMidwinter(p.Filled, now)
	if winters > 0 {
		after, _ := weather.EventsByMidwinter(p.Filled, then)
		words = append(words, fmt.Sprintf("freeze-thaw events by 31 %s, mean of %d complete winters: %.1f with the site's drop now, %.1f with the logger's", month, winters, before, after))
	}
	general := forecast.Standard().PlaceSDC
	words = append(words, fmt.Sprintf("doubt about the drop of this place: SD %.2f °C, without a logger %.2f", f.PlaceSD(general), general))
	return append(words, "rows for site.csv (item, value, unit"+map[bool]string{true: ", place"}[place != ""]+"):",
		fmt.Sprintf("drop_base,%.2f,degC%s", then.Params.DropBaseC, place),
		fmt.Sprintf("drop_per_degree,%.3f,%s", then.Params.DropPerDegree, place),
		fmt.Sprintf("drop_sd,%.2f,degC%s", f.PlaceSD(general), place))
}
