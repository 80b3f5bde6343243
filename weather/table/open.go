package table

import (
	"cmp"
	"fmt"
	"io"
	"strings"
)

// Open reads all of r and finds its header. Gzip, byte order marks, UTF-16 and
// Windows-1252, comma, semicolon and tab, preamble and comment lines are
// recognised. name is the file's name for messages. The error is an
// *InputError where the input is no text, has no known column, lacks a required
// one or has two for one field; else it is the reader's own.
func Open(r io.Reader, name string, layout Layout) (*Source, error) {
	text, err := readText(r, name)
	if err != nil {
		return nil, err
	}
	s := &Source{name: name, mostRows: cmp.Or(layout.MostRows, mostRows)}
	h, unheaded := withoutHeader(text, layout)
	if !unheaded {
		h = findHeader(text, layout)
		if err := h.check(text, name, layout); err != nil {
			return nil, err
		}
		h.keepFirst(layout)
		h = unitRow(text, h, layout)
	}
	s.columns = h.columns
	s.headerLine = 1 + strings.Count(text[:h.start], "\n")
	s.text = text[h.end:]
	s.skipped = strings.Count(text[:h.end], "\n")
	s.csv = newReader(s.text, h.comma)
	s.csv.ReuseRecord = true
	s.nameColumns(layout, h.comma)
	return s, nil
}

// withoutHeader asks the layout whether the first row is data already.
func withoutHeader(text string, layout Layout) (header, bool) {
	if layout.Unheaded == nil {
		return header{}, false
	}
	start := len(text) - len(strings.TrimLeft(text, " \n"))
	for _, comma := range separators {
		cells, _ := firstRecord(text[start:], comma)
		names := layout.Unheaded(cells)
		if names == nil {
			continue
		}
		columns := make([]Column, len(names))
		for i, name := range names {
			columns[i] = Column{name, name, ""}
		}
		return header{start: start, end: start, comma: comma, columns: columns}, true
	}
	return header{}, false
}

// check refuses a header that cannot be used.
func (h header) check(text, name string, layout Layout) error {
	line := 1 + strings.Count(text[:h.start], "\n")
	var faults Findings
	fault := func(line int, hint, format string, args ...any) {
		faults = append(faults, Finding{File: name, Line: line, What: fmt.Sprintf(format, args...),
			TreatedAs: "refused", Hint: hint, Severity: Fault})
	}
	if strings.TrimSpace(text) == "" {
		fault(0, "a "+layout.What+" needs the columns "+layout.wanted(), "is empty")
		return faults.Err()
	}
	if h.hits == 0 {
		line, found := firstRow(text)
		fault(line, "a "+layout.What+" has columns such as "+layout.wanted(), "no column of a %s; found %s", layout.What, rawNames(found))
		return faults.Err()
	}
	for _, f := range layout.Fields {
		var named []Column
		for _, c := range h.columns {
			if c.Name == f.Name {
				named = append(named, c)
			}
		}
		if f.Required && named == nil {
			fault(line, "add it, or rename the column that holds it", "no column %s; found %s", f.Name, rawNames(h.columns))
		}
		for i := 1; i < len(named) && !f.MayRepeat; i++ {
			fault(line, "rename or remove one of them", "two columns for %s: %s and %s", f.Name, Quote(named[0].Raw), Quote(named[i].Raw))
		}
	}
	return faults.Err()
}

// keepFirst leaves each field its first column only.
func (h header) keepFirst(layout Layout) {
	for _, f := range layout.Fields {
		first := true
		for i, c := range h.columns {
			if c.Name == f.Name && !first {
				h.columns[i].Name = ""
			}
			first = first && c.Name != f.Name
		}
	}
}

// wanted names the required fields, or the first few where none is required.
func (l Layout) wanted() string {
	var required, first []string
	for i, f := range l.Fields {
		if f.Required {
			required = append(required, f.Name)
		}
		if i < 3 {
			first = append(first, f.Name)
		}
	}
	if required == nil {
		return strings.Join(first, ", ")
	}
	return strings.Join(required, ", ")
}

// firstRow gives the cells of the first row that is no comment, split at the
// separator that gives most of them.
func firstRow(text string) (line int, cells []Column) {
	for i, row := range strings.Split(text, "\n") {
		if strings.TrimSpace(row) == "" || strings.ContainsAny(row[:1], commentMarks) {
			continue
		}
		for _, comma := range separators {
			if raw, _ := firstRecord(row, comma); len(raw) > len(cells) {
				cells = nil
				for _, c := range raw {
					cells = append(cells, Column{"", c, ""})
				}
			}
		}
		return i + 1, cells
	}
	return 1, []Column{{"", strings.TrimSpace(text), ""}}
}

func rawNames(columns []Column) string {
	const shown = 15
	var names []string
	for i, c := range columns {
		if i == shown {
			names = append(names, fmt.Sprintf("and %d more", len(columns)-i))
			break
		}
		names = append(names, Quote(c.Raw))
	}
	return strings.Join(names, ", ")
}

// unitRow takes a row of units below the header for what it is.
func unitRow(text string, h header, layout Layout) header {
	cells, size := firstRecord(text[h.end:], h.comma)
	names, units := layout.names(), 0
	if len(cells) != len(h.columns) {
		return h
	}
	for i, cell := range cells {
		if _, ok := Unit(cell); ok {
			units++
		} else if cell != "" && names[Fold(h.columns[i].Name)].Number {
			return h
		}
	}
	if units == 0 {
		return h
	}
	for i, cell := range cells {
		if _, ok := Unit(cell); ok && h.columns[i].Unit == "" {
			h.columns[i].Unit = cell
		}
	}
	h.end += size
	return h
}

// nameColumns fixes the names that gocsv sees and notes the columns that are
// not ours.
func (s *Source) nameColumns(layout Layout, comma rune) {
	number := map[string]bool{}
	for _, f := range layout.Fields {
		number[f.Name] = f.Number
	}
	var foreign []Column
	for i, c := range s.columns {
		name := c.Name
		if name == "" {
			name = fmt.Sprintf("not used %d", i+1)
			if c.Raw != "" {
				foreign = append(foreign, c)
			}
		}
		s.canonical, s.folded = append(s.canonical, name), append(s.folded, Fold(c.Raw))
		s.decimal = append(s.decimal, number[c.Name] && comma != ',')
	}
	if len(foreign) > 0 {
		s.findings = append(s.findings, Finding{File: s.name, Line: s.headerLine, What: "columns not used: " + rawNames(foreign), TreatedAs: "ignored"})
	}
}
