package plots

import (
	"fmt"
	"strings"

	"wintertop/forecast"
	"wintertop/weather"
)

// shading is what a planting's median light says from the as-of day, or from
// the frost season's first day, to the frost season's last.
type shading struct {
	from, last forecast.SeasonDay // first and last day of the stretch
	open       forecast.SeasonDay // first day with more light than the limit
	opens, ok  bool
	ever       bool // shaded on some day of the frost season
}

func shadingOf(s *forecast.Season, days []forecast.SeasonDay) shading {
	from, to := s.Winter.FrostSeason()
	start := from
	if s.AsOf > from && s.AsOf < to && s.Traces > 0 {
		start = s.AsOf
	}
	var h shading
	for _, d := range days {
		if !finite(d.GroundLight) || d.Date < from || d.Date > to {
			continue
		}
		h.ever = h.ever || d.GroundLight <= s.ShadeLimit
		if d.Date < start {
			continue
		}
		if !h.ok {
			h.from, h.ok = d, true
		}
		h.last = d
		if !h.opens && d.GroundLight > s.ShadeLimit {
			h.open, h.opens = d, true
		}
	}
	return h
}

// shadeWords says shortly until when the ground is shaded.
func shadeWords(s *forecast.Season, l series) string {
	h := shadingOf(s, l.days)
	switch {
	case !h.ok:
		return "no day of this winter's frost season"
	case !h.ever:
		return "not shaded"
	case !h.opens:
		return "shaded to " + dayMonth(h.last.Date)
	case h.open.Date == h.from.Date:
		return "open on " + dayMonth(h.open.Date)
	}
	return "open from " + dayMonth(h.open.Date)
}

// shadeSentence says of one planting how long its ground is shaded and what
// weeds cover at the frost season's end.
func shadeSentence(s *forecast.Season, l series) string {
	h := shadingOf(s, l.days)
	if !h.ok {
		return l.name + ": no day of this winter's frost season is covered."
	}
	limit := number(100*s.ShadeLimit, 0)
	light := fmt.Sprintf("the median light at the ground stays at or below the shade limit of %s %% from %s to %s", limit, dayMonth(h.from.Date), dayMonth(h.last.Date))
	switch {
	case !h.ever:
		light = fmt.Sprintf("the median light at the ground is above the shade limit of %s %% all through", limit)
	case h.opens && h.open.Date == h.from.Date:
		light = fmt.Sprintf("the median light at the ground is above the shade limit of %s %% on %s already", limit, dayMonth(h.open.Date))
	case h.opens:
		light = fmt.Sprintf("the median light at the ground rises above the shade limit of %s %% on %s", limit, dayMonth(h.open.Date))
	}
	return fmt.Sprintf("%s: %s; weeds cover %s %% of the ground on %s.", l.name, light, number(100*h.last.WeedCover, 0), dayMonth(h.last.Date))
}

// shadeFinding is the answer of the shade chart in a sentence.
func shadeFinding(s *forecast.Season, all []series) string {
	if len(all) == 0 {
		return "No planting stands this winter."
	}
	if len(all) == 1 {
		return shadeSentence(s, all[0])
	}
	known, shaded, already, first, weedy := 0, 0, 0, -1, -1
	var from, to weather.Date
	hs := make([]shading, len(all))
	for i, l := range all {
		hs[i] = shadingOf(s, l.days)
		h := hs[i]
		if !h.ok {
			continue
		}
		if known == 0 || h.from.Date < from {
			from = h.from.Date
		}
		to = max(to, h.last.Date)
		known++
		if !h.opens {
			shaded++
		} else if first < 0 || h.open.Date < hs[first].open.Date {
			first = i
		}
		if h.opens && h.open.Date == h.from.Date {
			already++
		}
		if weedy < 0 || h.last.WeedCover > hs[weedy].last.WeedCover {
			weedy = i
		}
	}
	if known == 0 {
		return "No day of this winter's frost season is covered."
	}
	words := fmt.Sprintf("From %s to %s the median light at the ground stays at or below %s %% for %s plantings",
		dayMonth(from), dayMonth(to), number(100*s.ShadeLimit, 0), ofAll(shaded, len(all)))
	switch already {
	case 0:
		if first >= 0 {
			words += fmt.Sprintf("; the first to open is %s, on %s", all[first].name, dayMonth(hs[first].open.Date))
		}
	case 1:
		words += fmt.Sprintf("; %s is open on %s already", all[first].name, dayMonth(hs[first].open.Date))
	default:
		words += fmt.Sprintf("; %d are open at the start already", already)
	}
	return fmt.Sprintf("%s. On %s weeds cover most under %s, %s %% of the ground.", words, dayMonth(to), all[weedy].name, number(100*hs[weedy].last.WeedCover, 0))
}

// shadeDesc tells the whole chart in words, every planting named.
func shadeDesc(s *forecast.Season, all []series) string {
	var b strings.Builder
	b.WriteString(shadeFinding(s, all))
	if len(all) > 1 {
		for _, l := range all {
			b.WriteString(" " + shadeSentence(s, l))
		}
	}
	return b.String()
}
