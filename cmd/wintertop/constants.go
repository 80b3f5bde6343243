package main

import (
	"context"
	"strconv"
	"strings"

	"wintertop/canopy"
	"wintertop/forecast"
	"wintertop/weather"
	"wintertop/weather/table"
)

func constantsCommand() *command {
	return &command{
		name: "constants",
		does: "every number the model uses, with range, unit, standing and source",
		examples: []example{
			{"wintertop constants", "all of them"},
			{"wintertop constants --format csv", "as CSV on standard output"},
			{"wintertop constants --out numbers", "as the file numbers/constants.csv"},
		},
		more: "Standing: read (seen in the source), memory (recalled from it), practice (of the trade, no source),\n" +
			"fitted (to open data), derived (from other numbers), assumed (a judgement).",
		files: []string{"constants.csv"},
		flags: outFlags,
		run:   runConstants,
	}
}

func runConstants(context.Context, *job) (*outcome, error) {
	w, c, f := weather.Standard(), canopy.Standard(), forecast.Standard()
	t := table.New("constants", "name", "symbol", "value", "low", "high", "unit", "standing", "source")
	for _, list := range [][]weather.Constant{w.Constants(), c.Constants(), f.Constants()} {
		for _, k := range list {
			t.Add(table.Text(k.Name), table.Text(k.Symbol), shortest(*k.Value), shortest(k.Low), shortest(k.High),
				table.Text(k.Unit), table.Text(k.Standing.String()), table.Text(k.Source))
		}
	}
	return &outcome{table: t, files: []file{tableFile(t)}}, nil
}

// shortest gives a number with the decimals that its value was written with.
func shortest(x float64) table.Cell {
	_, decimals, _ := strings.Cut(strconv.FormatFloat(x, 'f', -1, 64), ".")
	return table.Num(x, len(decimals))
}
