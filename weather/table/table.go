// Package table reads every CSV file that comes in and renders every table
// that goes out. It knows separators, encodings, headers and positions, and
// nothing about what a column means.
package table

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// Cell is one value of a result table. The zero Cell is blank.
type Cell struct {
	text   string
	number bool
}

// Blank gives an empty cell: null in JSON.
func Blank() Cell { return Cell{} }

// Text gives a cell of text; "" is blank.
func Text(s string) Cell { return Cell{text: s} }

// Num gives a number rounded to the given count of decimals, half to even in
// the exact binary value; NaN is blank. It panics on an infinite number, which
// no table can hold.
func Num(x float64, decimals int) Cell {
	if math.IsNaN(x) {
		return Blank()
	}
	if math.IsInf(x, 0) {
		panic("table: infinite number")
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if s[0] == '-' && onlyZeros(s[1:]) {
		s = s[1:]
	}
	return Cell{s, true}
}

func onlyZeros(s string) bool {
	for _, c := range s {
		if c != '0' && c != '.' {
			return false
		}
	}
	return true
}

// Int gives a whole number.
func Int(n int) Cell { return Cell{strconv.Itoa(n), true} }

// YesNo gives "yes" or "no".
func YesNo(yes bool) Cell {
	if yes {
		return Text("yes")
	}
	return Text("no")
}

// Table is one result: Name is the file's name without ".csv", Columns the
// header as the CSV has it, each row as wide as the header.
type Table struct {
	Name    string
	Columns []string
	Rows    [][]Cell
}

// New gives an empty table.
func New(name string, columns ...string) *Table {
	return &Table{Name: name, Columns: columns}
}

// Add appends one row. It panics where the row is not as wide as the header.
func (t *Table) Add(cells ...Cell) {
	if len(cells) != len(t.Columns) {
		panic(fmt.Sprintf("table: %s: row of %d cells under %d columns", t.Name, len(cells), len(t.Columns)))
	}
	t.Rows = append(t.Rows, cells)
}

// Only gives the table with the named columns alone, in the order that they
// have; names that it lacks are passed over.
func (t *Table) Only(columns ...string) *Table {
	short := &Table{Name: t.Name}
	for i, name := range t.Columns {
		if !slices.Contains(columns, name) {
			continue
		}
		short.Columns = append(short.Columns, name)
		for r, row := range t.Rows {
			if len(short.Rows) == r {
				short.Rows = append(short.Rows, nil)
			}
			short.Rows[r] = append(short.Rows[r], row[i])
		}
	}
	return short
}
