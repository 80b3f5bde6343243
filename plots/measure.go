package plots

import (
	"fmt"
	"math"
	"strings"

	"wintertop/forecast"
	"wintertop/weather"
)

// measure says what would change the answer and what to measure next, a
// sentence each.
func (p Page) measure() []string {
	var out []string
	several := len(p.Picks) > 1
	for _, k := range p.Picks {
		place := ""
		if several && k.Place != "" {
			place = plain(k.Place) + ": "
		}
		for _, words := range []string{unknownWords(k), closeWords(k), tiedWords(k)} {
			if words != "" {
				out = append(out, place+words)
			}
		}
	}
	for _, s := range p.Seasons {
		place := ""
		if len(p.Seasons) > 1 && s.Place != "" {
			place = plain(s.Place) + ": "
		}
		if words := staleWords(s); words != "" {
			out = append(out, place+words)
		}
	}
	return out
}

// unknownWords names the rows of lines without notes.
func unknownWords(p *forecast.Picks) string {
	names := namesOf(p, func(r forecast.Pick) bool { return r.Verdict == forecast.NotKnownYet })
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Nothing is known of %s: weigh the tops of ten plants and measure their height, now and again after the next hard frost.", someOf(names))
}

// closeWords names the rows whose odds at the window's end lie close to the
// assurance, so that a note or a cold week can turn the verdict.
func closeWords(p *forecast.Picks) string {
	const near = 0.15
	names := namesOf(p, func(r forecast.Pick) bool {
		n := len(r.Dates)
		return n > 0 && r.Verdict != forecast.NotKnownYet && math.Abs(r.Dates[n-1].All-p.Assurance) <= near
	})
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Close to the wanted %s %% on %s, so that a new note or a cold week can turn the verdict: %s.",
		number(100*p.Assurance, 0), dayMonth(p.To), someOf(names))
}

// tiedWords names the rows that cannot be told apart from another.
func tiedWords(p *forecast.Picks) string {
	names := namesOf(p, func(r forecast.Pick) bool { return len(r.Tied) > 0 })
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Not told apart from their neighbours in rank: %s. More notes of them would.", someOf(names))
}

func namesOf(p *forecast.Picks, wanted func(forecast.Pick) bool) []string {
	var names []string
	for i, name := range pickNames(p) {
		if wanted(p.Rows[i]) {
			names = append(names, name)
		}
	}
	return names
}

// staleWords says when this winter's plantings were last weighed.
func staleWords(s *forecast.Season) string {
	all := seriesOf(s)
	var never []string
	var last weather.Date
	weighed := false
	for _, l := range all {
		notes := l.notes(forecast.LeafMass)
		if len(notes) == 0 {
			never = append(never, l.name)
		}
		for _, n := range notes {
			if !weighed || n.Date > last {
				last, weighed = n.Date, true
			}
		}
	}
	switch {
	case len(all) == 0:
		return ""
	case !weighed:
		return "No top was weighed this winter: the autumn's own leaf mass tells most about how much can be lost."
	case len(never) > 0:
		return fmt.Sprintf("Not weighed this winter: %s. The others were last weighed on %s.", someOf(never), dayMonth(last))
	}
	return fmt.Sprintf("All plantings were weighed this winter, last on %s. Weighing them again after a hard frost teaches most.", dayMonth(last))
}

// someOf joins names, the first of many.
func someOf(names []string) string {
	const most = 8
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}
