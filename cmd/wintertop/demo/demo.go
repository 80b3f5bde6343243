// Package demo holds wintertop's built-in example: the trial folder of an
// invented breeder in an invented coastal valley. No place, line or reading in
// it is real; README.md beside it says how it was made.
package demo

import (
	"embed"
	"encoding/csv"
	"io/fs"
	"math"
	"strconv"
)

//go:generate go run ./generate .
//go:embed trial/*.csv moves.csv
var files embed.FS

// Trial gives the example's trial folder: station.csv, site.csv, lines.csv,
// plantings.csv and notes.csv at its root.
func Trial() fs.FS {
	trial, err := fs.Sub(files, "trial")
	if err != nil {
		panic(err)
	}
	return trial
}

// Moves gives, by the name of a constant, how far the share that lifts on 15
// February moves on the example as the constant goes from its low to its high
// (forecast.Sensitivity); NaN where it does not move.
func Moves() map[string]float64 {
	f, err := files.Open("moves.csv")
	if err != nil {
		panic(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		panic(err)
	}
	moves := map[string]float64{}
	for _, row := range rows[1:] {
		moves[row[0]] = math.NaN()
		if row[1] == "" {
			continue
		}
		if moves[row[0]], err = strconv.ParseFloat(row[1], 64); err != nil {
			panic(err)
		}
	}
	return moves
}
