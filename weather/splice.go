package weather

import (
	"errors"
	"fmt"
	"slices"
	"time"
)

// Splice joins the weather seen so far with a past winter: observed days to
// asOf, then the short-range forecast where it has the day, then the trace,
// each its own calendar day of that past winter (29 February is dropped, or
// 28 February repeated). An observed or forecast day that is missing is taken
// from the trace's same calendar day.
//
// The result runs from the first observed day to last, which must lie in the
// winter looked at; past names the winter that the trace belongs to. Each of
// the three runs holds consecutive days; the trace may be longer than its
// winter, and must reach back before it where the observed days do and some
// of them are missing. Days that were not observed carry the state Filled.
// room, which may be nil, is days that nobody needs any more: the result takes
// their place. The error names the first needed day that the trace lacks.
func Splice(room, observed, ahead, trace []Day, past WinterYear, asOf, last Date) ([]Day, error) {
	if len(observed) == 0 || observed[0].Date > last {
		return nil, errors.New("no observed day to begin with")
	}
	first := observed[0].Date
	years := past.Year - WinterOf(last, past.South).Year
	joined := slices.Grow(room[:0], int(last-first)+1)
	for d := first; d <= last; d++ {
		if d <= asOf {
			if day, ok := dayOf(observed, d); ok {
				joined = append(joined, day)
				continue
			}
		}
		day, ok := Day{}, false
		if d > asOf {
			day, ok = dayOf(ahead, d)
		}
		if !ok {
			same := sameDay(d, years)
			if day, ok = dayOf(trace, same); !ok {
				return nil, fmt.Errorf("winter %s has no temperature on %s", past, same)
			}
		}
		day.Date, day.State = d, Filled
		joined = append(joined, day)
	}
	return joined, nil
}

// dayOf finds the day d in a run of consecutive days; a missing day is not
// found.
func dayOf(days []Day, d Date) (Day, bool) {
	if len(days) == 0 || d < days[0].Date || int(d-days[0].Date) >= len(days) {
		return Day{}, false
	}
	day := days[d-days[0].Date]
	return day, day.Date == d && !day.lacksExtremes()
}

// sameDay gives the same calendar day some years later, 28 February for a
// 29th that the year does not have.
func sameDay(d Date, years int) Date {
	year, month, day := d.YMD()
	year += years
	if month == time.February && day == 29 {
		return NewDate(year, time.March, 0) // the last of February
	}
	return NewDate(year, month, day)
}
