package forecast

import (
	"wintertop/weather/table"
)

// SinceTable sets the pick of today beside that of an earlier day, row by row:
// what a week of weather and notes has changed. A row that was not there then
// is blank on that side.
func SinceTable(now, then []*Picks) *table.Table {
	t := table.New("pick-since", "rank", "line", "planting", "verdict_then", "verdict", "holds_until_then", "holds_until", "p_end_then", "p_end", "changed", "place")
	before := map[string]Pick{}
	for _, p := range then {
		for _, r := range p.Rows {
			before[r.Planting] = r
		}
	}
	for _, p := range now {
		for _, r := range p.Rows {
			old, known := before[r.Planting]
			row := []table.Cell{table.Int(r.Rank), table.Text(r.Line), table.Text(r.Planting), table.Blank(), table.Text(string(r.Verdict)),
				table.Blank(), dateCell(r.HoldsUntil, r.HasHold), table.Blank(), table.Num(r.atEnd(), 2)}
			if known {
				row[3], row[5], row[7] = table.Text(string(old.Verdict)), dateCell(old.HoldsUntil, old.HasHold), table.Num(old.atEnd(), 2)
			}
			changed := !known || old.Verdict != r.Verdict || old.HasHold != r.HasHold || old.HoldsUntil != r.HoldsUntil
			t.Add(append(row, table.YesNo(changed), table.Text(p.Place))...)
		}
	}
	return placed(t)
}

// atEnd gives the joint odds on the window's last day.
func (p Pick) atEnd() float64 { return p.Dates[len(p.Dates)-1].All }
