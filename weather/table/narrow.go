package table

import "slices"

// Width gives the number of terminal columns that the text form takes.
func (t *Table) Width() int {
	total := 2 * (len(t.Columns) - 1)
	for i := range t.Columns {
		total += t.columnWidth(i)
	}
	return total
}

func (t *Table) columnWidth(column int) int {
	widest := displayWidth(t.Columns[column])
	for _, row := range t.Rows {
		widest = max(widest, displayWidth(printable(row[column].text)))
	}
	return widest
}

// Without gives the table without some columns; names it does not have are
// passed over.
func (t *Table) Without(columns ...string) *Table {
	left := &Table{Name: t.Name, Rows: make([][]Cell, len(t.Rows))}
	var kept []int
	for i, name := range t.Columns {
		if !slices.Contains(columns, name) {
			left.Columns, kept = append(left.Columns, name), append(kept, i)
		}
	}
	cells := make([]Cell, len(t.Rows)*len(kept)) // of all rows, one after the other
	for r, row := range t.Rows {
		left.Rows[r] = cells[r*len(kept):][:len(kept):len(kept)]
		for k, i := range kept {
			left.Rows[r][k] = row[i]
		}
	}
	return left
}

// Only gives the table with the named columns alone, in its own order.
func (t *Table) Only(columns ...string) *Table {
	var others []string
	for _, name := range t.Columns {
		if !slices.Contains(columns, name) {
			others = append(others, name)
		}
	}
	return t.Without(others...)
}

// leastCut is the width below which no cell is cut: less tells nothing.
const leastCut = 5

// Narrow gives the table with the cells of some columns cut, the widest column
// first, so that the text form takes no more than width where that can be. A
// cut cell keeps its beginning and its end around "…".
func (t *Table) Narrow(width int, columns ...string) *Table {
	over := t.Width() - width
	widths := map[int]int{}
	for i, name := range t.Columns {
		if slices.Contains(columns, name) {
			widths[i] = t.columnWidth(i)
		}
	}
	for ; over > 0; over-- {
		widest := -1
		for i, name := range t.Columns {
			if w := widths[i]; w > max(leastCut, displayWidth(name)) && (widest < 0 || w > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		widths[widest]--
	}
	cut := &Table{Name: t.Name, Columns: t.Columns}
	for _, row := range t.Rows {
		row = slices.Clone(row)
		for i, w := range widths {
			row[i].text = cutMiddle(row[i].text, w)
		}
		cut.Rows = append(cut.Rows, row)
	}
	return cut
}

// cutMiddle cuts s to a display width.
func cutMiddle(s string, width int) string {
	if displayWidth(printable(s)) <= width {
		return s
	}
	runes := []rune(printable(s))
	head, tail := width/2, width-1-width/2
	from, to := 0, len(runes)
	for from < to && displayWidth(string(runes[:from+1])) <= head {
		from++
	}
	for to > from && displayWidth(string(runes[to-1:])) <= tail {
		to--
	}
	return string(runes[:from]) + "…" + string(runes[to:])
}
