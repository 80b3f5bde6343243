package main

import (
	"fmt"
	"os"
	"strings"

	"wintertop/forecast"
	"wintertop/weather"
	"wintertop/weather/table"
)

// job is one run of a command: what was asked, and what has been read and
// computed for it so far.
type job struct {
	asked  *asked
	inputs *inputs
}

// need checks, before anything is read, that the files are named, by --in or each
// by its own flag, and that the results can be written.
func (j *job) need(needed ...role) error {
	if err := j.folder(); err != nil {
		return err
	}
	a := j.asked
	var missing []string
	for _, r := range needed {
		if a.in == "" && a.named[r] == "" {
			missing = append(missing, "--"+string(r))
		}
	}
	if len(missing) > 0 {
		return &usageError{
			what: a.command.name + " needs a file that no flag names: " + strings.Join(missing, ", "),
			hint: "name the trial folder with --in, or each file with its own flag",
		}
	}
	return a.writable(realDisk{}, j.inputs.opened())
}

// folder checks that --in, where it is given, names a folder.
func (j *job) folder() error {
	in := j.asked.in
	if in == "" {
		return nil
	}
	info, err := os.Stat(in)
	if err != nil {
		e := newFileError(in, err)
		e.hint = "`wintertop start " + in + "` writes a trial folder to fill in"
		return e
	}
	if !info.IsDir() {
		return &fileError{name: in, what: "is a file, not a trial folder", hint: "name a file by its own flag, such as --station " + in}
	}
	return nil
}

func (j *job) files() forecast.Files {
	a := j.asked
	return forecast.Files{
		Dir: a.in, Station: a.named[stationRole], Site: a.named[siteRole], Lines: a.named[linesRole],
		Plantings: a.named[plantingsRole], Notes: a.named[notesRole], Ahead: a.named[aheadRole],
	}
}

func (j *job) reading() weather.Reading {
	return weather.Reading{Units: j.asked.units, DateOrder: j.asked.dateOrder}
}

// winter gives the winter asked for, by default the one that holds the day.
func (a *asked) winterAt(day weather.Date, south bool) (weather.WinterYear, error) {
	if a.winter == "" {
		return weather.WinterOf(day, south), nil
	}
	w, err := weather.ParseWinter(a.winter, south)
	if err != nil {
		return w, &usageError{what: "--winter " + err.Error(), hint: "the sign of the latitude in the site file says which hemisphere it is"}
	}
	return w, nil
}

// notInRecord is the answer to a winter of which the record has no day.
func notInRecord(w weather.WinterYear, r weather.Record) error {
	south := w.South
	return &dataError{
		what: fmt.Sprintf("%s: the winter %s is not in the record", r.File, w),
		hint: fmt.Sprintf("it runs from %s to %s", weather.WinterOf(r.First(), south), weather.WinterOf(r.Last(), south)),
	}
}

// stack puts the tables of several places below one another, with the place in
// a last column; one table alone stays as it is.
func stack(places []*forecast.Place, of func(*forecast.Place) *table.Table) *table.Table {
	if len(places) == 1 {
		return of(places[0])
	}
	var all *table.Table
	for _, place := range places {
		t := of(place)
		if all == nil {
			all = table.New(t.Name, append(t.Columns[:len(t.Columns):len(t.Columns)], "place")...)
		}
		for _, row := range t.Rows {
			all.Add(append(row[:len(row):len(row)], table.Text(place.Name))...)
		}
	}
	return all
}
