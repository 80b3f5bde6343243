package weather

import (
	"encoding/csv"
	"errors"
	"io"

	"wintertop/weather/table"

	"github.com/gocarina/gocsv"
)

// Decode fills one T from each row of s by its csv tags, which are the
// layout's canonical names, and calls each with the row's line in the file. It
// stops at the first error of each and returns it. A cell that a field of T
// refuses is an *table.InputError naming file and line; fields of type
// table.Number never refuse. Faults of the rows themselves are among
// s.Findings() and are not returned.
func Decode[T any](s *table.Source, each func(line int, row T) error) error {
	names, err := s.Read()
	if err != nil {
		return err
	}
	for stretch := (lineKeeper{Source: s, names: names}); !stretch.ended; {
		if err := decodeStretch(&stretch, each); err != nil {
			return err
		}
	}
	return nil
}

func decodeStretch[T any](source *lineKeeper, each func(line int, row T) error) error {
	s := source.Source
	var rows []T
	if err := gocsv.UnmarshalCSV(source, &rows); err != nil {
		var cell *csv.ParseError
		if !errors.As(err, &cell) {
			return err
		}
		const headerAndOrigin = 2 // what gocsv adds to the row's index
		return &table.InputError{Faults: table.Findings{{
			File: s.Name(), Line: source.lines[cell.Line-headerAndOrigin], Column: s.Columns()[cell.Column-1].Raw,
			What: s.Columns()[cell.Column-1].Raw + ": " + cell.Err.Error(), TreatedAs: "refused", Severity: table.Fault,
		}}}
	}
	for i, row := range rows {
		if err := each(source.lines[i], row); err != nil {
			return err
		}
	}
	return nil
}

// lineKeeper gives a file to gocsv a stretch at a time, so that a long one does
// not stand in memory three times over. It remembers on which line each row of
// the stretch starts: gocsv counts rows, which is wrong after a blank or a
// multi-line one.
type lineKeeper struct {
	*table.Source
	names []string
	lines []int
	ended bool
}

// ReadAll gives the header and the rows of the next stretch.
func (k *lineKeeper) ReadAll() ([][]string, error) {
	const stretch = 4096
	rows := [][]string{k.names}
	for k.lines = k.lines[:0]; len(rows) <= stretch; {
		row, err := k.Source.Read()
		if err == io.EOF {
			k.ended = true
			break
		}
		if err != nil {
			return nil, err
		}
		rows, k.lines = append(rows, row), append(k.lines, k.Source.Line())
	}
	return rows, nil
}
