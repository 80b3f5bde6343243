package weather

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wintertop/weather/table"
)

const (
	longestFilledDays = 3    // a longer gap stays
	missingShare      = 0.05 // of the frost season, at most, in a complete winter
	frostNearC        = 3    // a minimum below it beside a filled gap may hide an event
)

// Filled gives the record with every gap of up to three days interpolated
// linearly between the days beside it, each extreme by itself, and marked
// Filled. Rain and snow are never filled. The findings name each gap, and as a
// warning each filled one beside a minimum below +3 °C, since an event may be
// missing from it. A gap at either end of the record stays.
func (r Record) Filled() (Record, table.Findings) {
	filled := r
	filled.Days = slices.Clone(r.Days)
	var seen table.Findings
	for start := 0; start < len(r.Days); start++ {
		if r.Days[start].State == Observed {
			continue
		}
		end := start
		for end < len(r.Days) && r.Days[end].State != Observed {
			end++
		}
		seen = append(seen, r.gap(filled.Days, start, end))
		start = end
	}
	return filled, seen
}

// gap fills days[start:end] where that is allowed and says what was done.
func (r Record) gap(days []Day, start, end int) table.Finding {
	f := table.Finding{File: r.File, Date: days[start].Date.String(), Column: "tmin, tmax", TreatedAs: "missing", Severity: table.Warning}
	n := end - start
	span := days[start].Date.String()
	if n > 1 {
		span = fmt.Sprintf("%d days from %s to %s", n, span, days[end-1].Date)
	}
	switch {
	case n > longestFilledDays:
		f.What = fmt.Sprintf("no temperatures for %s: too long to fill", span)
		return f
	case start == 0 || end == len(days):
		f.What = fmt.Sprintf("no temperatures for %s: at the end of the record, so not filled", span)
		return f
	}
	minC := func(d Day) float64 { return d.MinC }
	maxC := func(d Day) float64 { return d.MaxC }
	coldest := math.Inf(1)
	for i := start - 1; i <= end; i++ {
		day := &days[i]
		coldest = min(coldest, orElse(r.Days[i].MinC, math.Inf(1)))
		if day.State == Observed {
			continue
		}
		if math.IsNaN(day.MinC) {
			day.MinC = min(r.between(i, minC), orElse(day.MaxC, math.Inf(1)))
		}
		if math.IsNaN(day.MaxC) {
			day.MaxC = max(r.between(i, maxC), day.MinC)
		}
		day.State = Filled
	}
	f.What, f.TreatedAs, f.Severity = fmt.Sprintf("temperatures of %s interpolated", span), "filled", table.Note
	if coldest < frostNearC {
		f.Severity = table.Warning
		f.Value = strings.TrimSuffix(fmt.Sprintf("%.1f", coldest), ".0")
		f.What += fmt.Sprintf(" beside a minimum of %.1f °C: an event may be missing there", coldest)
	}
	return f
}

// between interpolates one extreme of the i-th day from the nearest days on
// either side that have it, be they within a gap; the record must have both.
func (r Record) between(i int, of func(Day) float64) float64 {
	before, after := i-1, i+1
	for math.IsNaN(of(r.Days[before])) {
		before--
	}
	for math.IsNaN(of(r.Days[after])) {
		after++
	}
	from, to := of(r.Days[before]), of(r.Days[after])
	return from + float64(float64(i-before)/float64(after-before)*(to-from))
}

func orElse(x, instead float64) float64 {
	if math.IsNaN(x) {
		return instead
	}
	return x
}

// Complete says whether the frost season of the winter w is known well enough
// to be played forward: at most 5 % of its days are missing and no gap in it is
// longer than three days. Filled days and days outside the record are missing.
func (r Record) Complete(w WinterYear) bool {
	from, to := w.FrostSeason()
	missing, gap := 0, 0
	for d := from; d <= to; d++ {
		if day, ok := r.Day(d); ok && day.State == Observed {
			gap = 0
			continue
		}
		missing++
		if gap++; gap > longestFilledDays {
			return false
		}
	}
	return float64(missing) <= missingShare*float64(to-from+1)
}
