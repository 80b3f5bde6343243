// Package demo holds wintertop's built-in example: the trial folder of an
// invented breeder in an invented coastal valley. No place, line or reading in
// it is real; README.md beside it says how it was made.
package demo

import (
	"embed"
	"io/fs"
)

//go:generate go run ./generate trial
//go:embed trial/*.csv
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
