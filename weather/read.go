package weather

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"sort"
	"strings"

	"wintertop/weather/table"
)

// Reading says what a station file itself leaves open; "" means that the file
// decides.
type Reading struct {
	Units     string // "metric", "us" or "tenths", for columns without a unit in the header
	DateOrder string // "dmy" or "mdy", for dates such as 03/04/2012
}

// Read reads one station's daily history in any of the layouts known here. name
// is the file's name for messages. The findings are in the order of the lines
// and include the faults; the error is a *table.InputError with all faults, or
// the reader's own. In the record every day from the first to the last has its
// place, nothing is filled, and where a minimum stands above its maximum both
// are missing.
func Read(in io.Reader, name string, how Reading) (Record, table.Findings, error) {
	if _, ok := unitsWords[how.Units]; !ok && how.Units != "" {
		return Record{}, nil, fmt.Errorf("%q is not one of metric, us and tenths", how.Units)
	}
	if !slices.Contains([]string{"", "dmy", "mdy"}, how.DateOrder) {
		return Record{}, nil, fmt.Errorf("%q is neither dmy nor mdy", how.DateOrder)
	}
	s, err := table.Open(in, name, stationLayout())
	if err != nil {
		return Record{}, nil, err
	}
	r := &reader{s: s, how: how}
	record, err := r.record()
	if err != nil {
		return Record{}, nil, err
	}
	seen := append(slices.Clone(s.Findings()), r.seen...)
	sort.SliceStable(seen, func(i, j int) bool { return seen[i].Line < seen[j].Line })
	if err := seen.Err(); err != nil {
		return Record{}, seen, err
	}
	return record, seen, nil
}

// reader is one file on its way to a Record.
type reader struct {
	s       *table.Source
	how     Reading
	shape   shape
	units   [quantities]string
	columns [quantities]string // names as the file has them
	entries []entry
	station string
	places  map[string]bool
	seen    table.Findings
}

// entry is what a file says about one day.
type entry struct {
	line   int
	text   string // the date as written
	date   Date
	dated  bool
	filled bool
	cells  [quantities]cell
}

// cell is one value as written; line 0 where the file has none.
type cell struct {
	line   int
	number table.Number
	value  float64 // in the unit of a Day, NaN where missing
}

func newEntry(line int) entry {
	e := entry{line: line}
	for q := range e.cells {
		e.cells[q].value = math.NaN()
	}
	return e
}

// blank says whether all cells of the day are blank as written.
func (e entry) blank() bool {
	for _, c := range e.cells {
		if c.line > 0 && !c.number.Missing() {
			return false
		}
	}
	return true
}

// valueless says whether no cell of the day has a value.
func (e entry) valueless() bool {
	for _, c := range e.cells {
		if !math.IsNaN(c.value) {
			return false
		}
	}
	return true
}

// note adds one finding.
func (r *reader) note(line int, date, column, value string, severity table.Severity, treated, hint, format string, args ...any) {
	r.seen = append(r.seen, table.Finding{File: r.s.Name(), Line: line, Date: date, Column: column, Value: table.Cut(value),
		What: fmt.Sprintf(format, args...), TreatedAs: treated, Hint: hint, Severity: severity})
}

func (r *reader) record() (Record, error) {
	header := r.s.HeaderLine()
	sh, missing := shapeOf(r.s)
	if missing != nil {
		var found []string
		for _, c := range r.s.Columns() {
			found = append(found, table.Quote(c.Raw))
		}
		r.note(header, "", "", "", table.Fault, "refused", "add the column, or rename the one that holds it",
			"no column for %s; found %s", strings.Join(missing, ", nor for "), strings.Join(found, ", "))
		return Record{}, nil
	}
	r.shape = sh
	ghcn := sh.wide || sh.long
	var seen table.Findings
	r.units, seen = columnUnits(r.s, r.how.Units, ghcn)
	r.seen = append(r.seen, seen...)
	for q := range quantities {
		column, _ := r.s.Column(fieldOf[q])
		r.columns[q] = column.Raw
	}
	if err := r.readRows(); err != nil {
		return Record{}, err
	}
	if len(r.entries) == 0 {
		if seen := append(r.seen, r.s.Findings()...); seen.Err() != nil {
			return Record{}, nil // rows refused are no rows missing
		}
		r.note(header, "", "", "", table.Fault, "refused", "", "has no rows below the header")
		return Record{}, nil
	}
	if len(r.places) > 1 {
		return Record{}, nil
	}
	if sh.date != "" {
		r.assignDates()
	}
	r.dateFindings()
	r.assignValues()
	return r.days(), nil
}

// dateFindings gives the findings so far the date that stands on their line.
func (r *reader) dateFindings() {
	undated := map[int][]int{} // findings by line
	for i, f := range r.seen {
		if f.Date == "" {
			undated[f.Line] = append(undated[f.Line], i)
		}
	}
	if len(undated) == 0 {
		return
	}
	for i := range r.entries {
		e := &r.entries[i]
		for _, f := range undated[e.line] {
			r.seen[f].Date = e.isoDate()
		}
	}
}

func (r *reader) readRows() error {
	if r.shape.long {
		return r.readElements()
	}
	r.entries = slices.Grow(r.entries, min(r.s.Lines(), mostDays))
	err := Decode(r.s, func(line int, row stationRow) error {
		if len(r.entries) == mostDays {
			r.note(line, "", "", "", table.Fault, "refused", "give a row a day", "more than %d rows", mostDays)
			return errMostDays
		}
		e := newEntry(line)
		e.filled = row.State == Filled.String()
		r.onePlace(line, row)
		numbers := [quantities]table.Number{row.Min, row.Max, row.Rain, row.SnowDepth}
		flags := [quantities]string{row.MinAttributes, row.MaxAttributes, row.RainAttributes, row.SnowDepthAttributes}
		for q := range quantities {
			if r.columns[q] != "" {
				e.cells[q] = r.cell(line, "", q, numbers[q], qualityOf(flags[q]))
			}
		}
		switch r.shape.date {
		case "":
			r.dateOfParts(&e, row)
		case "date":
			e.text = row.Date
		case "day":
			e.text = row.Day
		case "time":
			e.text = row.Time
		}
		r.entries = append(r.entries, e)
		return nil
	})
	if errors.Is(err, errMostDays) {
		return nil
	}
	return err
}

// mostDays is how many rows of a day each a file may have: five centuries, as
// years go from 1700 to 2199, and some days twice.
const mostDays = 200_000

var errMostDays = errors.New("too many days")

// onePlace refuses a file that holds more than one station.
func (r *reader) onePlace(line int, row stationRow) {
	name := strings.TrimSpace(row.Station + " " + row.Place)
	if r.places[name] || name == "" {
		return
	}
	if r.places == nil {
		r.places = map[string]bool{}
		r.station = name
	} else {
		r.note(line, "", "", name, table.Fault, "refused", "give each place a file of its own",
			"a row of %s in a file of %s", table.Quote(name), table.Quote(r.station))
	}
	r.places[name] = true
}

// cell checks that a value is a number; a quality flag makes it missing.
func (r *reader) cell(line int, date string, q quantity, n table.Number, flag string) cell {
	c := cell{line: line, number: n, value: math.NaN()}
	column := r.columns[q]
	switch {
	case flag != "":
		if !n.Missing() {
			r.note(line, date, column, n.Text, table.Note, "missing", "",
				"%s carries the quality letter %s: it failed a check of the service", table.Quote(n.Text), table.Quote(flag))
		}
		c.number = table.Number{Text: n.Text}
	case n.Fault != "" && strings.EqualFold(n.Text, "T") && q >= rain:
		c.number = table.Number{Text: n.Text, Known: true} // "trace", too little to measure
	case n.Fault != "":
		r.note(line, date, column, n.Text, table.Fault, "refused", n.Hint(), "%s: %s", column, n.Fault)
	}
	return c
}
