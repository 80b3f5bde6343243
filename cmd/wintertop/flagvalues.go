package main

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"wintertop/weather"
)

// fileFlag is a flag that names one input file; "-" is standard input.
type fileFlag struct {
	a    *asked
	role role
}

func (f *fileFlag) String() string { return f.a.named[f.role] }
func (f *fileFlag) Type() string   { return "file" }
func (f *fileFlag) Set(s string) error {
	if s == "" {
		return &usageError{what: "--" + string(f.role) + " names nothing", hint: "give it a file, or leave the flag out"}
	}
	f.a.named[f.role] = s
	return nil
}

// choice is a flag that takes one word of a short list.
type choice struct {
	name string
	to   *string
	list []string
}

func (c *choice) String() string { return *c.to }
func (c *choice) Type() string   { return strings.Join(c.list, "|") }
func (c *choice) Set(s string) error {
	if !slices.Contains(c.list, s) {
		return &usageError{
			what: "--" + c.name + " " + quote(s) + " is not one of " + strings.Join(c.list, ", "),
			hint: "did you mean " + nearest(s, c.list) + "?",
		}
	}
	*c.to = s
	return nil
}

// dateFlag is a flag that takes a day.
type dateFlag struct {
	name string
	to   *weather.Date
	has  *bool
}

func (f *dateFlag) String() string {
	if f.has == nil || !*f.has {
		return ""
	}
	return f.to.String()
}
func (f *dateFlag) Type() string { return "date" }
func (f *dateFlag) Set(s string) error {
	d, err := weather.ParseDate(s)
	if err != nil {
		return &usageError{what: "--" + f.name + " " + quote(s) + " is not a date", hint: "write year, month and day, such as 2024-02-15"}
	}
	*f.to, *f.has = d, true
	return nil
}

// winterFlag is --winter. Whether the place has northern or southern winters
// is known only once its site file is read.
type winterFlag struct{ a *asked }

func (f *winterFlag) String() string { return f.a.winter }
func (f *winterFlag) Type() string   { return "winter" }
func (f *winterFlag) Set(s string) error {
	_, north := weather.ParseWinter(s, false)
	_, south := weather.ParseWinter(s, true)
	if north != nil && south != nil {
		return &usageError{what: "--winter " + quote(s) + " is not a winter", hint: "write 2012/13, on the southern hemisphere 2014"}
	}
	f.a.winter = s
	return nil
}

// windowFlag is --window.
type windowFlag struct{ to *window }

var windowForm = regexp.MustCompile(`^(\d\d)-(\d\d)\.\.(\d\d)-(\d\d)$`)

func (f *windowFlag) String() string { return "" }
func (f *windowFlag) Type() string   { return "days" }
func (f *windowFlag) Set(s string) error {
	bad := &usageError{what: "--window " + quote(s) + " is not a window", hint: "write its first and last day as month-day, such as 02-01..03-15"}
	m := windowForm.FindStringSubmatch(s)
	if m == nil {
		return bad
	}
	w := window{given: true}
	for i, to := range []*monthDay{&w.from, &w.to} {
		month, _ := strconv.Atoi(m[1+2*i])
		day, _ := strconv.Atoi(m[2+2*i])
		// 2000 is a leap year, so that 29 February can be named.
		_, gotMonth, gotDay := weather.NewDate(2000, time.Month(month), day).YMD()
		if int(gotMonth) != month || gotDay != day {
			return bad
		}
		*to = monthDay{time.Month(month), day}
	}
	*f.to = w
	return nil
}

// inWinter gives the window's days in one winter: by default 1 February to 15
// March, in the south 1 August to 15 September. 29 February is 28 February in
// a common year.
func (w window) inWinter(winter weather.WinterYear) (from, to weather.Date, err error) {
	if !w.given {
		w.from, w.to = monthDay{time.February, 1}, monthDay{time.March, 15}
		if winter.South {
			w.from, w.to = monthDay{time.August, 1}, monthDay{time.September, 15}
		}
	}
	from, to = w.from.inWinter(winter), w.to.inWinter(winter)
	if to < from {
		return 0, 0, &usageError{
			what: "the window's last day comes before its first in the winter " + winter.String(),
			hint: "the winter runs from " + winter.First().String() + " to " + winter.Last().String(),
		}
	}
	return from, to, nil
}

func (m monthDay) inWinter(winter weather.WinterYear) weather.Date {
	year, _, _ := winter.First().YMD()
	d := m.inYear(year)
	if d < winter.First() {
		d = m.inYear(year + 1)
	}
	return d
}

func (m monthDay) inYear(year int) weather.Date {
	d := weather.NewDate(year, m.month, m.day)
	if _, month, _ := d.YMD(); month != m.month {
		d--
	}
	return d
}
