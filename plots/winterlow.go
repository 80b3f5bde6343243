package plots

import (
	"fmt"

	"wintertop/forecast"
	"wintertop/weather"
)

// low is the day of the least leaf between a planting's autumn best and the
// end of the frost season.
type low struct {
	best, least forecast.SeasonDay
	ok          bool
}

func lowOf(s *forecast.Season, days []forecast.SeasonDay) low {
	from, to := s.Winter.FrostSeason()
	half := from + (to-from)/2
	var l low
	for _, d := range days {
		if !finite(d.LeafG) || d.Date < from || d.Date > to {
			continue
		}
		if !l.ok || d.Date <= half && d.LeafG > l.best.LeafG {
			l = low{d, d, true}
		}
		if d.LeafG < l.least.LeafG {
			l.least = d
		}
	}
	return l
}

// lowWords says where a planting's leaf is least in winter.
func lowWords(s *forecast.Season, l series) string {
	w := lowOf(s, l.days)
	if !w.ok {
		return "no day of this winter's frost season"
	}
	return fmt.Sprintf("winter low %s g, %s", number(w.least.LeafG, 1), dayMonth(w.least.Date))
}

// lastShown is the last day that leaf mass charts show: a month past the
// frost season, so that regrowth is seen to begin but does not set the scale.
func lastShown(w weather.WinterYear) weather.Date {
	_, to := w.FrostSeason()
	return to + 30
}
