package weather

import (
	"math"
	"strings"

	"wintertop/weather/table"
)

// CleanTable gives station-clean.csv: one row a day. r is usually the filled
// record. Temperatures have one decimal, or two where the record was written in
// a unit that needs them.
func CleanTable(r Record) *table.Table {
	t := table.New("station-clean", "date", "tmin_c", "tmax_c", "rain_mm", "snow_depth_cm", "state")
	minDecimals := decimals(r.Days, func(d Day) float64 { return d.MinC })
	maxDecimals := decimals(r.Days, func(d Day) float64 { return d.MaxC })
	rainDecimals := decimals(r.Days, func(d Day) float64 { return d.RainMM })
	snowDecimals := decimals(r.Days, func(d Day) float64 { return d.SnowCM })
	for _, d := range r.Days {
		t.Add(table.Text(d.Date.String()), table.Num(d.MinC, minDecimals), table.Num(d.MaxC, maxDecimals),
			table.Num(d.RainMM, rainDecimals), table.Num(d.SnowCM, snowDecimals), table.Text(d.State.String()))
	}
	return t
}

// decimals gives 1 where all observed values are whole tenths, else 2.
func decimals(days []Day, of func(Day) float64) int {
	const nearly = 1e-6 // to which Convert rounds
	for _, d := range days {
		if x := 10 * of(d); d.State == Observed && math.Abs(x-math.Round(x)) > nearly {
			return 2
		}
	}
	return 1
}

// FindingsTable gives station-findings.csv: one row a finding.
func FindingsTable(findings table.Findings) *table.Table {
	t := table.New("station-findings", "file", "file_line", "date", "column", "value", "finding", "treated_as")
	for _, f := range findings {
		line := table.Blank()
		if f.Line > 0 {
			line = table.Int(f.Line)
		}
		t.Add(table.Text(f.File), line, table.Text(f.Date), table.Text(f.Column), valueCell(f.Value),
			table.Text(f.What), table.Text(f.TreatedAs))
	}
	return t
}

// WintersTable gives winters.csv: one row a winter, with what its freeze–thaw
// events add up to and its rank among the complete winters of counts.
func WintersTable(counts []WinterCount, events []Event) *table.Table {
	t := table.New("winters", "winter", "days", "missing", "frost_days", "ice_days", "freeze_thaw_days",
		"severe_freeze_thaw_days", "events", "coldest_c", "rain_mm", "complete",
		"severity_rank", "freezing_degree_hours", "min_canopy_c", "first_event", "last_event")
	for i, s := range Severities(counts, events) {
		c := counts[i]
		rank, first, last := table.Blank(), table.Blank(), table.Blank()
		if s.Rank > 0 {
			rank = table.Int(s.Rank)
		}
		if s.Events > 0 {
			first, last = table.Text(s.First.Start.Date.String()), table.Text(s.Last.Start.Date.String())
		}
		t.Add(table.Text(c.Winter.String()), table.Int(c.Days), table.Int(c.Missing), table.Int(c.FrostDays), table.Int(c.IceDays),
			table.Int(c.FreezeThawDays), table.Int(c.SevereFreezeThawDays), table.Int(s.Events),
			table.Num(c.ColdestC, 1), table.Num(c.RainMM, 1), table.YesNo(c.Complete),
			rank, table.Num(s.FreezingDegreeHours, 1), table.Num(s.MinCanopyC, 1), first, last)
	}
	return t
}

// valueCell gives a value as it was found: a number where it is one, so that a
// negative one is not taken for a formula.
func valueCell(value string) table.Cell {
	n := table.ParseNumber(value)
	if !n.Known || strings.ContainsAny(n.Text, "eE") {
		return table.Text(value)
	}
	_, decimals, _ := strings.Cut(n.Text, ".")
	return table.Num(n.Value, len(decimals))
}
