package main

import (
	"context"
	"strings"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather"
)

func seasonCommand() *command {
	return &command{
		name: "season",
		does: "leaf mass, height, light and lift share of each planting through one winter",
		examples: []example{
			{"wintertop season --in my-trial", "the winter in progress, observed and ahead"},
			{"wintertop season --in my-trial --winter 2023/24", "a past winter"},
			{"wintertop season --in my-trial --out season", "every day as a file, and the charts"},
		},
		more: "Text shows the 1st and 15th of each month; csv, json and the file have every day.\n" +
			"After as-of every complete past winter is played forward: medians, with 5 and 95 % for leaf mass.",
		files: []string{"season.csv", "leaf-mass.svg", "shade.svg"},
		flags: trialFlags | detrendFlag | outFlags | pngFlag,
		run:   runSeason,
	}
}

func runSeason(ctx context.Context, j *job) (*outcome, error) {
	k, looks, err := j.knowAndLook(ctx, forecast.WantSeason, nil)
	if err != nil {
		return nil, err
	}
	return seasonOutcome(k, seasons(looks))
}

// seasonOutcome makes the table and the charts of the season command.
func seasonOutcome(k *known, all []*forecast.Season) (*outcome, error) {
	t := forecast.SeasonTable(all)
	o := &outcome{table: t, text: forecast.SeasonTable(halfMonths(all)), findings: k.findings, files: []file{tableFile(t)}}
	if k.asked.format == "text" {
		o.remarks = []string{"shown: the 1st and 15th of each month; --format csv or json and --out have every day"}
	}
	for _, s := range all {
		o.before = append(o.before, strings.TrimPrefix(s.Place+", "+s.SoFar.Words(s.Winter), ", "))
		for _, c := range []struct {
			name  string
			chart plots.Chart
		}{{"leaf-mass", plots.LeafMass(s)}, {"shade", plots.Shade(s)}} {
			files, err := chartFiles(k.asked, placeName(c.name, s.Place), c.chart)
			if err != nil {
				return nil, err
			}
			o.files = append(o.files, files...)
		}
	}
	return o, nil
}

// halfMonths keeps the 1st and the 15th of each month.
func halfMonths(all []*forecast.Season) []*forecast.Season {
	var short []*forecast.Season
	for _, s := range all {
		one := *s
		one.Plantings = nil
		for _, p := range s.Plantings {
			var days []forecast.SeasonDay
			for _, d := range p.Days {
				if isHalfMonth(d.Date) {
					days = append(days, d)
				}
			}
			p.Days = days
			one.Plantings = append(one.Plantings, p)
		}
		short = append(short, &one)
	}
	return short
}

func isHalfMonth(d weather.Date) bool {
	_, _, day := d.YMD()
	return day == 1 || day == 15
}
