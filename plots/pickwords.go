package plots

import (
	"fmt"
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
	over := "counted over " + pastWinters(p.Traces)
	if p.Traces == 0 {
		over = "all of it observed"
	}
	parts = append(parts, fmt.Sprintf("%s all through the window of %s at odds of %s %% or better, %s",
		count, windowWords(p), number(100*p.Assurance, 0), over))
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
	s := fmt.Sprintf("Odds in whole percent, rounded down: that the belts lift at least %s %% of the stand, the ground is still shaded and no root has frozen, in the same weather.",
		number(100*p.WantedShare, 0))
	if len(p.NotKnown) > 0 {
		s += " Not known: " + strings.Join(p.NotKnown, ", ") + "."
	}
	return s
}
