package main

import (
	"context"
	"strings"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather"
	"wintertop/weather/table"
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
	o := &outcome{table: t, findings: k.findings, files: []file{tableFile(t)}}
	if k.asked.format == "text" {
		o.remarks = []string{"shown: the 1st and 15th of each month; --format csv or json and --out have every day"}
	}
	for _, s := range all {
		words := strings.TrimPrefix(s.Place+", "+s.SoFar.Words(s.Winter), ", ")
		o.text = append(o.text, section{[]string{words}, shortSeason(s)})
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

// shortSeason keeps the 1st and the 15th of each month, and of the columns what
// a terminal takes.
func shortSeason(s *forecast.Season) *table.Table {
	one := *s
	one.Place, one.Plantings = "", nil
	lines := map[string]bool{}
	for _, p := range s.Plantings {
		lines[p.Line] = true
		var days []forecast.SeasonDay
		for _, d := range p.Days {
			if isHalfMonth(d.Date) {
				days = append(days, d)
			}
		}
		p.Days = days
		one.Plantings = append(one.Plantings, p)
	}
	t := forecast.SeasonTable([]*forecast.Season{&one}).Without("leaf_dry_g", "leaf_area_index", "lt50_c", "live_leaves", "observed")
	if len(lines) == len(s.Plantings) {
		t = t.Without("planting")
	}
	return fitted(t, seasonColumns, "weed_cover", "ground_light")
}

func isHalfMonth(d weather.Date) bool {
	_, _, day := d.YMD()
	return day == 1 || day == 15
}
