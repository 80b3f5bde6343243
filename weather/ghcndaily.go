package weather

import (
	"regexp"
	"strings"

	"wintertop/weather/table"
)

// GHCN-Daily comes wide, an _ATTRIBUTES column after each element, and long
// without a header: station, YYYYMMDD, element, value, measurement flag, quality
// flag, source flag, time of observation. A quality flag says that the value
// failed a check (NOAA, GHCN-Daily readme).

var (
	stationID = regexp.MustCompile(`^[A-Z]{2}[A-Z0-9_-]{9}$`)
	compact   = regexp.MustCompile(`^[0-9]{8}$`)
	elementID = regexp.MustCompile(`^[A-Z0-9]{4}$`)
)

// longColumns recognises the first row of the long form.
func longColumns(first []string) []string {
	if len(first) < 6 || !stationID.MatchString(first[0]) || !compact.MatchString(first[1]) || !elementID.MatchString(first[2]) {
		return nil
	}
	names := make([]string, len(first))
	copy(names, []string{"station", "date", "element", "value", "", "quality"})
	return names
}

// elements leads from the element's name to the quantity.
var elements = map[string]quantity{"TMIN": minimum, "TMAX": maximum, "PRCP": rain, "SNWD": snowDepth}

// qualityOf gives the quality flag among attributes such as ",,W" or "H,,S,2400".
func qualityOf(attributes string) string {
	parts := strings.Split(attributes, ",")
	if len(parts) < 2 {
		return ""
	}
	return strings.TrimSpace(parts[1])
}

// readElements makes one entry a day of the rows of the long form.
func (r *reader) readElements() error {
	for name, q := range elements {
		r.columns[q] = name
	}
	days := map[string]int{}
	return Decode(r.s, func(line int, row stationRow) error {
		q, ours := elements[row.Element]
		if !ours {
			return nil
		}
		r.onePlace(line, row)
		at, known := days[row.Date]
		if !known {
			at = len(r.entries)
			days[row.Date] = at
			e := newEntry(line)
			e.text = row.Date
			r.entries = append(r.entries, e)
		}
		date := isoOfCompact(row.Date)
		next := r.cell(line, date, q, row.Value, row.Quality)
		before := &r.entries[at].cells[q]
		switch {
		case before.line == 0:
			*before = next
		case before.number.Text == next.number.Text:
			r.note(line, date, row.Element, next.number.Text, table.Note, "ignored", "",
				"the same day's %s stands on line %d already", row.Element, before.line)
		default:
			r.note(line, date, row.Element, next.number.Text, table.Fault, "refused", "remove one of the two rows",
				"%s on %s is %s here and %s on line %d", row.Element, row.Date, table.Quote(next.number.Text), table.Quote(before.number.Text), before.line)
		}
		return nil
	})
}

// isoOfCompact gives the ISO form of YYYYMMDD, "" for anything else.
func isoOfCompact(text string) string {
	if !compact.MatchString(text) {
		return ""
	}
	return text[:4] + "-" + text[4:6] + "-" + text[6:]
}
