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
			whisker(c, n.tone, 1.1, 0, at, y(low), y(high))
		}
		glyph(c, n.sign, n.tone, at, y(v), r, true)
	}
}

// whisker draws an upright bar with ends so far to either side.
func whisker(c draw.Canvas, t tone, width, side, x, low, high vg.Length) {
	rule(c, t, width, nil, x, low, x, high)
	if side > 0 {
		rule(c, t, width, nil, x-side, low, x+side, low)
		rule(c, t, width, nil, x-side, high, x+side, high)
	}
}

// notedSign explains a note in a key.
func notedSign(sign int, t tone) func(c draw.Canvas, x, y vg.Length) {
	return func(c draw.Canvas, x, y vg.Length) {
		whisker(c, t, 1.1, 0, x+5, y-4, y+11)
		glyph(c, sign, t, x+5, y+3.5, 3.4, true)
	}
}

// mostBands is how many bands one panel can lay over another and still be read.
const mostBands = 2

// spans draws the interval of one of several lines of a panel as an upright
// bar in the middle of each month, beside those of the others.
type spans struct {
	f    leafFrame
	days []forecast.SeasonDay
	i, n int // this line, of so many
}

// Plot is part of plot.Plotter.
func (s spans) Plot(c draw.Canvas, p *plot.Plot) {
	const apart vg.Length = 7
	x, y := p.Transforms(&c)
	aside := apart * (vg.Length(s.i) - vg.Length(s.n-1)/2)
	for _, m := range months(s.f.from, s.f.to) {
		mid := m.from + (m.to-m.from)/2
		low, known := onDay(s.days, mid, leafLoG)
		high, also := onDay(s.days, mid, leafHiG)
		if known && also && s.f.shows(mid) {
			whisker(c, lines[s.i], 1.2, 2.2, x(float64(mid))+aside, y(low), y(high))
		}
	}
}
