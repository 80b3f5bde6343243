package table

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// Source gives the rows of one CSV file under the layout's canonical names.
type Source struct {
	name       string
	csv        *csv.Reader
	text       string
	skipped    int // lines before text
	headerLine int
	started    bool
	columns    []Column
	canonical  []string
	folded     []string // names in the file, for comparison
	decimal    []bool   // a decimal comma in this column becomes a point
	line       int
	rows       int
	mostRows   int
	findings   Findings
}

// mostRows is how many rows a file may have: two centuries of a station with
// a dozen elements, each on a row of its own.
const mostRows = 1_000_000

// longestCell is how many characters a cell of a column that is used may hold.
const longestCell = 1000

var decimalComma = regexp.MustCompile(`^\s*[+-−]?[0-9]*,[0-9]+\s*$`)

// Read gives the canonical names first, then one row after the other, and
// io.EOF after the last. Blank rows and comments are passed over; rows that
// cannot be used are faults among the Findings and passed over too.
func (s *Source) Read() ([]string, error) {
	if !s.started {
		s.started = true
		return slices.Clone(s.canonical), nil
	}
	for {
		before := s.csv.InputOffset()
		cells, err := s.csv.Read()
		if err == io.EOF {
			return nil, err
		}
		raw := s.text[before:s.csv.InputOffset()]
		remark := strings.HasPrefix(strings.TrimLeft(raw, " \n"), "#")
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			s.line = s.skipped + broken.StartLine
			if !remark {
				s.refuse(raw, "a quotation mark stands alone in "+Quote(strings.TrimSpace(raw)),
					"put quotation marks only around whole cells and double those inside")
			}
			continue
		}
		if err != nil {
			return nil, err
		}
		line, _ := s.csv.FieldPos(0)
		s.line = s.skipped + line
		row := s.row(cells, raw, remark)
		if row == nil {
			continue
		}
		if s.rows++; s.rows > s.mostRows {
			s.refuse("", fmt.Sprintf("more than %d rows", s.mostRows), "give only the rows that are needed")
			return nil, io.EOF
		}
		return row, nil
	}
}

// row gives the cells as they are to be decoded, nil where the row is passed
// over.
func (s *Source) row(cells []string, raw string, remark bool) []string {
	for len(cells) > len(s.columns) && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	blank := true
	for _, c := range cells {
		blank = blank && strings.TrimSpace(c) == ""
	}
	switch {
	case blank:
		return nil
	case remark:
		if len(cells) == len(s.columns) {
			s.findings = append(s.findings, Finding{File: s.name, Line: s.line, Value: Cut(strings.TrimSpace(raw)),
				What: "row with a comment mark left out: " + Quote(strings.TrimSpace(raw)), TreatedAs: "ignored", Severity: Warning})
		}
		return nil
	case s.isHeader(cells):
		s.findings = append(s.findings, Finding{File: s.name, Line: s.line, What: "the header stands here again and is passed over", TreatedAs: "ignored"})
		return nil
	case len(cells) != len(s.columns):
		s.refuse(raw, fmt.Sprintf("%d cells where the header has %d: %s", len(cells), len(s.columns), Quote(strings.TrimSpace(raw))),
			"give every row as many cells as the header; put cells that hold the separator into quotation marks")
		return nil
	}
	row := make([]string, len(cells))
	for i, c := range cells {
		c = strings.TrimSpace(c)
		if n := utf8.RuneCountInString(c); n > longestCell && s.columns[i].Name != "" {
			s.refuse(c, fmt.Sprintf("%s: a cell of %d characters", s.columns[i].Name, n), fmt.Sprintf("a cell may hold %d characters", longestCell))
			return nil
		}
		if strings.HasPrefix(c, "EXAMPLE") {
			s.refuse(c, "still the example row that start wrote: "+Quote(c), "put your own value there or delete the row")
			return nil
		}
		if s.decimal[i] && decimalComma.MatchString(c) {
			c = strings.Replace(c, ",", ".", 1)
		}
		row[i] = c
	}
	return row
}

// isHeader says whether a row repeats the header, as files put one below the
// other do.
func (s *Source) isHeader(cells []string) bool {
	return len(cells) > 1 && slices.EqualFunc(cells, s.folded, func(cell, folded string) bool { return Fold(cell) == folded })
}

func (s *Source) refuse(value, what, hint string) {
	s.findings = append(s.findings, Finding{File: s.name, Line: s.line, Value: Cut(strings.TrimSpace(value)), What: what,
		TreatedAs: "refused", Hint: hint, Severity: Fault})
}

// HeaderLine gives the line of the header, counted from 1.
func (s *Source) HeaderLine() int { return s.headerLine }

// Name gives the file's name as it was given to Open.
func (s *Source) Name() string { return s.name }

// Lines gives about how many lines the file has below its header, blank ones and
// comments included.
func (s *Source) Lines() int { return strings.Count(s.text, "\n") }

// Line gives the line, counted from 1, on which the row last read starts.
func (s *Source) Line() int { return s.line }

// Columns gives the file's columns in their order.
func (s *Source) Columns() []Column { return s.columns }

// Column gives the column of a field; ok is false where the file has none.
func (s *Source) Column(field string) (c Column, ok bool) {
	i := slices.IndexFunc(s.columns, func(c Column) bool { return c.Name == field })
	if i < 0 {
		return Column{}, false
	}
	return s.columns[i], true
}

// Unit gives the unit in the header of a field as it is written there, ""
// where there is none.
func (s *Source) Unit(field string) string {
	c, _ := s.Column(field)
	return c.Unit
}

// Findings gives what was seen so far; it grows while rows are read.
func (s *Source) Findings() Findings { return s.findings }
