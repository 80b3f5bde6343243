package plots

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// rowShape is how high a row of a calendar is.
type rowShape struct {
	row, cell vg.Length
	above     vg.Length // room for the name above a row's cells; 0: beside them
	compact   bool      // in one line
}

// text letters the odds of a row.
func (s rowShape) text() lettering {
	if s.compact {
		return tinyText
	}
	return smallText
}

// lift is how far above the middle of a row its verdict's sign stands.
func (s rowShape) lift() vg.Length {
	if s.compact {
		return 0
	}
	return 6
}

// shape gives the form of row i: of many the first by rank and the checks are
// large.
func (g calendarGrid) shape(i int) rowShape {
	if isBrief(g.picks, i) {
		return g.compact
	}
	return g.large
}

// isBrief says whether row i is one of those that are shown in brief.
func isBrief(p *forecast.Picks, i int) bool {
	return len(p.Rows) > 2*mostLarge && i >= largeOfMany && p.Rows[i].Kind != "check"
}

// wrapped gives a name in the lines that fit beside the cells.
func (g calendarGrid) wrapped(name string) []string {
	return strongText.wrapName(name, g.left-nameLeft-8)
}

func (g calendarGrid) row(d draw.Canvas, i int, top vg.Length) {
	r := g.picks.Rows[i]
	verdict, until := verdictWords(g.picks, r)
	rank := strconv.Itoa(r.Rank)
	shape := g.shape(i)
	if shape.above > 0 {
		if shape.compact {
			verdict = compactVerdict(r, verdict)
		}
		room := strongText.room(verdict)
		write(d, bodyText, vg.Point{X: 22, Y: top - 14}, right, soft, rank)
		write(d, strongText, vg.Point{X: 28, Y: top - 14}, left, ink, strongText.cutName(g.names[i], g.width-28-room-24))
		verdictSign(d, r.Verdict, g.width-8-room-6, top-10)
		write(d, strongText, vg.Point{X: g.width - 8, Y: top - 14}, right, ink, verdict)
		if !shape.compact {
			write(d, tinyText, vg.Point{X: 28, Y: top - 27}, left, soft, tinyText.cut(rowNote(r), g.width/2-30))
			write(d, tinyText, vg.Point{X: g.width - 8, Y: top - 27}, right, soft, until)
		}
		g.cells(d, r, top, shape)
		return
	}
	mid := top - shape.cell/2
	x := g.cellX(len(g.dates)) + 10
	g.cells(d, r, top, shape)
	verdictSign(d, r.Verdict, x+5, mid+shape.lift())
	if shape.compact {
		write(d, smallText, vg.Point{X: margin + 18, Y: mid - 4}, right, soft, rank)
		write(d, smallText, vg.Point{X: nameLeft, Y: mid - 4}, left, ink, smallText.cutName(g.names[i], g.left-nameLeft-8))
		write(d, smallText, vg.Point{X: x + 15, Y: mid - 4}, left, ink, compactVerdict(r, verdict))
		return
	}
	write(d, bodyText, vg.Point{X: margin + 18, Y: mid - 4}, right, soft, rank)
	name, note := g.wrapped(g.names[i]), rowNote(r)
	y := mid + 2 + 6.5*vg.Length(len(name)-1)
	if note == "" {
		y -= 6
	}
	for _, line := range name {
		write(d, strongText, vg.Point{X: nameLeft, Y: y}, left, ink, line)
		y -= 13
	}
	write(d, tinyText, vg.Point{X: nameLeft, Y: y + 2}, left, soft, tinyText.cut(note, g.left-nameLeft-8))
	write(d, strongText, vg.Point{X: x + 15, Y: mid + 2}, left, ink, verdict)
	write(d, tinyText, vg.Point{X: x + 15, Y: mid - 9}, left, soft, tinyText.cut(until, g.width-x-15-4))
}

// compactVerdict gives a verdict and its date in one line.
func compactVerdict(r forecast.Pick, verdict string) string {
	if r.Verdict == forecast.LiftEarly {
		return verdict + ", " + dayMonth(r.HoldsUntil)
	}
	return verdict
}

// cells prints one row's odds.
func (g calendarGrid) cells(d draw.Canvas, r forecast.Pick, top vg.Length, shape rowShape) {
	bottom := top - shape.row
	if shape.above > 0 {
		bottom = top - shape.above - shape.cell
	}
	top -= shape.above
	g.windowSides(d, top, bottom)
	for i, day := range g.dates {
		odds := math.NaN()
		for _, pd := range r.Dates {
			if pd.Date == day {
				odds = pd.All
				break
			}
		}
		x0, x1, y0 := g.cellX(i)+0.75, g.cellX(i+1)-0.75, top-shape.cell
		class := oddsClass(odds, g.picks.Assurance)
		l, t := shape.text(), onClass[max(class, 0)]
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
		write(d, l, vg.Point{X: (x0 + x1) / 2, Y: top - shape.cell/2 - 0.36*l.size}, middle, t, percent(odds))
	}
}
