package weather

import (
	"fmt"
	"math"

	"wintertop/weather/table"
)

// Hour is one hour of a day in local solar time, 0 to 23.
type Hour struct {
	Date Date
	Hour int
}

// String gives the ISO 8601 form to the minute, 2012-11-30T05:00.
func (h Hour) String() string { return fmt.Sprintf("%sT%02d:00", h.Date, h.Hour) }

// Event is one freezing of the exposed canopy followed by its thaw; several
// nights without a thaw between them are one event. It opens on a day whose
// canopy minimum is at or below the freezing point and closes at the first
// daily maximum at or above the thaw point after that minimum, the same
// calendar day's included: a date's minimum comes before its maximum.
type Event struct {
	Winter WinterYear // winter of the day on which it opened
	Number int        // from 1 within the winter

	// Start and End are the hours at which the canopy passes the freezing
	// point and the thaw point, placed by the course of the day (Start may
	// fall on the evening before OpenDay). End is zero while open.
	Start, End Hour

	// OpenDay, ColdestDay and CloseDay are indices into Winter.Days or
	// Record.Days; ColdestDay is the first day of the lowest canopy minimum,
	// CloseDay -1 while open.
	OpenDay, ColdestDay, CloseDay int

	Nights              int     // canopy minima at or below the freezing point
	HoursFrozen         float64 // hours below 0 °C from OpenDay to CloseDay
	MinScreenC          float64 // lowest field minimum at screen height
	MinCanopyC          float64 // lowest canopy minimum
	FreezingDegreeHours float64 // °C h below 0 °C over the same days
	ThawPeakC           float64 // maximum of CloseDay, NaN while open
	Hardening           float64 // hardening index of ColdestDay, 0-1
	SnowCM              float64 // snow of ColdestDay, 0 where none is reported
	Open                bool    // no thaw before the last day, or before a gap
}

// Events finds the freeze–thaw events of a whole filled record, numbered
// within each winter, with indices into r.Days. Where a day is still missing,
// an event open before it stays open, and detection starts afresh after it;
// the hardening index is carried over.
func Events(r Record, site Site) []Event { return (&Winter{Site: site}).follow(r.Days).Events }

// EventsTable gives the rows of events.csv, one per event.
func EventsTable(events []Event) *table.Table {
	t := table.New("events", "winter", "event", "start", "end", "nights", "hours_frozen", "min_screen_c",
		"min_canopy_c", "freezing_degree_hours", "thaw_peak_c", "open")
	for _, e := range events {
		end := table.Blank()
		if !e.Open {
			end = table.Text(e.End.String())
		}
		t.Add(table.Text(e.Winter.String()), table.Int(e.Number), table.Text(e.Start.String()), end,
			table.Int(e.Nights), table.Num(e.HoursFrozen, 1), table.Num(e.MinScreenC, 1), table.Num(e.MinCanopyC, 1),
			table.Num(e.FreezingDegreeHours, 1), table.Num(e.ThawPeakC, 1), table.YesNo(e.Open))
	}
	return t
}

// findEvents fills w.Events and w.Closing from a day on from the daily extremes,
// which may be NaN on missing days. An event that is open in w goes on.
func (w *Winter) findEvents(from int) {
	p := w.Site.Params
	course := NewCourse(w.First, w.CanopyMinC, w.MaxC, w.Site.LatitudeDeg, p)
	open := len(w.Events) > 0 && w.Events[len(w.Events)-1].Open
	for i := from; i < len(w.Days); i++ {
		canopyC := w.CanopyMinC[i]
		w.Closing[i] = -1
		was := open
		held, closes := p.freezes(was, canopyC, w.MaxC[i])
		open = held && !closes
		if !held {
			continue
		}
		if !was {
			w.open(course, i)
		}
		e := &w.Events[len(w.Events)-1]
		w.lengthen(e, i)
		if closes {
			e.Open, e.CloseDay, e.ThawPeakC = false, i, w.MaxC[i]
			end := math.Max(0, course.rises(i, p.ThawPointC))
			e.End = w.hour(i, end).notBefore(e.Start)
			w.Closing[i] = int32(len(w.Events) - 1)
		}
	}
}

// freezes is the rule of an event on one day, by its extremes: whether the
// canopy is held by frost, from before or from this night on, and whether it
// thaws. A day whose canopy minimum is NaN ends what is known.
func (p Params) freezes(before bool, canopyMinC, maxC float64) (held, closes bool) {
	held = canopyMinC <= p.FreezingPointC || before && !math.IsNaN(canopyMinC)
	return held, held && maxC >= p.ThawPointC
}

// open begins an event with the night of day i.
func (w *Winter) open(course Course, i int) {
	e := Event{
		Winter: WinterOf(w.First+Date(i), w.Site.South()), Number: 1,
		OpenDay: i, ColdestDay: i, CloseDay: -1,
		MinScreenC: math.Inf(1), MinCanopyC: math.Inf(1), ThawPeakC: math.NaN(), Open: true,
	}
	start := course.falls(i, w.Site.Params.FreezingPointC)
	if i == 0 || math.IsNaN(w.CanopyMinC[i-1]) {
		start = math.Max(0, start) // nothing is known of the evening before
	}
	e.Start = w.hour(i, start)
	if n := len(w.Events); n > 0 && w.Events[n-1].Winter == e.Winter {
		e.Number = w.Events[n-1].Number + 1
	}
	w.Events = append(w.Events, e)
}

// lengthen adds day i to an event.
func (w *Winter) lengthen(e *Event, i int) {
	canopyC := w.CanopyMinC[i]
	if canopyC <= w.Site.Params.FreezingPointC {
		e.Nights++
	}
	if canopyC < e.MinCanopyC {
		e.MinCanopyC, e.ColdestDay = canopyC, i
		e.Hardening, e.SnowCM = w.Hardening[i], w.SnowCM[i]
	}
	e.MinScreenC = math.Min(e.MinScreenC, w.MinC[i])
	degreeDays, hours := DegreesBelow(canopyC, w.MaxC[i], 0)
	e.HoursFrozen += hours
	e.FreezingDegreeHours += 24 * degreeDays
}

// hour turns an hour counted from midnight of day i into a date and the full
// hour begun.
func (w *Winter) hour(i int, hours float64) Hour {
	full := int(math.Floor(hours))
	day := int(math.Floor(hours / 24))
	return Hour{w.First + Date(i+day), full - 24*day}
}

// notBefore gives the later of two hours.
func (h Hour) notBefore(other Hour) Hour {
	if h.Date < other.Date || h.Date == other.Date && h.Hour < other.Hour {
		return other
	}
	return h
}
