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
	var begun []*stretch[T] // in the order of the file
	for ended := false; ; {
		for !ended && len(begun) <= stretchesAhead {
			next := &stretch[T]{cells: [][]string{names}, done: make(chan struct{})}
			if ended, err = next.read(s); err != nil {
				return err
			}
			go next.decode()
			begun = append(begun, next)
		}
		if len(begun) == 0 {
			return nil
		}
		if err := begun[0].give(s, each); err != nil {
			return err
		}
		begun = begun[1:]
	}
}

// stretch is a part of a file: gocsv decodes one while the next is read, and a
// long file does not stand in memory three times over.
type stretch[T any] struct {
	cells [][]string // the names first
	lines []int      // on which each row starts: gocsv counts rows, which is wrong after a blank or a multi-line one
	rows  []*T
	err   error
	bug   any
	done  chan struct{}
}

// rowsAtOnce is how many rows a stretch has, stretchesAhead how many are read beyond
// the one that is handed on: the same on any number of processors, so that a file
// that is given up is always read as far.
const (
	rowsAtOnce     = 1024
	stretchesAhead = 2
)

// read takes the next rows; ended says that there are no more.
func (p *stretch[T]) read(s *table.Source) (ended bool, err error) {
	for len(p.lines) < rowsAtOnce {
		row, err := s.Read()
		if err == io.EOF {
			return true, nil
		}
		if err != nil {
			return false, err
		}
		p.cells, p.lines = append(p.cells, row), append(p.lines, s.Line())
	}
	return false, nil
}

// ReadAll gives gocsv the names and the rows.
func (p *stretch[T]) ReadAll() ([][]string, error) { return p.cells, nil }

// Read is not asked for: gocsv takes all rows at once.
func (p *stretch[T]) Read() ([]string, error) { return nil, io.EOF }

func (p *stretch[T]) decode() {
	defer close(p.done)
	defer func() { p.bug = recover() }()
	p.err = gocsv.UnmarshalCSV(p, &p.rows)
}

// give waits for the rows and hands them on.
func (p *stretch[T]) give(s *table.Source, each func(line int, row T) error) error {
	<-p.done
	if p.bug != nil {
		panic(p.bug) // in the caller's goroutine, where it can be answered
	}
	var cell *csv.ParseError
	if errors.As(p.err, &cell) {
		const headerAndOrigin = 2 // what gocsv adds to the row's index
		column := s.Columns()[cell.Column-1].Raw
		return &table.InputError{Faults: table.Findings{{
			File: s.Name(), Line: p.lines[cell.Line-headerAndOrigin], Column: column,
			What: column + ": " + cell.Err.Error(), TreatedAs: "refused", Severity: table.Fault,
		}}}
	}
	if p.err != nil {
		return p.err
	}
	for i, row := range p.rows {
		if err := each(p.lines[i], *row); err != nil {
			return err
		}
	}
	return nil
}
