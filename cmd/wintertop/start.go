package main

import (
	"context"
	"embed"

	"wintertop/forecast"
	"wintertop/weather/table"
)

// blank holds the five files of a trial folder to fill in.
//
//go:embed blank/*.csv
var blank embed.FS

func startCommand() *command {
	return &command{
		name:  "start",
		words: "DIR",
		does:  "write a trial folder to fill in: five CSV files with example rows",
		examples: []example{
			{"wintertop start my-trial", "the five files, in the new folder my-trial"},
			{"wintertop start my-trial --overwrite", "the same, in place of files that are there"},
		},
		more: "Cells that begin with EXAMPLE must be replaced, or their rows deleted, before the folder can be used.",
		files: []string{
			"station.csv", "site.csv", "lines.csv", "plantings.csv", "notes.csv",
		},
		flags: outFlags,
		run:   runStart,
	}
}

func runStart(_ context.Context, j *job) (*outcome, error) {
	a := j.asked
	folder := a.words[0]
	if a.out != "" {
		return nil, &usageError{what: "start takes the folder as a word and no --out", hint: "write `wintertop start " + a.out + "`"}
	}
	if folder == "-" || folder == "" {
		return nil, &usageError{what: "start needs the name of a folder", hint: "for example: " + a.command.examples[0].line}
	}
	t := table.New("start", "file", "a_row_is", "what_to_do")
	o := &outcome{table: t, folder: folder}
	for _, r := range []struct {
		role      role
		row, todo string
	}{
		{stationRole, "one day", "put the station's whole record in its place, as it is"},
		{siteRole, "one item", "set the name and the latitude; the rest are defaults"},
		{linesRole, "one line", "list your lines, the checks among them"},
		{plantingsRole, "one planting", "list what was sown where and when"},
		{notesRole, "one observation", "enter what was measured; may stay empty"},
	} {
		content, err := blank.ReadFile("blank/" + r.role.fileName())
		if err != nil {
			return nil, err
		}
		o.files = append(o.files, bytesFile(r.role.fileName(), content))
		t.Add(table.Text(joinGiven(folder, r.role.fileName())), table.Text(r.row), table.Text(r.todo))
	}
	o.remarks = []string{
		"Replace every cell that begins with EXAMPLE, or delete its row; until then the rows are refused. Then:",
		"  wintertop station --in " + folder + "    reads and checks the station record",
		"  wintertop pick --in " + folder + "       says which lines to lift when",
		"  wintertop order --in " + folder + "      says what to lift this week",
		"With a demand.csv (" + forecast.DemandForm + ") sow plans the next sowing.",
	}
	return o, nil
}
