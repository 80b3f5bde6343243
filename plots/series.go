package plots

import (
	"math"
	"slices"

	"wintertop/forecast"
)

// series is one planting as charts name and draw it.
type series struct {
	name  string
	index int // among the season's plantings
	check bool
	days  []forecast.SeasonDay
	all   []forecast.NotePoint
}

// seriesOf names the plantings by line, and by planting too where a line has
// several.
func seriesOf(s *forecast.Season) []series {
	count := map[string]int{}
	for _, p := range s.Plantings {
		count[p.Line]++
	}
	out := make([]series, len(s.Plantings))
	for i, p := range s.Plantings {
		out[i] = series{rowName(p.Line, p.Planting, count[p.Line] > 1), i, p.Kind == "check", p.Days, p.Notes}
	}
	return out
}

// notes gives the notes of one trait.
func (l series) notes(of forecast.Trait) []forecast.NotePoint {
	var out []forecast.NotePoint
	for _, n := range l.all {
		if n.Trait == string(of) {
			out = append(out, n)
		}
	}
	return out
}

// anyNotes says whether some planting has notes of a trait.
func anyNotes(all []series, of forecast.Trait) bool {
	return slices.ContainsFunc(all, func(l series) bool { return len(l.notes(of)) > 0 })
}

// kindBefore puts the word check before what is said of a check.
func kindBefore(l series, words string) string {
	if l.check {
		return "check; " + words
	}
	return words
}

// rowName gives the name that charts print for a planting.
func rowName(line, planting string, several bool) string {
	line, planting = isolated(plain(line)), isolated(plain(planting))
	switch {
	case line == "" && planting == "":
		return "(no name)"
	case line == "":
		return planting
	case several && planting != "":
		return line + " (" + planting + ")"
	}
	return line
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

const (
	mostLarge   = 12 // plantings up to which each gets a panel of its own
	largeOfMany = 9  // panels where there are more
	largeChecks = 3  // checks among them
)

// largest parts many plantings into those that get a panel of their own and
// the rest: the checks first, then those with most leaf at the winter low, in
// that order. Of few all are large, in the order given.
func largest(s *forecast.Season, all []series) (large, rest []series) {
	if len(all) <= mostLarge {
		return all, nil
	}
	type ranked struct {
		series
		leastG float64
	}
	byLow := make([]ranked, len(all))
	for i, l := range all {
		byLow[i] = ranked{l, -1}
		if w := lowOf(s, l.days); w.ok {
			byLow[i].leastG = w.least.LeafG
		}
	}
	slices.SortStableFunc(byLow, func(a, b ranked) int {
		switch {
		case a.leastG > b.leastG:
			return -1
		case a.leastG < b.leastG:
			return 1
		}
		return 0
	})
	var others []series
	for _, l := range byLow {
		if l.check && len(large) < largeChecks {
			large = append(large, l.series)
		} else {
			others = append(others, l.series)
		}
	}
	n := largeOfMany - len(large)
	return append(large, others[:n]...), others[n:]
}
