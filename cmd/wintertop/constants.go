package main

import (
	"context"
	"strconv"
	"strings"

	"wintertop/canopy"
	"wintertop/cmd/wintertop/demo"
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
			"fitted (to open data), derived (from other numbers), assumed (a judgement).\n" +
			"lift_share_moves: how much the share of the stand that lifts on 15 February moves as the number goes from\n" +
			"low to high, all others as they stand: the standard line on the built-in example, mean of 32 winters. Blank\n" +
			"where it moves in none of them: the number serves something else (weeds, learning, the hour of an event),\n" +
			"or the example does not reach it.",
		files: []string{"constants.csv"},
		flags: outFlags,
		run:   runConstants,
	}
}

func runConstants(context.Context, *job) (*outcome, error) {
	t := constantsTable()
	return &outcome{table: t, files: []file{tableFile(t)}}, nil
}

// constantsTable gives constants.csv.
func constantsTable() *table.Table {
	moves := demo.Moves()
	standard := forecast.Site{Weather: weather.Site{Params: weather.Standard()}, Canopy: canopy.Standard(), Params: forecast.Standard()}
	t := table.New("constants", "name", "symbol", "value", "low", "high", "unit", "standing", "source", "lift_share_moves")
	for _, k := range standard.Constants() {
		move, known := moves[k.Name]
		if !known {
			panic("no move of " + k.Name)
		}
		t.Add(table.Text(k.Name), table.Text(k.Symbol), shortest(*k.Value), shortest(k.Low), shortest(k.High),
			table.Text(k.Unit), table.Text(k.Standing.String()), table.Text(k.Source), table.Num(move, 3))
	}
	return t
}

// shortest gives a number with the decimals that its value was written with.
func shortest(x float64) table.Cell {
	_, decimals, _ := strings.Cut(strconv.FormatFloat(x, 'f', -1, 64), ".")
	return table.Num(x, len(decimals))
}
