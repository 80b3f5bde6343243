package forecast

import (
	"fmt"

	"wintertop/weather"
)

// Standing says how a winter compares with the complete winters of the record
// by the same day of the year.
type Standing struct {
	Events    int
	Harder    int // complete winters with more freezing degree-hours by that day
	AsHard    int // with as many
	Of        int // complete winters compared with
	LastDay   weather.Date
	DegreeHrs float64 // freezing degree-hours of the canopy's events, °C h
}

// standingOf compares a winter, as far as it was observed, with the others.
func (p *Place) standingOf(winter weather.WinterYear, asOf weather.Date) Standing {
	s := Standing{LastDay: min(asOf, winter.Last())}
	counts := p.Record.CountWinters(winter.South)
	all := weather.Severities(counts, weather.BegunBy(p.Events(), s.LastDay))
	for _, one := range all {
		if one.Winter == winter {
			s.Events, s.DegreeHrs = one.Events, one.FreezingDegreeHours
		}
	}
	for i, one := range all {
		if one.Winter == winter || !counts[i].Complete {
			continue
		}
		s.Of++
		switch {
		case one.FreezingDegreeHours > s.DegreeHrs:
			s.Harder++
		case one.FreezingDegreeHours == s.DegreeHrs:
			s.AsHard++
		}
	}
	return s
}

// Words says it in a sentence; winter names the winter.
func (s Standing) Words(winter weather.WinterYear) string {
	events := fmt.Sprintf("%d freeze–thaw events", s.Events)
	if s.Events == 1 {
		events = "1 freeze–thaw event"
	}
	words := fmt.Sprintf("%s to %s: %s", winter, dayMonth(s.LastDay), events)
	if s.Of == 0 {
		return words + "."
	}
	words += fmt.Sprintf("; %d of %d complete winters were harder by then", s.Harder, s.Of)
	if s.AsHard > 0 {
		words += fmt.Sprintf(", %d as hard", s.AsHard)
	}
	return words + "."
}
