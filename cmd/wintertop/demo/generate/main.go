// Command generate writes wintertop's built-in example: the weather and the
// field notes of a valley that does not exist, grown from seeds, the same
// bytes each time; and beside them what each constant does there (moves.go).
//
//	go run ./cmd/wintertop/demo/generate cmd/wintertop/demo
//
// The weather is a small stochastic generator (climate.go, station.go): a
// seasonal mean, a day-to-day wander that is kept in part from one day to the
// next, wet and dry days in a Markov chain of which the wet ones have the
// narrower range, cold easterly spells that come often in a hard winter and
// seldom in a mild one, and snow that falls, settles and melts. The lines have
// true traits (trial.go). The notes (notes.go) are what a person would have
// written of them: the canopy model through that weather, with the line's own
// deviation in each winter, plots, plants and rounding. The seeds were picked,
// among many, for a valley whose odds tell several lines apart.
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"wintertop/weather"
)

const (
	weatherSeed = 7931
	notesSeed   = 24
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: generate DIR")
		os.Exit(2)
	}
	if err := write(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func write(dir string) error {
	files := trial()
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(dir, "trial", f.name), f.content, 0o644); err != nil {
			return err
		}
	}
	moves, err := movesCSV(files)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "moves.csv"), moves, 0o644)
}

// file is one file of the trial folder.
type file struct {
	name    string
	content []byte
}

// trial makes the whole trial folder.
func trial() []file {
	days := record(valley(), weatherSeed, weather.NewDate(1993, time.July, 1), weather.NewDate(2025, time.November, 15))
	lines, fields := lines(), fields()
	return []file{
		{"station.csv", stationCSV(days)},
		{"site.csv", siteCSV(site())},
		{"lines.csv", linesCSV(lines)},
		{"plantings.csv", plantingsCSV(plantings(lines, fields))},
		{"demand.csv", []byte(demandCSV)},
		{"notes.csv", notesCSV(notesSeed, site(), days, fields, lines)},
	}
}
