package weather

import (
	"fmt"
	"time"
)

// Date is a calendar day, counted in days since 1970-01-01 in the proleptic
// Gregorian calendar. It carries no time zone.
type Date int

// NewDate gives the Date of a calendar day. Days and months outside their
// range are normalised as the time package does.
func NewDate(year int, month time.Month, day int) Date {
	return Date(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// ParseDate reads an ISO 8601 calendar date, YYYY-MM-DD.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date such as 2024-02-15", s)
	}
	return Date(t.Unix() / 86400), nil
}

// Time gives midnight UTC of the day.
func (d Date) Time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// String gives the ISO 8601 form, YYYY-MM-DD.
func (d Date) String() string { return d.Time().Format(time.DateOnly) }

// YMD gives the calendar year, month and day of the month.
func (d Date) YMD() (year int, month time.Month, day int) { return d.Time().Date() }

// DayOfYear counts from 1 on 1 January.
func (d Date) DayOfYear() int { return d.Time().YearDay() }
