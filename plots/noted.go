package plots

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// noted draws notes of one planting as hollow signs with what they leave in
// doubt, at the place on the scale that at gives a noted value.
type noted struct {
	f     frame
	notes []forecast.NotePoint
	at    func(value float64) float64
	sign  int // of glyphs
	tone  tone
}

// Plot is part of plot.Plotter.
func (n noted) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	r := vg.Length(3.4)
	if n.f.compact {
		r = 2.6
	}
	for _, note := range n.notes {
		v := n.at(note.Value)
		if !n.f.shows(note.Date) || !finite(v) {
			continue
		}
		at := x(float64(note.Date))
		if low, high := n.at(note.Low), n.at(note.High); finite(low) && finite(high) {
			rule(c, n.tone, 1.1, nil, at, y(low), at, y(high))
		}
		glyph(c, n.sign, n.tone, at, y(v), r, true)
	}
}

// notedSign explains a note in a key.
func notedSign(sign int, t tone) func(c draw.Canvas, x, y vg.Length) {
	return func(c draw.Canvas, x, y vg.Length) {
		rule(c, t, 1.1, nil, x+5, y-4, x+5, y+11)
		glyph(c, sign, t, x+5, y+3.5, 3.4, true)
	}
}

// mostBands is how many bands one panel can lay over another and still be read.
const mostBands = 2

// spans draws the interval of one of several lines of a panel as a pale bar in
// the middle of each month, beside those of the others.
type spans struct {
	f    leafFrame
	days []forecast.SeasonDay
	i, n int // this line, of so many
}

// Plot is part of plot.Plotter.
func (s spans) Plot(c draw.Canvas, p *plot.Plot) {
	const apart vg.Length = 8
	x, y := p.Transforms(&c)
	aside := apart * (vg.Length(s.i) - vg.Length(s.n-1)/2)
	for _, m := range months(s.f.from, s.f.to) {
		mid := m.from + (m.to-m.from)/2
		low, known := onDay(s.days, mid, leafLoG)
		high, also := onDay(s.days, mid, leafHiG)
		if known && also && s.f.shows(mid) {
			at := x(float64(mid)) + aside
			bar(c, lines[s.i], at, y(low), y(high))
			glyph(c, s.i, lines[s.i], at, y(high), 2.2, false)
		}
	}
}

// bar draws an interval as a pale upright bar.
func bar(c draw.Canvas, t tone, x, low, high vg.Length) {
	const half vg.Length = 2.5
	c.FillPolygon(t.alpha(96), []vg.Point{{X: x - half, Y: low}, {X: x + half, Y: low}, {X: x + half, Y: high}, {X: x - half, Y: high}})
}
