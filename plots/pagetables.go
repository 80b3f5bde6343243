package plots

import (
	"bytes"
	"encoding/json"
	"strings"

	"wintertop/weather/table"
)

// resultGrid is a result table as the page prints it.
type resultGrid struct {
	Heads []string
	Rows  []gridRow
	More  int    // rows that the file holds beyond these
	File  string // pick.csv
}

type gridRow struct {
	Cells []gridCell
	Now   bool // the winter in progress
}

type gridCell struct {
	Text   string
	Number bool
}

// gridOf reads a table by the JSON it gives out, where numbers are told from
// text; nil where there is no table.
func gridOf(t *table.Table) *resultGrid {
	if t == nil {
		return nil
	}
	g := &resultGrid{File: t.Name + ".csv"}
	for _, c := range t.Columns {
		words := columnWords(c)
		g.Heads = append(g.Heads, strings.ToUpper(words[:1])+words[1:])
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
		for _, c := range t.Columns {
			cell := gridCell{}
			switch v := r[c].(type) {
			case json.Number:
				cell = gridCell{strings.Replace(v.String(), "-", "−", 1), true}
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

// wintersGrid lists the winter of the page first, then the winters before it,
// newest first.
func (p Page) wintersGrid() *resultGrid {
	g := gridOf(p.Winters)
	if g == nil {
		return nil
	}
	now := ""
	if len(p.Seasons) > 0 {
		now = p.Seasons[0].Winter.String()
	} else if len(p.Picks) > 0 {
		now = p.Picks[0].Winter.String()
	}
	var first, rest []gridRow
	for i := len(g.Rows) - 1; i >= 0; i-- {
		row := g.Rows[i]
		if row.Cells[0].Text == now {
			row.Now = true
			first = append(first, row)
			continue
		}
		rest = append(rest, row)
	}
	g.Rows = append(first, rest...)
	if len(g.Rows) > shownWinters {
		g.More = len(g.Rows) - shownWinters
		g.Rows = g.Rows[:shownWinters]
	}
	return g
}

// columnWords turns the name of a column into words with its unit.
func columnWords(column string) string {
	for suffix, unit := range map[string]string{"_c": "°C", "_mm": "mm", "_cm": "cm", "_g": "g", "_kg": "kg"} {
		if name, ok := strings.CutSuffix(column, suffix); ok {
			return strings.ReplaceAll(name, "_", " ") + ", " + unit
		}
	}
	if name, ok := strings.CutSuffix(column, "_sd"); ok {
		return strings.ReplaceAll(name, "_", " ") + " ± SD"
	}
	return strings.ReplaceAll(column, "_", " ")
}
