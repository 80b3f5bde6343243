package weather

import (
	"math"
	"time"
)

// Severity is how hard one winter was on the exposed canopy, added up over its
// freeze–thaw events.
type Severity struct {
	Winter              WinterYear
	Events              int     // an open one included
	FreezingDegreeHours float64 // °C h below 0 °C, sum over the events
	MinCanopyC          float64 // lowest canopy minimum, NaN without events
	First, Last         Event   // the first and the last event, zero without events
	Rank                int     // 1 is the hardest of the complete winters, equals share; 0 where the winter is not complete
}

// Severities adds up the events of each winter of counts, in the order of
// counts, and ranks the complete winters among them by freezing degree-hours.
func Severities(counts []WinterCount, events []Event) []Severity {
	all := make([]Severity, len(counts))
	at := make(map[WinterYear]*Severity, len(counts))
	for i, c := range counts {
		all[i] = Severity{Winter: c.Winter, MinCanopyC: math.NaN()}
		at[c.Winter] = &all[i]
	}
	for _, e := range events {
		if s := at[e.Winter]; s != nil {
			s.add(e)
		}
	}
	for i, c := range counts {
		if !c.Complete {
			continue
		}
		all[i].Rank = 1
		for j, other := range counts {
			if other.Complete && all[j].FreezingDegreeHours > all[i].FreezingDegreeHours {
				all[i].Rank++
			}
		}
	}
	return all
}

func (s *Severity) add(e Event) {
	if s.Events == 0 {
		s.First = e
	}
	s.Last = e
	s.Events++
	s.FreezingDegreeHours += e.FreezingDegreeHours
	if !(s.MinCanopyC <= e.MinCanopyC) {
		s.MinCanopyC = e.MinCanopyC
	}
}

// SameDay gives the day of the winter w that has the month and day of d; for
// 29 February the 28th where w has none.
func (w WinterYear) SameDay(d Date) Date {
	year, month, day := d.YMD()
	year += w.Year - WinterOf(d, w.South).Year
	if month == time.February && day == 29 {
		return NewDate(year, time.March, 1) - 1
	}
	return NewDate(year, month, day)
}

// BegunBy keeps the events that had begun by the calendar day of d in their
// own winters. An event is kept whole, its days after that day included.
func BegunBy(events []Event, d Date) []Event {
	var begun []Event
	for _, e := range events {
		if e.Start.Date <= e.Winter.SameDay(d) {
			begun = append(begun, e)
		}
	}
	return begun
}
