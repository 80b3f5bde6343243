package plots

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
	"wintertop/weather"
)

// Calendar draws which lines hold until when: ranked rows by weekly columns
// from as-of to the window's end, the joint odds printed in each cell as whole
// percent rounded down, the window and the verdicts marked. Rows of lines
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
		left: 110, right: 156, rowHeight: 31, cellHeight: 27}
	for i, name := range g.names {
		wide := max(strongText.room(name), tinyText.room(rowNote(p.Rows[i])))
		g.left = min(236, max(g.left, wide+nameLeft+10))
	}
	return g, nil
}

// nameLeft is where names stand beside the rank.
const nameLeft = margin + 24

// phoneCalendar is the same calendar for a narrow screen, without a heading:
// the names stand above their cells and the weeks are further apart.
func phoneCalendar(p *forecast.Picks) Chart {
	g := calendarGrid{picks: p, names: pickNames(p), dates: calendarDates(p, 11), width: 360,
		left: 4, right: 4, rowHeight: 62, cellHeight: 26, above: 32, bare: true}
	return g.chart()
}

// calendarGrid is the layout of a calendar.
type calendarGrid struct {
	picks                 *forecast.Picks
	names                 []string
	dates                 []weather.Date
	width, left, right    vg.Length
	rowHeight, cellHeight vg.Length
	bare                  bool      // without heading and foot, which the page sets itself
	above                 vg.Length // room for the name above a row's cells; 0: beside them
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
	c.height = calendarHead + g.rowHeight*vg.Length(len(p.Rows)) + 15*vg.Length(len(foot)) + 14
	c.draw = func(d draw.Canvas, top vg.Length) {
		if len(p.Rows) > 0 {
			g.header(d, top)
		}
		y := top - calendarHead
		for i := range p.Rows {
			g.row(d, i, y)
			y -= g.rowHeight
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

func (g calendarGrid) row(d draw.Canvas, i int, top vg.Length) {
	r := g.picks.Rows[i]
	verdict, until := verdictWords(g.picks, r)
	rank := strconv.Itoa(r.Rank)
	if g.above > 0 {
		room := strongText.room(verdict)
		write(d, bodyText, vg.Point{X: 22, Y: top - 14}, right, soft, rank)
		write(d, strongText, vg.Point{X: 28, Y: top - 14}, left, ink, strongText.cutName(g.names[i], g.width-28-room-24))
		verdictSign(d, r.Verdict, g.width-8-room-6, top-10)
		write(d, strongText, vg.Point{X: g.width - 8, Y: top - 14}, right, ink, verdict)
		write(d, tinyText, vg.Point{X: 28, Y: top - 27}, left, soft, tinyText.cut(rowNote(r), g.width/2-30))
		write(d, tinyText, vg.Point{X: g.width - 8, Y: top - 27}, right, soft, until)
		g.cells(d, r, top-g.above)
		return
	}
	mid := top - g.cellHeight/2
	write(d, bodyText, vg.Point{X: margin + 18, Y: mid - 4}, right, soft, rank)
	wide := g.left - nameLeft - 8
	name := strongText.wrapName(g.names[i], wide)
	note := rowNote(r)
	switch {
	case len(name) == 2:
		write(d, strongText, vg.Point{X: nameLeft, Y: mid + 3}, left, ink, name[0])
		write(d, strongText, vg.Point{X: nameLeft, Y: mid - 10}, left, ink, name[1])
	case note == "":
		write(d, strongText, vg.Point{X: nameLeft, Y: mid - 4}, left, ink, name[0])
	default:
		write(d, strongText, vg.Point{X: nameLeft, Y: mid + 2}, left, ink, name[0])
		write(d, tinyText, vg.Point{X: nameLeft, Y: mid - 9}, left, soft, tinyText.cut(note, wide))
	}
	g.cells(d, r, top)
	x := g.cellX(len(g.dates)) + 10
	verdictSign(d, r.Verdict, x+5, mid+6)
	write(d, strongText, vg.Point{X: x + 15, Y: mid + 2}, left, ink, verdict)
	write(d, tinyText, vg.Point{X: x + 15, Y: mid - 9}, left, soft, tinyText.cut(until, g.width-x-15-4))
}

// cells prints one row's odds.
func (g calendarGrid) cells(d draw.Canvas, r forecast.Pick, top vg.Length) {
	bottom := top - g.cellHeight
	if g.above == 0 {
		bottom = top - g.rowHeight
	}
	g.windowSides(d, top, bottom)
	for i, day := range g.dates {
		odds := math.NaN()
		for _, pd := range r.Dates {
			if pd.Date == day {
				odds = pd.All
				break
			}
		}
		x0, x1, y0 := g.cellX(i)+0.75, g.cellX(i+1)-0.75, top-g.cellHeight
		class := oddsClass(odds, g.picks.Assurance)
		l, t := smallText, onClass[max(class, 0)]
		switch {
		case class < 0:
			t = soft
		case r.Verdict == forecast.NotKnownYet:
			frameBox(d, axis, 0.7, x0+0.5, y0+0.5, x1-0.5, top-0.5)
			t = soft
		default:
			box(d, classes[class], x0, y0, x1, top)
			l.bold = class == len(classes)-1
		}
		write(d, l, vg.Point{X: (x0 + x1) / 2, Y: top - g.cellHeight/2 - 0.36*l.size}, middle, t, percent(odds))
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
