package plots

import (
	"bytes"
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"strings"

	"wintertop/weather/table"
)

// resultGrid is a result table as the page prints it.
type resultGrid struct {
	names []string
	Heads []gridHead
	Rows  []gridRow
	More  int    // rows that the file holds beyond these
	File  string // pick.csv
}

type gridHead struct {
	Text   string
	Number bool // the column holds numbers
}

type gridRow struct {
	Cells []gridCell
	Now   bool // the winter in progress
}

type gridCell struct {
	Text   string
	Number bool
	value  float64
}

// gridOf reads a table by the JSON it gives out, where numbers are told from
// text; nil where there is no table.
func gridOf(t *table.Table) *resultGrid {
	if t == nil {
		return nil
	}
	g := &resultGrid{File: t.Name + ".csv", names: t.Columns}
	for _, c := range t.Columns {
		words := columnWords(c)
		g.Heads = append(g.Heads, gridHead{Text: strings.ToUpper(words[:1]) + words[1:]})
	}
	var b bytes.Buffer
	var rows []map[string]any
	if err := t.JSON(&b); err != nil {
		panic(err) // a buffer takes all
	}
	d := json.NewDecoder(&b)
	d.UseNumber()
	if err := d.Decode(&rows); err != nil {
		panic(err) // what Table.JSON wrote is JSON
	}
	for _, r := range rows {
		var row gridRow
		for i, c := range t.Columns {
			cell := gridCell{}
			switch v := r[c].(type) {
			case json.Number:
				value, _ := v.Float64()
				cell = gridCell{strings.Replace(v.String(), "-", "−", 1), true, value}
				g.Heads[i].Number = true
			case string:
				cell.Text = plain(v)
			}
			row.Cells = append(row.Cells, cell)
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// shownWinters is how many winters the page lists.
const shownWinters = 12

// winterColumns are those of winters.csv that the page prints.
var winterColumns = []string{"winter", "place", "severity_rank", "frost_days", "ice_days", "freeze_thaw_days", "severe_freeze_thaw_days",
	"events", "freezing_degree_hours", "coldest_c", "min_canopy_c", "rain_mm", "complete"}

// wintersGrid lists the winter of the page first, then the winters before it,
// newest first.
func (p Page) wintersGrid() *resultGrid {
	g := gridOf(p.Winters)
	if g == nil {
		return nil
	}
	g.keep(winterColumns)
	now := ""
	if len(p.Seasons) > 0 {
		now = p.Seasons[0].Winter.String()
	} else if len(p.Picks) > 0 {
		now = p.Picks[0].Winter.String()
	}
	slices.Reverse(g.Rows)
	slices.SortStableFunc(g.Rows, func(a, b gridRow) int {
		if nowA, nowB := a.Cells[0].Text == now, b.Cells[0].Text == now; nowA != nowB {
			if nowA {
				return -1
			}
			return 1
		}
		return 0
	})
	for i := range g.Rows {
		g.Rows[i].Now = g.Rows[i].Cells[0].Text == now
	}
	g.cut(shownWinters)
	return g
}

// shownConstants is how many constants the page lists.
const shownConstants = 8

// constantsGrid lists the constants that move the lift share most; nil where
// that is not known.
func (p Page) constantsGrid() *resultGrid {
	const moves = "lift_share_moves"
	g := gridOf(p.Constants)
	if g == nil {
		return nil
	}
	by := slices.Index(p.Constants.Columns, moves)
	if by < 0 {
		return nil
	}
	g.Rows = slices.DeleteFunc(g.Rows, func(r gridRow) bool { return !(math.Abs(r.Cells[by].value) > 0) })
	slices.SortStableFunc(g.Rows, func(a, b gridRow) int {
		return cmp.Compare(math.Abs(b.Cells[by].value), math.Abs(a.Cells[by].value))
	})
	g.keep([]string{"name", "value", "low", "high", "unit", "standing", moves})
	g.cut(shownConstants)
	if len(g.Rows) == 0 {
		return nil
	}
	return g
}

// keep puts the wanted columns in order, as far as there are any, and drops
// the others.
func (g *resultGrid) keep(wanted []string) {
	var at []int
	for _, name := range wanted {
		if i := slices.Index(g.names, name); i >= 0 {
			at = append(at, i)
		}
	}
	for r, row := range g.Rows {
		g.Rows[r].Cells = nil
		for _, i := range at {
			g.Rows[r].Cells = append(g.Rows[r].Cells, row.Cells[i])
		}
	}
	heads := g.Heads
	g.Heads = nil
	for _, i := range at {
		g.Heads = append(g.Heads, heads[i])
	}
}

// cut keeps the first rows and counts the others.
func (g *resultGrid) cut(most int) {
	if len(g.Rows) > most {
		g.More = len(g.Rows) - most
		g.Rows = g.Rows[:most]
	}
}

// columnWords turns the name of a column into words with its unit.
func columnWords(column string) string {
	switch column {
	case "severity_rank":
		return "rank"
	case "freeze_thaw_days":
		return "freeze–thaw days"
	case "severe_freeze_thaw_days":
		return "severe ones"
	case "freezing_degree_hours":
		return "degree-hours below 0 °C"
	case "min_canopy_c":
		return "coldest canopy, °C"
	case "coldest_c":
		return "coldest air, °C"
	case "lift_share_moves":
		return "moves the lift share by"
	}
	for suffix, unit := range map[string]string{"_c": "°C", "_mm": "mm", "_cm": "cm", "_g": "g", "_kg": "kg"} {
		if name, ok := strings.CutSuffix(column, suffix); ok {
			return strings.ReplaceAll(name, "_", " ") + ", " + unit
		}
	}
	return strings.ReplaceAll(column, "_", " ")
}
