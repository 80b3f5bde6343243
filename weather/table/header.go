package table

import (
	"encoding/csv"
	"strings"
	"unicode"
)

// Field is one column that a layout knows. Name is the canonical name, the
// csv tag of the struct that is filled; names are compared without case,
// blanks and punctuation, and a unit at their end is split off. Of a field that
// MayRepeat the first column is taken and any other is not ours; two columns for
// any other field are a fault.
type Field struct {
	Name      string
	Aliases   []string
	Required  bool
	Number    bool
	MayRepeat bool
}

// Layout says which columns a kind of file may have. What names the kind in
// messages, "station history". Unheaded, where given, is asked about the first
// row of a file; names other than nil mean that the file has no header and that
// these are its columns ("" for one that is not used). A file of more than
// MostRows rows, or of a million where that is 0, is refused.
type Layout struct {
	What     string
	Fields   []Field
	MostRows int
	Unheaded func(first []string) (names []string)
}

// Column is one column of a file: its canonical name ("" where it is not
// ours), the name as the file has it, and the unit split off that name.
type Column struct{ Name, Raw, Unit string }

// header is a header found in a text: where its row starts and ends, counted
// in bytes, and what was made of its cells.
type header struct {
	start, end int
	comma      rune
	columns    []Column
	hits       int
}

// searchedLines is how far down a header is looked for below a preamble.
const searchedLines = 300

// separators in the order in which a doubt is decided.
const separators = ",;\t"

// commentMarks may stand before a header or a remark.
const commentMarks = "#%!*"

// findHeader gives the row of the text with the most known columns, the first
// of equals; hits is 0 where no row has any.
func findHeader(text string, layout Layout) header {
	names := layout.names()
	var best header
	start := 0
	for line := 0; line < searchedLines && start < len(text); line++ {
		row, _, more := strings.Cut(text[start:], "\n")
		for i, comma := range separators {
			if i > 0 && !strings.ContainsRune(row, comma) && !strings.Contains(row, `"`) {
				continue // one cell, as where the first separator is missing
			}
			cells, size := firstRecord(text[start:], comma)
			columns := make([]Column, len(cells))
			hits := 0
			for k, cell := range cells {
				columns[k] = names.column(cell)
				if columns[k].Name != "" {
					hits++
				}
			}
			if hits > best.hits {
				best = header{start, start + size, comma, columns, hits}
			}
		}
		if !more {
			break
		}
		start += len(row) + 1
	}
	return best
}

// firstRecord splits the row at the start of the text, comment marks before it
// taken off, and says how many bytes it takes. A row with loose quotation marks
// is split at the separators.
func firstRecord(text string, comma rune) (cells []string, size int) {
	const longestHeader = 4096 // where it runs over several lines
	lineEnd := strings.IndexByte(text, '\n')
	if lineEnd < 0 {
		lineEnd = len(text)
	}
	text = text[:min(len(text), max(lineEnd+1, longestHeader))]
	marked := lineEnd - len(strings.TrimLeft(text[:lineEnd], " /"+commentMarks))
	row := text[marked:lineEnd]
	size = min(lineEnd+1, len(text))
	if strings.TrimSpace(row) == "" {
		return nil, size
	}
	cells = strings.Split(strings.ReplaceAll(row, `"`, ""), string(comma))
	if strings.Contains(row, `"`) {
		r := newReader(text[marked:], comma)
		if quoted, err := r.Read(); err == nil && marked+int(r.InputOffset()) >= lineEnd {
			cells, size = quoted, marked+int(r.InputOffset())
		}
	}
	for i := range cells {
		cells[i] = strings.Join(strings.Fields(cells[i]), " ")
	}
	return cells, size
}

func newReader(text string, comma rune) *csv.Reader {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = comma
	r.FieldsPerRecord = -1
	r.TrimLeadingSpace = comma != '\t'
	return r
}

// fieldNames leads from a folded name to the field.
type fieldNames map[string]Field

func (l Layout) names() fieldNames {
	names := fieldNames{}
	for _, f := range l.Fields {
		for _, name := range append([]string{f.Name}, f.Aliases...) {
			if other, taken := names[Fold(name)]; taken && other.Name != f.Name {
				panic("table: " + l.What + ": " + name + " names both " + other.Name + " and " + f.Name)
			}
			names[Fold(name)] = f
		}
	}
	return names
}

// column finds the field that a header cell names: the whole cell, or the cell
// without a unit in brackets, or, for numbers, without a unit word at its end.
func (names fieldNames) column(raw string) Column {
	const longestName = 200
	if len(raw) > longestName || !strings.ContainsFunc(raw, unicode.IsLetter) { // a number or a date, as in the rows below
		return Column{"", raw, ""}
	}
	if f, ok := names[Fold(raw)]; ok && raw != "" {
		return Column{f.Name, raw, ""}
	}
	if open := strings.LastIndexAny(raw, "([{"); open > 0 && strings.ContainsRune(")]}", rune(raw[len(raw)-1])) {
		base, unit := raw[:open], raw[open+1:len(raw)-1]
		if c := names.column(strings.TrimSpace(base)); c.Name != "" {
			if c.Unit == "" {
				c.Unit = strings.TrimSpace(unit)
			}
			return Column{c.Name, raw, c.Unit}
		}
	}
	for i, r := range raw {
		camel := i > 0 && i == len(raw)-1 && (r == 'C' || r == 'F') && unicode.IsLower(rune(raw[i-1]))
		if i == 0 || !camel && !strings.ContainsRune(" _,-./:°º", r) {
			continue
		}
		unit := strings.Trim(raw[i:], " _,-./:")
		if _, known := Unit(unit); !known {
			continue
		}
		base := Fold(raw[:i])
		for _, name := range []string{base, strings.TrimSuffix(base, "in")} {
			if f, ok := names[name]; ok && f.Number {
				return Column{f.Name, raw, unit}
			}
		}
	}
	return Column{"", raw, ""}
}

// Fold gives the form in which names and units are compared: lower case,
// letters, digits and the percent sign only.
func Fold(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '℃':
			return 'c'
		case r == '℉':
			return 'f'
		case r == 'º' || r == 'ª':
			return -1
		case r == '%' || unicode.IsLetter(r) || unicode.IsDigit(r):
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}
