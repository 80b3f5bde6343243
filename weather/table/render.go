package table

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"io"
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

// CSV writes the table by RFC 4180: header row, CRLF, UTF-8 without byte order
// mark. A text cell that a spreadsheet would run as a formula gets a leading
// apostrophe; numbers never do.
func (t *Table) CSV(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.Write(t.Columns); err != nil {
		return err
	}
	record := make([]string, len(t.Columns))
	for _, row := range t.Rows {
		for i, c := range row {
			record[i] = c.text
			if !c.number && c.text != "" && strings.ContainsRune("=+-@\t\r", rune(c.text[0])) {
				record[i] = "'" + c.text
			}
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// JSON writes the table as an array of objects in column order, one object a
// line: numbers as numbers, text as it is, blank cells null.
func (t *Table) JSON(w io.Writer) error {
	out := bufio.NewWriter(w)
	names := make([][]byte, len(t.Columns))
	for i, name := range t.Columns {
		names[i] = jsonText(name)
	}
	out.WriteByte('[')
	for r, row := range t.Rows {
		if r > 0 {
			out.WriteByte(',')
		}
		out.WriteString("\n{")
		for i, c := range row {
			if i > 0 {
				out.WriteByte(',')
			}
			out.Write(names[i])
			out.WriteByte(':')
			switch {
			case c.text == "":
				out.WriteString("null")
			case c.number:
				out.WriteString(c.text)
			default:
				out.Write(jsonText(c.text))
			}
		}
		out.WriteByte('}')
	}
	out.WriteString("\n]\n")
	return out.Flush()
}

func jsonText(s string) []byte {
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		panic(err)
	}
	return []byte(strings.TrimSuffix(b.String(), "\n"))
}

// Text writes the table for a terminal: the CSV's header names, columns
// aligned by display width, numbers to the right, two blanks between columns,
// no trailing blanks. Control characters are shown as "·".
func (t *Table) Text(w io.Writer) error {
	lines := make([][]string, len(t.Rows)+1)
	lines[0] = t.Columns
	right := make([]bool, len(t.Columns))
	for r, row := range t.Rows {
		cells := make([]string, len(row))
		for i, c := range row {
			cells[i] = printable(c.text)
			right[i] = right[i] || c.number
		}
		lines[r+1] = cells
	}
	widths := make([]int, len(t.Columns))
	for _, line := range lines {
		for i, s := range line {
			widths[i] = max(widths[i], displayWidth(s))
		}
	}
	out := bufio.NewWriter(w)
	for _, line := range lines {
		pending := 0
		for i, s := range line {
			pad := widths[i] - displayWidth(s)
			if right[i] {
				pending += pad
			}
			if s != "" {
				out.WriteString(strings.Repeat(" ", pending) + s)
				pending = 0
			}
			if !right[i] {
				pending += pad
			}
			pending += 2
		}
		out.WriteByte('\n')
	}
	return out.Flush()
}

func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || unicode.Is(unicode.Bidi_Control, r) {
			return '·'
		}
		return r
	}, s)
}

// displayWidth counts the columns that a terminal gives to s.
func displayWidth(s string) int {
	n := 0
	for _, r := range s {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		default:
			n++
			if k := width.LookupRune(r).Kind(); k == width.EastAsianWide || k == width.EastAsianFullwidth {
				n++
			}
		}
	}
	return n
}
