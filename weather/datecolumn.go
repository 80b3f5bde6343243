package weather

import (
	"strings"

	"wintertop/weather/table"
)

// assignDates reads the whole dates of all entries, in the one order of day and
// month that the file, its header or the caller decides.
func (r *reader) assignDates() {
	column, _ := r.s.Column(r.shape.date)
	written := make([]writtenDate, len(r.entries))
	for i, e := range r.entries {
		if e.text == "" {
			r.withoutDate(e)
			continue
		}
		var fault, hint string
		if written[i], fault, hint = takeApart(e.text); fault != "" {
			r.note(e.line, "", column.Raw, e.text, table.Fault, "refused", hint, "%s", fault)
		}
	}
	order := r.how.DateOrder
	if order == "" {
		order = headerOrder(column.Unit)
	}
	if order == "" {
		order = r.orderInFile(written, column.Raw)
	}
	for i := range r.entries {
		e, d := &r.entries[i], written[i]
		if d == (writtenDate{}) || !d.inOrder && order == "" {
			continue
		}
		if !d.inOrder && order == "dmy" {
			d.a, d.b = d.b, d.a
		}
		date, fault := calendarDate(d.year, d.a, d.b)
		if fault != "" {
			r.note(e.line, "", column.Raw, e.text, table.Fault, "refused", "", "%s: %s", table.Quote(e.text), fault)
			continue
		}
		e.date, e.dated = date, true
	}
}

// withoutDate refuses a row that has values and no date.
func (r *reader) withoutDate(e entry) {
	if e.blank() {
		r.note(e.line, "", "", "", table.Note, "ignored", "", "a row without date and values")
		return
	}
	r.note(e.line, "", "", "", table.Fault, "refused", "give the row its date or delete it", "a row with values has no date")
}

// orderInFile decides whether dates are d/m/y or m/d/y: a first number above 12
// is a day, a second one too. It gives "" after a fault.
func (r *reader) orderInFile(written []writtenDate, column string) string {
	dayFirst, monthFirst, open := -1, -1, -1
	for i, d := range written {
		switch {
		case d == (writtenDate{}) || d.inOrder:
		case d.a > 12 && dayFirst < 0:
			dayFirst = i
		case d.a <= 12 && d.b > 12 && monthFirst < 0:
			monthFirst = i
		case open < 0:
			open = i
		}
	}
	switch {
	case dayFirst >= 0 && monthFirst >= 0:
		first, second := r.entries[min(dayFirst, monthFirst)], r.entries[max(dayFirst, monthFirst)]
		r.note(second.line, "", column, second.text, table.Fault, "refused", "write all dates as 2012-03-04",
			"%s here and %s on line %d cannot both be right: one has the day first, the other the month",
			table.Quote(second.text), table.Quote(first.text), first.line)
		return ""
	case dayFirst >= 0:
		return "dmy"
	case monthFirst >= 0:
		return "mdy"
	case open >= 0:
		e := r.entries[open]
		r.note(e.line, "", column, e.text, table.Fault, "refused", "add --date-order dmy or --date-order mdy",
			"%s may have the day or the month first, and no date in the file decides it", table.Quote(e.text))
	}
	return ""
}

// dateOfParts reads a date that stands in columns of year, month and day, or of
// year and day of the year.
func (r *reader) dateOfParts(e *entry, row stationRow) {
	parts := []string{row.Year, row.Month, row.Day}
	if r.shape.yearDay {
		parts = []string{row.Year, row.DayOfYear}
	}
	e.text = strings.Join(parts, "-")
	if strings.Trim(e.text, "-") == "" {
		r.withoutDate(*e)
		return
	}
	numbers := make([]int, len(parts))
	for i, p := range parts {
		n := monthNamed(p)
		if i != 1 || n == 0 {
			var ok bool
			if n, ok = wholeNumber(p); !ok {
				r.note(e.line, "", "", e.text, table.Fault, "refused", "", "%s in the date %s is not a whole number", table.Quote(p), table.Quote(e.text))
				return
			}
		}
		numbers[i] = n
	}
	if len(strings.TrimSpace(row.Year)) <= 2 {
		r.note(e.line, "", "", e.text, table.Fault, "refused", fourDigits, "the year %s does not have four digits", table.Quote(row.Year))
		return
	}
	var fault string
	if r.shape.yearDay {
		e.date, fault = dayOfYearDate(numbers[0], numbers[1])
	} else {
		e.date, fault = calendarDate(numbers[0], numbers[1], numbers[2])
	}
	if fault != "" {
		r.note(e.line, "", "", e.text, table.Fault, "refused", "", "%s", fault)
		return
	}
	e.dated = true
}

// wholeNumber reads up to four digits, also written as 2012.0.
func wholeNumber(s string) (int, bool) {
	s = strings.TrimSuffix(s, ".0")
	if s == "" || len(s) > 4 || strings.Trim(s, "0123456789") != "" {
		return 0, false
	}
	return number(s), true
}
