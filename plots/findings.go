package plots

import (
	"fmt"
	"strings"

	"wintertop/forecast"
)

// leafFinding is the answer of the leaf mass chart in a sentence.
func leafFinding(s *forecast.Season, all []series) string {
	if len(all) == 0 {
		return "No planting stands this winter."
	}
	if len(all) == 1 {
		return leafSentence(s, all[0])
	}
	most, least, grip, known := -1, -1, 0, 0
	lows := make([]low, len(all))
	for i, l := range all {
		lows[i] = lowOf(s, l.days)
		if !lows[i].ok {
			continue
		}
		known++
		if most < 0 || lows[i].least.LeafG > lows[most].least.LeafG {
			most = i
		}
		if least < 0 || lows[i].least.LeafG < lows[least].least.LeafG {
			least = i
		}
		if lows[i].least.LeafG >= s.GripG {
			grip++
		}
	}
	if known == 0 {
		return "No day of this winter's frost season is covered."
	}
	if !(lows[most].best.LeafG > 0) {
		return "No planting has leaf at any time of this winter's frost season."
	}
	return fmt.Sprintf("At the winter low the median is highest for %s (%s g, %s) and lowest for %s (%s g, %s); it stays at or above the grip mass of %s g for %s plantings.",
		all[most].name, number(lows[most].least.LeafG, 1), dayMonth(lows[most].least.Date),
		all[least].name, number(lows[least].least.LeafG, 1), dayMonth(lows[least].least.Date),
		number(s.GripG, 1), ofAll(grip, known))
}

// ofAll says how many of so many.
func ofAll(n, of int) string {
	switch n {
	case 0:
		return fmt.Sprintf("none of %d", of)
	case of:
		return fmt.Sprintf("all %d", of)
	}
	return fmt.Sprintf("%d of %d", n, of)
}

// leafSentence says of one planting what leaf it has at its autumn best and at
// its winter low, against the grip mass.
func leafSentence(s *forecast.Season, l series) string {
	w := lowOf(s, l.days)
	switch {
	case !w.ok:
		return l.name + ": no day of this winter's frost season is covered."
	case !(w.best.LeafG > 0):
		return l.name + ": no leaf at any time of this winter's frost season."
	}
	against := "below"
	if w.least.LeafG >= s.GripG {
		against = "at or above"
	}
	how := "expected median"
	if w.least.Observed {
		how = "computed median"
	}
	return fmt.Sprintf("%s: %s g fresh per plant at its autumn best (%s), %s g at its winter low (%s, %s; 5–95 %%: %s–%s g), %s the grip mass of %s g.",
		l.name, number(w.best.LeafG, 1), dayMonth(w.best.Date), number(w.least.LeafG, 1), how, dayMonth(w.least.Date),
		number(w.least.LeafLoG, 1), number(w.least.LeafHiG, 1), against, number(s.GripG, 1))
}

// leafDesc tells the whole chart in words, every planting named.
func leafDesc(s *forecast.Season, all []series) string {
	var b strings.Builder
	b.WriteString(leafFinding(s, all))
	if len(all) > 1 {
		for _, l := range all {
			b.WriteString(" " + leafSentence(s, l))
		}
	}
	b.WriteString(" " + eventSentence(s))
	return b.String()
}

// eventSentence counts the freezing events and names the coldest.
func eventSentence(s *forecast.Season) string {
	if len(s.Events) == 0 {
		return "No freezing event up to " + fullDate(s.AsOf) + "."
	}
	coldest := s.Events[0]
	for _, e := range s.Events {
		if e.MinCanopyC < coldest.MinCanopyC || !finite(coldest.MinCanopyC) {
			coldest = e
		}
	}
	count := fmt.Sprintf("%d freezing events", len(s.Events))
	if len(s.Events) == 1 {
		count = "One freezing event"
	}
	return fmt.Sprintf("%s up to %s; coldest canopy %s °C in the event from %s.",
		count, fullDate(s.AsOf), number(coldest.MinCanopyC, 1), dayMonth(coldest.Start.Date))
}

// pastWinters says how many past winters the odds rest on.
func pastWinters(n int) string { return counted(n, "past winter") }

// counted gives "1 note" or "12 notes".
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
