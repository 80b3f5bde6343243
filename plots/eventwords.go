package plots

import (
	"fmt"
	"strings"

	"wintertop/weather"
)

// frostWords tells the events of a winter: how many, from when to when, how
// cold.
func frostWords(s weather.Severity, soFar bool) string {
	switch s.Events {
	case 0:
		return "no freezing event"
	case 1:
		return fmt.Sprintf("1 freezing event, on %s, coldest canopy %s °C", dayMonth(s.First.Start.Date), number(s.MinCanopyC, 1))
	}
	until := "the last"
	if soFar {
		until = "the latest"
	}
	return fmt.Sprintf("%d freezing events, the first on %s, %s on %s, coldest canopy %s °C",
		s.Events, dayMonth(s.First.Start.Date), until, dayMonth(s.Last.Start.Date), number(s.MinCanopyC, 1))
}

// finding is the answer of the events chart in a sentence or two.
func (g frostLayout) finding(place string) string {
	var words string
	s := g.asked.whole
	winter := s.Winter.String()
	switch {
	case !g.known:
		words = "The winter asked for is not in the record."
	case g.inProgress:
		words = fmt.Sprintf("%s up to %s: %s", winter, dayMonth(g.asOf), frostWords(s, true))
		if g.complete > 0 {
			words += fmt.Sprintf("; %s had more frost from events begun by that day", g.harder())
		}
		words += "."
	case g.asked.complete:
		words = fmt.Sprintf("%s: %s; rank %d of %d complete winters, 1 being the hardest.", winter, frostWords(s, false), s.Rank, g.complete)
	default:
		words = fmt.Sprintf("%s: %s; the winter is not complete and has no rank.", winter, frostWords(s, false))
	}
	if hardest, mildest, ok := g.ends(); ok {
		words += fmt.Sprintf(" Hardest of all was %s (%s), mildest %s (%s).",
			hardest.Winter, count(hardest.Events), mildest.Winter, count(mildest.Events))
	}
	if place = plain(place); place != "" {
		words = place + ": " + words
	}
	return words
}

func count(events int) string {
	if events == 1 {
		return "1 event"
	}
	return fmt.Sprintf("%d events", events)
}

// harder counts the complete winters shown that had more frost by the as-of
// day than the winter in progress.
func (g frostLayout) harder() string {
	more, of := 0, 0
	for _, r := range g.rows {
		if !r.complete {
			continue
		}
		of++
		if r.begun.FreezingDegreeHours > g.asked.begun.FreezingDegreeHours {
			more++
		}
	}
	switch more {
	case 0:
		return fmt.Sprintf("none of %d complete winters", of)
	case of:
		return fmt.Sprintf("all %d complete winters", of)
	}
	return fmt.Sprintf("%d of %d complete winters", more, of)
}

// ends gives the hardest and the mildest complete winter shown.
func (g frostLayout) ends() (hardest, mildest weather.Severity, ok bool) {
	n := 0
	for _, r := range g.rows {
		if !r.complete {
			break
		}
		if n == 0 {
			hardest = r.whole
		}
		mildest = r.whole
		n++
	}
	return hardest, mildest, n > 1
}

// desc tells every row in words.
func (g frostLayout) desc(place string) string {
	var b strings.Builder
	b.WriteString(g.finding(place))
	for _, r := range g.rows {
		if s := r.whole; s.Rank > 0 {
			fmt.Fprintf(&b, " Rank %d, %s: %s.", s.Rank, s.Winter, frostWords(s, false))
		} else {
			fmt.Fprintf(&b, " %s, not complete: %s.", s.Winter, frostWords(s, false))
		}
	}
	return b.String()
}

// foot says how winters are ranked and what is left out.
func (g frostLayout) foot() string {
	words := "Ranked by the degree-hours below 0 °C of the freezing events of the exposed canopy, complete winters only; a dash is a winter that is not complete."
	if g.inProgress && len(g.rows) > 0 {
		words += fmt.Sprintf(" An event begun by %s is counted whole.", dayMonth(g.asOf))
	}
	if g.left > 0 {
		words += fmt.Sprintf(" %d earlier winters are in winters.csv and not here.", g.left)
	}
	return words
}
