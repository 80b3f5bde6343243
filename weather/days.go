package weather

import (
	"math"
	"slices"
	"sort"

	"wintertop/weather/table"
)

// days puts the entries into calendar order and makes the record of them.
func (r *reader) days() Record {
	record := Record{File: r.s.Name(), Station: r.station}
	dated := r.inOrder()
	if len(dated) == 0 {
		if r.seen.Err() == nil {
			r.note(r.s.HeaderLine(), "", "", "", table.Fault, "refused", "", "holds no day with a date")
		}
		return record
	}
	dated = r.once(dated)
	dated = r.withoutBlankEnd(dated)
	if len(dated) == 0 {
		return record
	}
	first := dated[0].date
	record.Days = make([]Day, int(dated[len(dated)-1].date-first)+1)
	nan := math.NaN()
	for i := range record.Days {
		record.Days[i] = Day{Date: first + Date(i), MinC: nan, MaxC: nan, RainMM: nan, SnowCM: nan, State: Missing}
	}
	lines := make([]int, len(record.Days))
	paired, crossed := 0, 0
	for i := range dated {
		e := &dated[i]
		day := r.day(e)
		record.HasRain = record.HasRain || !math.IsNaN(day.RainMM)
		record.HasSnow = record.HasSnow || !math.IsNaN(day.SnowCM)
		if day.State == Observed {
			paired++
		}
		if e.crossed() {
			crossed++
		}
		record.Days[e.date-first], lines[e.date-first] = day, e.line
	}
	r.seen = append(r.seen, doubts(record, r.columns, func(d Date) int { return lines[d-first] })...)
	switch {
	case paired > 0 || r.seen.Err() != nil:
	case crossed > 0:
		r.note(r.s.HeaderLine(), "", "", "", table.Fault, "refused", "the two columns seem to be swapped: exchange their names in the header",
			"the minimum is above the maximum on every day that has both")
	default:
		r.note(r.s.HeaderLine(), "", "", "", table.Fault, "refused", "", "no day has both a minimum and a maximum")
	}
	return record
}

// inOrder gives the entries that have a date, sorted by it.
func (r *reader) inOrder() []entry {
	dated := slices.DeleteFunc(r.entries, func(e entry) bool { return !e.dated })
	late, firstLate := 0, entry{}
	for i := 1; i < len(dated); i++ {
		if dated[i].date >= dated[i-1].date {
			continue
		}
		if late++; late == 1 {
			firstLate = dated[i]
		}
	}
	if late > 0 {
		r.note(firstLate.line, firstLate.isoDate(), "", firstLate.text, table.Warning, "sorted", "",
			"the dates are not in order: %s with a date before that of the row above", counted(late, "row"))
		sort.SliceStable(dated, func(i, j int) bool { return dated[i].date < dated[j].date })
	}
	return dated
}

// once leaves out rows that repeat a day and refuses those that contradict it.
func (r *reader) once(dated []entry) []entry {
	kept := dated[:1]
	for i := range dated[1:] {
		e, before := &dated[1+i], &kept[len(kept)-1]
		if e.date != before.date {
			kept = append(kept, *e)
			continue
		}
		if q, same := sameValues(before, e); !same {
			r.note(e.line, e.isoDate(), r.columns[q], e.cells[q].number.Text, table.Fault, "refused",
				"keep one of the two rows; a file with one row an hour has to be made daily first",
				"%s stands on line %d already, with other values: %s is %s there and %s here", e.date, before.line, r.columns[q],
				table.Quote(before.cells[q].number.Text), table.Quote(e.cells[q].number.Text))
			continue
		}
		r.note(e.line, e.isoDate(), "", e.text, table.Note, "ignored", "", "%s stands on line %d already, with the same values", e.date, before.line)
	}
	return kept
}

// sameValues gives the first quantity in which two entries differ.
func sameValues(a, b *entry) (differs quantity, same bool) {
	for q := range quantities {
		x, y := a.cells[q].value, b.cells[q].value
		if x != y && !(math.IsNaN(x) && math.IsNaN(y)) {
			return q, false
		}
	}
	return 0, true
}

// withoutBlankEnd takes off the dates at the end that wait for their values.
func (r *reader) withoutBlankEnd(dated []entry) []entry {
	n := len(dated)
	for n > 0 && dated[n-1].valueless() {
		n--
	}
	if blank := len(dated) - n; blank > 0 && n > 0 {
		e := dated[n]
		r.note(e.line, e.isoDate(), "", "", table.Note, "ignored", "", "no values from %s on (%s): the record ends before", e.date, counted(blank, "date"))
	} else if n == 0 {
		r.note(r.s.HeaderLine(), "", "", "", table.Fault, "refused", "", "no day has any value")
	}
	return dated[:n]
}

// crossed says whether the minimum is above the maximum.
func (e *entry) crossed() bool { return e.cells[minimum].value > e.cells[maximum].value }

// day makes a Day of an entry: both extremes are missing where the minimum is
// above the maximum, and where the file itself says that they were filled.
func (r *reader) day(e *entry) Day {
	day := Day{Date: e.date, MinC: e.cells[minimum].value, MaxC: e.cells[maximum].value,
		RainMM: e.cells[rain].value, SnowCM: e.cells[snowDepth].value}
	if e.crossed() {
		low, high := e.cells[minimum].number.Text, e.cells[maximum].number.Text
		r.note(e.cells[maximum].line, e.isoDate(), r.columns[minimum]+", "+r.columns[maximum], low+", "+high, table.Warning, "missing", "",
			"the minimum %s is above the maximum %s: both are taken as missing", low, high)
		day.MinC, day.MaxC = math.NaN(), math.NaN()
	}
	if e.filled {
		day.MinC, day.MaxC = math.NaN(), math.NaN()
	}
	if math.IsNaN(day.MinC) || math.IsNaN(day.MaxC) {
		day.State = Missing
	}
	return day
}
