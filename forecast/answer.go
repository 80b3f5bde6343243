package forecast

import (
	"fmt"
	"slices"
	"strings"

	"wintertop/weather"
)

// Names gives the rows' names by rank: the line, and the planting with it where
// a line has several rows.
func (p *Picks) Names() []string {
	count := map[string]int{}
	for _, r := range p.Rows {
		count[r.Line]++
	}
	names := make([]string, len(p.Rows))
	for i, r := range p.Rows {
		names[i] = r.Line
		if count[r.Line] > 1 {
			names[i] += " (" + r.Planting + ")"
		}
	}
	return names
}

// Answer says in one sentence what to lift first, what can wait, what not to
// count on and what to weigh. names holds a name for each row.
func (p *Picks) Answer(names []string) string {
	if len(p.Rows) == 0 {
		return "No planting stands this winter."
	}
	var parts []string
	early := p.rowsOf(LiftEarly)
	slices.SortStableFunc(early, func(a, b int) int { return int(p.Rows[a].HoldsUntil - p.Rows[b].HoldsUntil) })
	if len(early) > 0 {
		parts = append(parts, "lift "+p.inTurn(early, names))
	}
	for _, group := range []struct {
		verdict Verdict
		words   string
	}{
		{Hold, "leave standing through the window: "},
		{TooWeak, "do not count on the belts for "},
		{NotKnownYet, "weigh tops of "},
	} {
		var of []string
		for _, i := range p.rowsOf(group.verdict) {
			of = append(of, names[i])
		}
		if len(of) == 0 {
			continue
		}
		words := group.words + several(of, ", ", 5)
		if group.verdict == NotKnownYet {
			words += " before trusting any odds"
		}
		parts = append(parts, words)
	}
	s := strings.Join(parts, "; ") + "."
	return strings.ToUpper(s[:1]) + s[1:]
}

// inTurn says which rows to lift when, those of one day together; the first
// mostLifted by name.
func (p *Picks) inTurn(early []int, names []string) string {
	const mostLifted = 6
	var turns []string
	var lift []string
	for k, i := range early {
		if k == mostLifted {
			return fmt.Sprintf("%s and %d more", strings.Join(turns, ", then "), len(early)-k)
		}
		lift = append(lift, names[i])
		when := p.when(i)
		if k+1 == len(early) || k+1 == mostLifted || p.when(early[k+1]) != when {
			turns, lift = append(turns, several(lift, ", ", mostLifted)+when), nil
		}
	}
	return strings.Join(turns, ", then ")
}

// when says on which days a row holds.
func (p *Picks) when(row int) string {
	r := p.Rows[row]
	if r.HoldsFrom > p.AsOf {
		return " from " + dayMonth(r.HoldsFrom) + " to " + dayMonth(r.HoldsUntil)
	}
	return " by " + dayMonth(r.HoldsUntil)
}

// several joins up to most names and counts the others.
func several(names []string, between string, most int) string {
	if len(names) <= most {
		return strings.Join(names, between)
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], between), len(names)-most)
}

// rowsOf gives the indices of the rows with a verdict, by rank.
func (p *Picks) rowsOf(v Verdict) []int {
	var rows []int
	for i, r := range p.Rows {
		if r.Verdict == v {
			rows = append(rows, i)
		}
	}
	return rows
}

// dayMonth gives a day as people say it: 2 Dec.
func dayMonth(d weather.Date) string { return d.Time().Format("2 Jan") }
