package plots

import (
	"fmt"
	"slices"
	"strings"

	"wintertop/forecast"
)

func pickNames(p *forecast.Picks) []string {
	count := map[string]int{}
	for _, r := range p.Rows {
		count[r.Line]++
	}
	names := make([]string, len(p.Rows))
	for i, r := range p.Rows {
		names[i] = rowName(r.Line, r.Planting, count[r.Line] > 1)
	}
	return names
}

// rowNote gives a row's planting and kind.
func rowNote(r forecast.Pick) string {
	var parts []string
	if planting := plain(r.Planting); planting != "" && planting != plain(r.Line) {
		parts = append(parts, "planting "+planting)
	}
	if kind := plain(r.Kind); kind != "" {
		parts = append(parts, kind)
	}
	return strings.Join(parts, ", ")
}

// verdictWords gives the verdict and, shorter, what it means in dates.
func verdictWords(p *forecast.Picks, r forecast.Pick) (verdict, meaning string) {
	switch {
	case r.Verdict == forecast.NotKnownYet:
		meaning = "no notes: weigh tops"
	case !r.HasHold:
		meaning = "never " + number(100*p.Assurance, 0) + " % sure"
	case r.HoldsFrom > p.AsOf:
		meaning = "holds " + dayMonth(r.HoldsFrom) + "–" + dayMonth(r.HoldsUntil)
	default:
		meaning = "holds until " + dayMonth(r.HoldsUntil)
	}
	return string(r.Verdict), meaning
}

// byVerdict gives the indices of the rows with a verdict, by rank.
func byVerdict(p *forecast.Picks, v forecast.Verdict) []int {
	var out []int
	for i, r := range p.Rows {
		if r.Verdict == v {
			out = append(out, i)
		}
	}
	return out
}

// windowWords names the window.
func windowWords(p *forecast.Picks) string {
	return dayMonth(p.From) + " to " + fullDate(p.To)
}

// pickFinding is the answer of the calendar in a sentence.
func pickFinding(p *forecast.Picks, names []string) string {
	if len(p.Rows) == 0 {
		return "No planting stands this winter."
	}
	var parts []string
	hold := len(byVerdict(p, forecast.Hold))
	count := fmt.Sprintf("%d of %d plantings hold", hold, len(p.Rows))
	switch hold {
	case 0:
		count = fmt.Sprintf("None of the %d plantings holds", len(p.Rows))
	case 1:
		count = fmt.Sprintf("One of %d plantings holds", len(p.Rows))
	}
	if len(p.Rows) == 1 {
		count = []string{"The one planting does not hold", "The one planting holds"}[hold]
	}
	parts = append(parts, fmt.Sprintf("%s all through the window of %s at odds of %s %% or better, counted over %s",
		count, windowWords(p), number(100*p.Assurance, 0), pastWinters(p.Traces)))
	if early := byVerdict(p, forecast.LiftEarly); len(early) > 0 {
		first := firstToLift(p, early)
		parts = append(parts, fmt.Sprintf("%d to lift early, first %s by %s", len(early), names[first], dayMonth(p.Rows[first].HoldsUntil)))
	}
	if weak := byVerdict(p, forecast.TooWeak); len(weak) > 0 {
		parts = append(parts, fmt.Sprintf("%d too weak", len(weak)))
	}
	if unknown := byVerdict(p, forecast.NotKnownYet); len(unknown) > 0 {
		parts = append(parts, fmt.Sprintf("%d not known yet", len(unknown)))
	}
	return strings.Join(parts, "; ") + "."
}

// whatToDo says in one sentence what to lift first, what can wait, what not to
// count on and what to weigh.
func whatToDo(p *forecast.Picks, names []string) string {
	if len(p.Rows) == 0 {
		return "No planting stands this winter."
	}
	var parts []string
	early := byVerdict(p, forecast.LiftEarly)
	slices.SortStableFunc(early, func(a, b int) int { return int(p.Rows[a].HoldsUntil - p.Rows[b].HoldsUntil) })
	if len(early) > 0 {
		var lift []string
		for _, i := range early {
			words := names[i] + " by " + dayMonth(p.Rows[i].HoldsUntil)
			if p.Rows[i].HoldsFrom > p.AsOf {
				words = names[i] + " from " + dayMonth(p.Rows[i].HoldsFrom) + " to " + dayMonth(p.Rows[i].HoldsUntil)
			}
			lift = append(lift, words)
		}
		parts = append(parts, "lift "+several(lift, ", then ", 6))
	}
	for _, group := range []struct {
		verdict forecast.Verdict
		words   string
	}{
		{forecast.Hold, "leave standing through the window: "},
		{forecast.TooWeak, "do not count on the belts for "},
		{forecast.NotKnownYet, "weigh tops of "},
	} {
		var of []string
		for _, i := range byVerdict(p, group.verdict) {
			of = append(of, names[i])
		}
		if len(of) == 0 {
			continue
		}
		words := group.words + several(of, ", ", 5)
		if group.verdict == forecast.NotKnownYet {
			words += " before trusting any odds"
		}
		parts = append(parts, words)
	}
	s := strings.Join(parts, "; ") + "."
	return strings.ToUpper(s[:1]) + s[1:]
}

// several joins up to most names and counts the others.
func several(names []string, between string, most int) string {
	if len(names) <= most {
		return strings.Join(names, between)
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], between), len(names)-most)
}

// firstToLift gives the row whose hold ends first.
func firstToLift(p *forecast.Picks, rows []int) int {
	first := rows[0]
	for _, i := range rows {
		if p.Rows[i].HoldsUntil < p.Rows[first].HoldsUntil {
			first = i
		}
	}
	return first
}

func pickDesc(p *forecast.Picks, names []string) string {
	var b strings.Builder
	b.WriteString(pickFinding(p, names))
	for i, r := range p.Rows {
		verdict, meaning := verdictWords(p, r)
		fmt.Fprintf(&b, " %d. %s: %s, %s", r.Rank, names[i], verdict, meaning)
		if n := len(r.Dates); n > 0 {
			fmt.Fprintf(&b, "; %s %% on %s", percent(r.Dates[n-1].All), dayMonth(r.Dates[n-1].Date))
		}
		b.WriteString(".")
	}
	b.WriteString(" " + oddsWords(p))
	return b.String()
}

// oddsWords says what the odds are odds of, and what they leave out.
func oddsWords(p *forecast.Picks) string {
	s := fmt.Sprintf("Odds in whole percent, rounded down: that the belts lift at least %s %% of the stand and the ground is still shaded, in the same weather.",
		number(100*p.WantedShare, 0))
	if len(p.LeftOut) > 0 {
		s += " Not in the odds, because not known: " + strings.Join(p.LeftOut, ", ") + "."
	}
	return s
}
