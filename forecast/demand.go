package forecast

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"wintertop/weather"
	"wintertop/weather/table"
)

// Demand is what is to be supplied, as demand.csv says it: kg of roots by
// stretches of days, whatever the season.
type Demand struct {
	File string
	rows []demandRow
}

type demandRow struct {
	From  string       `csv:"from"`
	Until string       `csv:"until"`
	Week  string       `csv:"week"`
	KG    table.Number `csv:"kg"`
	line  int
}

var demandLayout = table.Layout{What: "demand", Fields: []table.Field{
	{Name: "from"}, {Name: "until", Aliases: []string{"to"}}, {Name: "week"}, {Name: "kg", Required: true, Number: true},
}}

// mostKG is the most that a row may ask for: more than any district grows.
const mostKG = 1e9

// DemandForm shows a demand file in three lines.
const DemandForm = "from,until,kg / 02-01,02-14,800 / 02-15,03-14,1600"

// Period is a stretch of at most seven days of one season with the kg wanted
// in it.
type Period struct {
	From, Until weather.Date
	KG          float64
}

// words gives the period as people say it: from 1 Feb to 7 Feb.
func (p Period) words() string { return betweenDays(p.From, p.Until) }

// ReadDemand reads demand.csv: a row is a week (week: its number or a day in
// it) or a range of days (from, until: month-day, or a date), and kg. The error
// is a *table.InputError where a row cannot be used.
func ReadDemand(r io.Reader, name string) (*Demand, table.Findings, error) {
	source, err := table.Open(r, name, demandLayout)
	if err != nil {
		return nil, nil, err
	}
	d := &Demand{File: name}
	var faults table.Findings
	err = weather.Decode(source, func(at int, row demandRow) error {
		row.line = at
		hint := "give the kg of roots wanted in those days, more than 0"
		switch {
		case row.KG.Fault != "":
			faults = append(faults, d.fault(row, "kg", row.KG.Text, "kg: "+row.KG.Fault, row.KG.Hint()))
		case row.KG.Missing():
			faults = append(faults, d.fault(row, "kg", "", "no kg", hint))
		case row.KG.Value <= 0:
			faults = append(faults, d.fault(row, "kg", row.KG.Text, "kg is "+row.KG.Text, hint))
		case row.KG.Value > mostKG:
			faults = append(faults, d.fault(row, "kg", row.KG.Text, fmt.Sprintf("kg is %s, beyond %.0f", table.Quote(row.KG.Text), mostKG), hint))
		}
		d.rows = append(d.rows, row)
		return nil
	})
	if err != nil {
		return nil, source.Findings(), err
	}
	findings := append(source.Findings(), faults...)
	if len(d.rows) == 0 && findings.Err() == nil {
		findings = append(findings, d.fault(demandRow{}, "kg", "", "no row says what is wanted", "three lines are enough: "+DemandForm))
	}
	return d, findings, findings.Err()
}

func (d *Demand) fault(row demandRow, column, value, what, hint string) table.Finding {
	return table.Finding{File: d.File, Line: row.line, Column: column, Value: value, What: what, Hint: hint, TreatedAs: "refused", Severity: table.Fault}
}

// demandSeason gives the days on which roots may be asked for: the frost season and
// a month after it, when the crop runs to seed.
func demandSeason(w weather.WinterYear) (from, until weather.Date) {
	from, until = w.FrostSeason()
	return from, until + 30
}

// periods places the demand in one winter, in order of days: each row cut into
// stretches of seven days and a rest, its kg spread evenly over its days. The
// error is a *table.InputError: days outside the season, or asked for twice.
func (d *Demand) periods(w weather.WinterYear) ([]Period, error) {
	var all []Period
	var faults table.Findings
	first, last := demandSeason(w)
	taken := map[weather.Date]int{}
	for _, row := range d.rows {
		from, until, what := row.days(w)
		switch {
		case what != "":
			faults = append(faults, d.fault(row, "from", row.From+row.Week, what, "write from and until as month-day, such as 02-01,02-14, or week as a number"))
			continue
		case until < from:
			faults = append(faults, d.fault(row, "until", row.Until, fmt.Sprintf("until %s comes before from %s", until, from), "give the first day first"))
			continue
		case from < first || until > last:
			faults = append(faults, d.fault(row, "from", row.From+row.Week,
				fmt.Sprintf("%s to %s lies outside the season %s of overwintered roots, %s to %s", from, until, w, first, last),
				"the plan is for the next season to be sown: ask for days in it, or leave the year out"))
			continue
		}
		for day := from; day <= until; day++ {
			if at := taken[day]; at != 0 {
				faults = append(faults, d.fault(row, "from", row.From+row.Week, fmt.Sprintf("%s is asked for on line %d already", day, at), "put what is wanted in the same days into one row"))
				break
			}
			taken[day] = row.line
		}
		for day := from; day <= until; day += 7 {
			end := min(day+6, until)
			all = append(all, Period{day, end, row.KG.Value * float64(end-day+1) / float64(until-from+1)})
		}
	}
	slices.SortFunc(all, func(a, b Period) int { return int(a.From - b.From) })
	return all, faults.Err()
}

// days gives the row's first and last day in a winter; what says why it cannot.
func (r demandRow) days(w weather.WinterYear) (from, until weather.Date, what string) {
	if week := strings.TrimSpace(r.Week); week != "" {
		if r.From+r.Until != "" {
			return 0, 0, "a week and a range of days in one row"
		}
		from, ok := weekOf(week, w)
		if !ok {
			return 0, 0, fmt.Sprintf("week %s is neither the number of a week nor a day", table.Quote(week))
		}
		return from, from + 6, ""
	}
	var ok bool
	if from, ok = dayIn(r.From, w); !ok {
		return 0, 0, fmt.Sprintf("from %s is not a day", table.Quote(r.From))
	}
	if until, ok = dayIn(r.Until, w); !ok {
		return 0, 0, fmt.Sprintf("until %s is not a day", table.Quote(r.Until))
	}
	return from, until, ""
}

// weekOf gives the Monday of a week of a winter by its ISO 8601 number ("5",
// "W05", "2027-W05"), or of the week that holds a day.
func weekOf(text string, w weather.WinterYear) (weather.Date, bool) {
	if day, ok := dayIn(text, w); ok {
		return mondayOf(day), true
	}
	head, number, long := strings.Cut(strings.ToUpper(text), "-")
	if !long {
		head, number = "", head
	}
	n, err := strconv.Atoi(strings.TrimPrefix(number, "W"))
	if err != nil || n < 1 || n > 53 {
		return 0, false
	}
	year, _, _ := w.First().YMD()
	if !w.South && n < 27 {
		year++
	}
	if head != "" {
		if year, err = strconv.Atoi(head); err != nil {
			return 0, false
		}
	}
	// The first week holds 4 January.
	monday := mondayOf(weather.NewDate(year, time.January, 4)) + weather.Date(7*(n-1))
	_, is := monday.Time().ISOWeek()
	return monday, is == n
}

// dayIn reads a date, or a month-day as the day of a winter.
func dayIn(text string, w weather.WinterYear) (weather.Date, bool) {
	text = strings.TrimSpace(text)
	if d, err := weather.ParseDate(text); err == nil {
		return d, true
	}
	t, err := time.Parse("2006-01-02", "2000-"+text)
	if err != nil {
		if t, err = time.Parse("2006-1-2", "2000-"+text); err != nil {
			return 0, false
		}
	}
	year, _, _ := w.First().YMD()
	day := inYear(year, t.Month(), t.Day())
	if day < w.First() {
		day = inYear(year+1, t.Month(), t.Day())
	}
	return day, true
}

// inYear gives a day of a year, 28 February for a 29th that it does not have.
func inYear(year int, month time.Month, day int) weather.Date {
	d := weather.NewDate(year, month, day)
	if _, got, _ := d.YMD(); got != month {
		d--
	}
	return d
}

// mondayOf gives the Monday of the week that holds a day.
func mondayOf(d weather.Date) weather.Date {
	return d - weather.Date((int(d.Time().Weekday())+6)%7)
}
