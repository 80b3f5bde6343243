package weather

import (
	"fmt"
	"math"

	"wintertop/weather/table"

	"gonum.org/v1/gonum/stat"
)

// What no station does and a value may still stay: the reader names it and
// keeps it. Spike, lag and streak are the checks of Durre et al. 2010 (from
// memory).
const (
	spikeC     = 25.0 // above or below both neighbours
	lagRangeC  = 40.0 // maximum above all minima of three days, or minimum below all maxima
	streakDays = 20   // of one and the same value
	// How much better the day-to-day changes of minima and maxima have to agree
	// one day apart. In a sound year the excess is below 0.05 (five open records,
	// 111 years); a year whose maxima stand a day late has 0.3 to 0.6.
	shiftExcess = 0.15
	leastPairs  = 300 // of days in a calendar year, to judge it
)

// doubts looks for spikes, days that do not belong to their neighbours, streaks
// of one value, and years in which one extreme is a day off against the other.
// line gives the line of a day in the file.
func doubts(r Record, columns [quantities]string, line func(Date) int) table.Findings {
	var seen table.Findings
	doubt := func(d Date, column, value, format string, args ...any) {
		seen = append(seen, table.Finding{File: r.File, Line: line(d), Date: d.String(), Column: column, Value: value,
			What: fmt.Sprintf(format, args...), TreatedAs: "kept", Severity: table.Warning})
	}
	for q, of := range []func(Day) float64{func(d Day) float64 { return d.MinC }, func(d Day) float64 { return d.MaxC }} {
		run := 1
		for i := 1; i < len(r.Days); i++ {
			d, x := r.Days[i], of(r.Days[i])
			before := of(r.Days[i-1])
			if i+1 < len(r.Days) {
				after := of(r.Days[i+1])
				if up, down := x-max(before, after), min(before, after)-x; up >= spikeC || down >= spikeC {
					doubt(d.Date, columns[q], short(x), "%s °C lies %.1f °C off the days before and after it", short(x), max(up, down))
				}
			}
			if x == before {
				run++
			}
			if (x != before || i == len(r.Days)-1) && run >= streakDays {
				last := i
				if x != before {
					last--
				}
				start := r.Days[last-run+1]
				doubt(start.Date, columns[q], short(of(start)), "the same %s °C on %d days running, from %s on", short(of(start)), run, start.Date)
			}
			if x != before {
				run = 1
			}
		}
	}
	for i := 1; i+1 < len(r.Days); i++ {
		a, b, c := r.Days[i-1], r.Days[i], r.Days[i+1]
		if over := b.MaxC - max(a.MinC, b.MinC, c.MinC); over >= lagRangeC {
			doubt(b.Date, columns[maximum], short(b.MaxC), "the maximum %s °C lies %.1f °C above every minimum of three days", short(b.MaxC), over)
		}
		if under := min(a.MaxC, b.MaxC, c.MaxC) - b.MinC; under >= lagRangeC {
			doubt(b.Date, columns[minimum], short(b.MinC), "the minimum %s °C lies %.1f °C below every maximum of three days", short(b.MinC), under)
		}
	}
	for start := 0; start < len(r.Days); {
		year, _, _ := r.Days[start].Date.YMD()
		days := r.Slice(r.Days[start].Date, NewDate(year, 12, 31))
		if shift := shiftOf(days); shift != "" {
			doubt(days[0].Date, columns[maximum], "", "the maxima of %d seem to stand a day %s against the minima", year, shift)
		}
		start += len(days)
	}
	return seen
}

// short writes a temperature with one decimal.
func short(x float64) string { return fmt.Sprintf("%.1f", x) }

// shiftOf says whether the maxima of a year stand "late" or "early" against its
// minima. A minimum belongs to its own day's maximum and to that of the day
// before; where it goes with the next day's, or the one two days before, instead
// the columns are a day apart.
func shiftOf(days []Day) string {
	var agreement [4]float64 // with the maximum 2 days before, 1 day before, the same day, the day after
	minima, maxima := make([]float64, 0, len(days)), make([]float64, 0, len(days))
	for k := range agreement {
		minima, maxima = minima[:0], maxima[:0]
		for i := 1; i < len(days); i++ {
			j := i + k - 2
			if j < 1 || j >= len(days) {
				continue
			}
			x, y := days[i].MinC-days[i-1].MinC, days[j].MaxC-days[j-1].MaxC
			if !math.IsNaN(x) && !math.IsNaN(y) {
				minima, maxima = append(minima, x), append(maxima, y)
			}
		}
		if len(minima) < leastPairs {
			return ""
		}
		agreement[k] = stat.Correlation(minima, maxima, nil)
	}
	switch {
	case agreement[3]-agreement[1] > shiftExcess:
		return "late"
	case agreement[0]-agreement[2] > shiftExcess:
		return "early"
	}
	return ""
}
