package plots

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
	"wintertop/weather"
)

// Calendar draws which lines hold until when: ranked rows by weekly columns
// from as-of to the window's end, the joint odds printed in each cell as whole
// percent rounded down, the window and the verdicts marked. Of many rows the
// first by rank and the checks are large, the others compact. Rows of lines
// without notes are outlined, not filled. It gives an error where the window
// ends before as-of.
func Calendar(p *forecast.Picks) (Chart, error) {
	g, err := wideCalendar(p)
	if err != nil {
		return Chart{}, err
	}
	return g.chart(), nil
}

// wideCalendar lays out a calendar with the names beside their cells.
func wideCalendar(p *forecast.Picks) (calendarGrid, error) {
	if p.AsOf > p.To {
		return calendarGrid{}, fmt.Errorf("no calendar: the window ends on %s, before %s", p.To, p.AsOf)
	}
	g := calendarGrid{picks: p, names: pickNames(p), dates: calendarDates(p, 20), width: 900,
		left: 110, right: 156, large: rowShape{row: 31, cell: 27}, compact: rowShape{row: 18, cell: 16.5, compact: true}}
	for i, name := range g.names {
		wide := max(strongText.room(name), tinyText.room(rowNote(p.Rows[i])))
		g.left = min(262, max(g.left, wide+nameLeft+10))
	}
	for _, name := range g.names {
		if len(g.wrapped(name)) > 1 {
			g.large = rowShape{row: 42, cell: 38}
		}
	}
	return g, nil
}

// nameLeft is where names stand beside the rank.
const nameLeft = margin + 24

// phoneCalendar is the same calendar for a narrow screen, without a heading:
// the names stand above their cells and the weeks are further apart.
func phoneCalendar(p *forecast.Picks) Chart {
	g := calendarGrid{picks: p, names: pickNames(p), dates: calendarDates(p, 11), width: 360,
		left: 4, right: 4, large: rowShape{row: 62, cell: 26, above: 32}, compact: rowShape{row: 40, cell: 18, above: 19, compact: true}, bare: true}
	return g.chart()
}

// calendarGrid is the layout of a calendar.
type calendarGrid struct {
	picks              *forecast.Picks
	names              []string
	dates              []weather.Date
	width, left, right vg.Length
	large, compact     rowShape
	bare               bool // without heading and foot, which the page sets itself
}

const calendarHead vg.Length = 58

func (g calendarGrid) chart() Chart {
	p := g.picks
	c := Chart{
		Title:   "Which lines hold until when?",
		Finding: pickFinding(p, g.names),
		Desc:    pickDesc(p, g.names),
		width:   g.width,
		keys:    g.keys(),
		bare:    g.bare,
	}
	var foot []string
	if !c.bare {
		foot = smallText.wrap(oddsWords(p), c.width-2*margin, 8)
	}
	c.height = calendarHead + 15*vg.Length(len(foot)) + 14
	for i := range p.Rows {
		c.height += g.shape(i).row
	}
	c.draw = func(d draw.Canvas, top vg.Length) {
		if len(p.Rows) > 0 {
			g.header(d, top)
		}
		y := top - calendarHead
		for i := range p.Rows {
			g.row(d, i, y)
			y -= g.shape(i).row
		}
		for i, line := range foot {
			write(d, smallText, vg.Point{X: margin, Y: y - 15*vg.Length(i+1)}, left, soft, line)
		}
	}
	return c
}

// calendarDates gives as-of, the days a whole number of weeks from the
// window's first day, and the window's last day; the weeks are thinned until
// at most most columns remain.
func calendarDates(p *forecast.Picks, most int) []weather.Date {
	for weeks := 1; ; weeks++ {
		step := weather.Date(7 * weeks)
		out := []weather.Date{p.AsOf}
		first := p.From - (p.From-p.AsOf)/step*step
		for d := first; d < p.To; d += step {
			near := d-p.AsOf < 4 || p.To-d < 4
			if d > p.AsOf && (!near || d == p.From) {
				out = append(out, d)
			}
		}
		if p.To > p.AsOf {
			out = append(out, p.To)
		}
		if len(out) <= most {
			return out
		}
	}
}

func (g calendarGrid) cellWidth() vg.Length {
	return min(44, (g.width-g.left-g.right)/vg.Length(len(g.dates)))
}

func (g calendarGrid) cellX(i int) vg.Length { return g.left + g.cellWidth()*vg.Length(i) }

// window gives the columns of the window.
func (g calendarGrid) window() (from, to int) {
	from = len(g.dates)
	for i, d := range g.dates {
		if d >= g.picks.From && i < from {
			from = i
		}
	}
	return from, len(g.dates)
}

func (g calendarGrid) header(d draw.Canvas, top vg.Length) {
	from, to := g.window()
	x0, x1 := g.cellX(from), g.cellX(to)
	top -= 6
	y := top - 14
	words := "window " + dayMonth(g.picks.From) + "–" + dayMonth(g.picks.To)
	l := smallText
	room := l.room(words)
	at := min(max((x0+x1)/2, g.left+room/2), g.width-margin-room/2)
	write(d, l, vg.Point{X: at, Y: y + 3}, middle, ink, words)
	rule(d, ink, 1.2, nil, x0, y-2, x1, y-2)
	g.windowSides(d, y-2, top+6-calendarHead)
	write(d, l, vg.Point{X: g.left + 2, Y: top - 26}, left, soft, g.asOfHead(x0))
	shown := ""
	for i, day := range g.dates {
		date, month, _ := strings.Cut(dayMonth(day), " ")
		x := g.cellX(i) + g.cellWidth()/2
		if month != shown {
			write(d, l, vg.Point{X: x, Y: top - 37}, middle, soft, month)
		}
		shown = month
		write(d, l, vg.Point{X: x, Y: top - 48}, middle, ink, date)
	}
}

// asOfHead says where the first column stands, if it fits before the window.
func (g calendarGrid) asOfHead(x0 vg.Length) string {
	words := "as of " + fullDate(g.picks.AsOf)
	if g.left+smallText.room(words) > x0 {
		return ""
	}
	return words
}

// windowSides draws the sides of the window from top to bottom.
func (g calendarGrid) windowSides(d draw.Canvas, top, bottom vg.Length) {
	from, to := g.window()
	for _, i := range []int{from, to} {
		rule(d, ink, 1.2, nil, g.cellX(i), top, g.cellX(i), bottom)
	}
}

// verdictSign draws a full, half or empty square or a question mark's place.
func verdictSign(d draw.Canvas, v forecast.Verdict, x, y vg.Length) {
	const r vg.Length = 4.5
	switch v {
	case forecast.Hold:
		box(d, ink, x-r, y-r, x+r, y+r)
	case forecast.LiftEarly:
		box(d, ink, x-r, y-r, x, y+r)
	case forecast.NotKnownYet:
		write(d, strongText, vg.Point{X: x, Y: y - 4}, middle, ink, "?")
		return
	}
	frameBox(d, ink, 1, x-r, y-r, x+r, y+r)
}
