package table

import (
	"math"
	"strconv"
	"strings"
)

// Number is a numeric cell. It is Known where the cell holds a number; else
// Fault says why it is none (text, Inf, hexadecimal, 1e400), or it is missing:
// blank, NA, NaN, null, a dash …, or a column that the file does not have, as
// the zero Number is. Text is the cell as it stands, without blanks around it.
type Number struct {
	Value float64 // 0 where it is not Known
	Text  string
	Known bool
	Fault string
}

// Missing says that the cell holds neither a number nor a fault.
func (n Number) Missing() bool { return !n.Known && n.Fault == "" }

// OrNaN gives the value, NaN where it is not Known.
func (n Number) OrNaN() float64 {
	if !n.Known {
		return math.NaN()
	}
	return n.Value
}

// missingWords are what spreadsheets and stations write for no value, folded.
var missingWords = map[string]bool{
	"": true, "na": true, "n/a": true, "nan": true, "#n/a": true, "null": true, "none": true, "nil": true,
	"m": true, "missing": true, "-": true, "--": true, "---": true, ".": true, "..": true, "?": true, "*": true,
}

// ParseNumber reads one cell with a decimal point.
func ParseNumber(cell string) Number {
	text := strings.TrimSpace(cell)
	n := Number{Text: text}
	if missingWords[strings.ToLower(text)] {
		return n
	}
	plain := strings.Replace(text, "−", "-", 1)
	if !isDecimal(plain) {
		n.Fault = Quote(text) + " is not a number"
		return n
	}
	x, err := strconv.ParseFloat(plain, 64)
	if err != nil {
		n.Fault = Quote(text) + " is too large a number"
		return n
	}
	n.Value, n.Known = x, true
	return n
}

// isDecimal says whether s is digits with at most one point, a sign before and
// a power of ten after them, and nothing else that strconv would read as a
// number.
func isDecimal(s string) bool {
	s = withoutSign(s)
	mantissa, power := s, "0"
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		mantissa, power = s[:i], withoutSign(s[i+1:])
	}
	whole, fraction, _ := strings.Cut(mantissa, ".")
	return whole+fraction != "" && allDigits(whole) && allDigits(fraction) && power != "" && allDigits(power)
}

func withoutSign(s string) string {
	if s != "" && (s[0] == '+' || s[0] == '-') {
		return s[1:]
	}
	return s
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// Hint says what may be behind a Fault, "" where nothing is known.
func (n Number) Hint() string {
	if n.Fault != "" && strings.Contains(n.Text, ",") {
		return "write decimals with a point; a decimal comma is understood only in files separated by semicolons or tabs"
	}
	return ""
}

// UnmarshalCSV fills n from a cell. It never returns an error, so that a
// reader can report every bad row of a file.
func (n *Number) UnmarshalCSV(cell string) error {
	*n = ParseNumber(cell)
	return nil
}
