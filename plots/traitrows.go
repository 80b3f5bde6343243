package plots

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

const (
	traitHead vg.Length = 58
	narrowMid vg.Length = 25 // from a narrow row's top to its marks
)

func (g traitLayout) chart() Chart {
	c := Chart{Title: "What is each line like?", Finding: g.finding(), Desc: g.desc(), width: g.width, bare: g.bare, keys: g.keys()}
	var foot []string
	if !g.bare {
		foot = smallText.wrap(traitFoot, c.width-2*margin, 4)
	}
	c.height = traitHead + g.step*vg.Length(len(g.rows)) + 15*vg.Length(len(foot)) + margin
	c.draw = func(d draw.Canvas, top vg.Length) {
		y := top - traitHead
		bottom := y - g.step*vg.Length(len(g.rows))
		for i, r := range g.rows {
			if r.check {
				box(d, wash, 0, y-g.step*vg.Length(i+1)+1, g.width, y-g.step*vg.Length(i)-1)
			}
		}
		for i, col := range g.columns {
			g.head(d, col, top, bottom, i)
		}
		for i, r := range g.rows {
			g.row(d, r, y-g.step*vg.Length(i))
		}
		for i, line := range foot {
			write(d, smallText, vg.Point{X: margin, Y: bottom - 15*vg.Length(i+1)}, left, soft, line)
		}
	}
	return c
}

// head names a column, its steps, and draws the checks' values down to the
// bottom.
func (g traitLayout) head(d draw.Canvas, c traitColumn, top, bottom vg.Length, i int) {
	y := top - traitHead
	write(d, strongText, vg.Point{X: c.x, Y: top - 14}, left, ink, c.head)
	if g.narrow {
		write(d, tinyText, vg.Point{X: c.x, Y: top - 27}, left, soft, []string{"1: standard", "cm", "°C, hardier right"}[i])
	} else {
		write(d, smallText, vg.Point{X: c.x, Y: top - 28}, left, soft, c.unit)
	}
	decimals := max(0, -int(math.Floor(math.Log10(c.ticks[1]-c.ticks[0])+1e-9)))
	each, room := 1, vg.Length(0)
	for _, t := range c.ticks {
		room = max(room, tinyText.room(number(t, decimals)))
	}
	for vg.Length(each)*c.lane/vg.Length(len(c.ticks)-1) < room+2 {
		each++
	}
	for k := 0; k < len(c.ticks); k += each {
		write(d, tinyText, vg.Point{X: c.at0(c.ticks[k]), Y: y + 6}, middle, soft, number(c.ticks[k], decimals))
	}
	if !g.narrow {
		g.uprights(d, c, y, bottom)
		return
	}
	for row := range g.rows {
		mid := y - g.step*vg.Length(row) - narrowMid
		g.uprights(d, c, mid+7, mid-7)
	}
}

// uprights draws the steps of a column and the values of few checks.
func (g traitLayout) uprights(d draw.Canvas, c traitColumn, top, bottom vg.Length) {
	for _, t := range c.ticks {
		rule(d, grid, 0.7, nil, c.at0(t), top, c.at0(t), bottom)
	}
	for _, r := range g.shownChecks() {
		if v, _ := c.of(r.learned); finite(v) {
			rule(d, axis, 1, []vg.Length{4, 3}, c.at0(v), top, c.at0(v), bottom)
		}
	}
}

// shownChecks gives the checks whose values run down the columns, none where
// there are many.
func (g traitLayout) shownChecks() []traitRow {
	const most = 3
	var out []traitRow
	for _, r := range g.rows {
		if r.check && !r.assumed {
			out = append(out, r)
		}
	}
	if len(out) > most {
		return nil
	}
	return out
}

func (g traitLayout) row(d draw.Canvas, r traitRow, top vg.Length) {
	mid := top - g.step/2
	basis := r.basis()
	name := strongText
	if g.step < 24 {
		name = smallText
	}
	switch {
	case g.narrow:
		room := tinyText.room(basis)
		write(d, strongText, vg.Point{X: 12, Y: top - 14}, left, ink, strongText.cutName(r.name, g.width-room-34))
		write(d, tinyText, vg.Point{X: g.width - 8, Y: top - 14}, right, soft, basis)
		mid = top - narrowMid
	case g.step >= 30:
		wrapped := r.wrapped(g)
		y := mid + 2 + 6.5*vg.Length(len(wrapped)-1)
		for _, line := range wrapped {
			write(d, name, vg.Point{X: margin, Y: y}, left, ink, line)
			y -= 13
		}
		write(d, tinyText, vg.Point{X: margin, Y: y + 2}, left, soft, basis)
	default:
		end := g.columns[0].x - 12
		word := r.word()
		if word != "" {
			write(d, tinyText, vg.Point{X: end, Y: mid - 3.5}, right, soft, word)
			end -= tinyText.room(word) + 6
		}
		write(d, name, vg.Point{X: margin, Y: mid - 3.5}, left, ink, name.cutName(r.name, end-margin))
	}
	for _, c := range g.columns {
		v, sd := c.of(r.learned)
		if !finite(v) || !finite(sd) {
			continue
		}
		r.mark(d, c, v, sd, mid)
		words := number(v, c.decimals) + " ± " + number(sd, c.decimals)
		if g.narrow {
			write(d, tinyText, vg.Point{X: c.x, Y: top - 42}, left, ink, words)
		} else {
			write(d, tinyText, vg.Point{X: c.x + c.lane + 7, Y: mid - 3.5}, left, ink, words)
		}
	}
}

// mark draws a value with one and two standard deviations, hollow and dashed
// where it is assumed.
func (r traitRow) mark(d draw.Canvas, c traitColumn, v, sd float64, y vg.Length) {
	t := lines[0]
	a2, b2 := c.at0(c.at(v, sd, -2)), c.at0(c.at(v, sd, 2))
	a1, b1 := c.at0(c.at(v, sd, -1)), c.at0(c.at(v, sd, 1))
	if r.assumed {
		rule(d, soft, 1, []vg.Length{2, 2}, min(a2, b2), y, max(a2, b2), y)
		frameBox(d, soft, 1, min(a1, b1), y-3, max(a1, b1), y+3)
		glyph(d, 0, soft, c.at0(v), y, 3.4, true)
		return
	}
	rule(d, t, 1, nil, a2, y, b2, y)
	d.FillPolygon(t.alpha(96), []vg.Point{{X: a1, Y: y - 3}, {X: b1, Y: y - 3}, {X: b1, Y: y + 3}, {X: a1, Y: y + 3}})
	glyph(d, r.sign(), t, c.at0(v), y, 3.6, false)
}

// sign is a diamond for checks, a dot for the others.
func (r traitRow) sign() int {
	if r.check {
		return 3
	}
	return 0
}

// word says shortly what is special about a line.
func (r traitRow) word() string {
	switch {
	case r.check && r.assumed:
		return "check, assumed"
	case r.check:
		return "check"
	case r.assumed:
		return "assumed"
	}
	return ""
}

func (r traitRow) basis() string {
	words := counted(r.notes, "note") + ", " + counted(r.winters, "winter")
	if r.assumed {
		words = "assumed, no notes"
	}
	if r.check {
		words = "check; " + words
	}
	return words
}

// keys explains the signs of a traits chart.
func (g traitLayout) keys() []key {
	if len(g.rows) == 0 {
		return nil
	}
	bar := func(r traitRow) func(c draw.Canvas, x, y vg.Length) {
		return func(c draw.Canvas, x, y vg.Length) {
			r.mark(c, traitColumn{at: plainOff, left: -2, right: 2, x: x, lane: 36}, 0, 1, y+3.5)
		}
	}
	var out []key
	if slices.ContainsFunc(g.rows, func(r traitRow) bool { return !r.assumed }) {
		out = append(out, key{bar(traitRow{}), 36, "from notes: value, ±1 and ±2 SD"})
	}
	if slices.ContainsFunc(g.rows, func(r traitRow) bool { return r.assumed }) {
		out = append(out, key{bar(traitRow{assumed: true}), 36, "assumed, no notes"})
	}
	if slices.ContainsFunc(g.rows, func(r traitRow) bool { return r.check && !r.assumed }) {
		words := "check"
		if len(g.shownChecks()) > 0 {
			words = "check, its value also dashed for the others"
		}
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) { glyph(c, 3, lines[0], x+5, y+3.5, 3.6, false) }, 10, words})
	}
	return out
}
