package forecast

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"wintertop/weather/table"
)

// Rating is one cell of lines.csv in a column that holds numbers.
type Rating struct {
	Column string // as the file has it
	Value  table.Number
}

// ratingsOf looks for columns of lines.csv that are not ours and hold numbers. It
// gives the layout with them, and by line of the file the cells of every column
// of numbers. A file that cannot be read has none: reading it says why.
func ratingsOf(content []byte, name string) (table.Layout, map[int][]Rating) {
	layout := linesLayout
	layout.Fields = slices.Clone(layout.Fields)
	source, err := table.Open(bytes.NewReader(content), name, layout)
	if err != nil {
		return layout, nil
	}
	columns := source.Columns()
	rows, _, err := rowsBelow(source)
	if err != nil {
		return layout, nil
	}
	taken := map[string]bool{}
	for i, c := range columns {
		number := slices.ContainsFunc(rows, func(row []string) bool {
			return table.ParseNumber(strings.Replace(row[i], ",", ".", 1)).Known
		})
		if folded := table.Fold(c.Raw); c.Name == "" && number && folded != "" && !taken[folded] {
			taken[folded] = true
			layout.Fields = append(layout.Fields, table.Field{Name: c.Raw, Number: true, MayRepeat: true})
		}
	}
	if source, err = table.Open(bytes.NewReader(content), name, layout); err != nil {
		return linesLayout, nil
	}
	columns = source.Columns()
	rows, at, err := rowsBelow(source)
	if err != nil {
		return linesLayout, nil
	}
	ratings := map[int][]Rating{}
	for i, c := range columns {
		if !slices.ContainsFunc(layout.Fields, func(f table.Field) bool { return f.Name == c.Name && f.Number }) {
			continue
		}
		for r, row := range rows {
			ratings[at[r]] = append(ratings[at[r]], Rating{c.Raw, table.ParseNumber(row[i])})
		}
	}
	return layout, ratings
}

// rowsBelow gives the rows below the header, and the line of each.
func rowsBelow(s *table.Source) (rows [][]string, lines []int, err error) {
	if _, err := s.Read(); err != nil {
		return nil, nil, err
	}
	for {
		row, err := s.Read()
		if err == io.EOF {
			return rows, lines, nil
		}
		if err != nil {
			return nil, nil, err
		}
		rows, lines = append(rows, row), append(lines, s.Line())
	}
}

// ratingsFinding names the columns of numbers that are not ours.
func ratingsFinding(layout table.Layout, name string, line int) table.Findings {
	var names []string
	for _, f := range layout.Fields[len(linesLayout.Fields):] {
		names = append(names, table.Quote(f.Name))
	}
	if names == nil {
		return nil
	}
	return table.Findings{{File: name, Line: line, What: "columns used only by --floor of cross: " + strings.Join(names, ", "), TreatedAs: "ignored"}}
}

// Floor is the least value of a column of lines.csv that a parent must have.
type Floor struct {
	Column string
	Least  float64
}

// RatingColumns names the columns of lines.csv that hold numbers.
func (t *Trial) RatingColumns() []string {
	var names []string
	if len(t.Lines) > 0 {
		for _, s := range t.Lines[0].Ratings {
			names = append(names, s.Column)
		}
	}
	return names
}

// RatingColumn finds a column that holds numbers by its name, compared without
// case, blanks and what stands in brackets after it.
func (t *Trial) RatingColumn(name string) (column string, ok bool) {
	for _, c := range t.RatingColumns() {
		base, _, _ := strings.Cut(c, "(")
		if folded := table.Fold(name); folded == table.Fold(c) || folded == table.Fold(base) {
			return c, true
		}
	}
	return "", false
}

// below says why a line fails a floor, "" where it does not. The finding is a
// fault where the cell holds no number.
func (l Line) below(f Floor, file string) (why string, fault table.Findings) {
	for _, s := range l.Ratings {
		switch {
		case s.Column != f.Column:
		case s.Value.Fault != "":
			return "", table.Findings{{File: file, Line: l.FileLine, Column: s.Column, Value: s.Value.Text, Severity: table.Fault, TreatedAs: "refused",
				What: s.Column + ": " + s.Value.Fault, Hint: s.Value.Hint()}}
		case !s.Value.Known:
			return "no " + s.Column, nil
		case s.Value.Value < f.Least:
			return fmt.Sprintf("%s %s", s.Column, s.Value.Text), nil
		default:
			return "", nil
		}
	}
	return "no " + f.Column, nil
}
