package plots

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// strip gives the height of the strip of freezing events, and of the gap
// between it and the panel.
func (f frame) strip() (gap, height vg.Length) {
	if f.compact {
		return 4, 16
	}
	return 24, 40
}

// uprightAxis prints the scale left of r.
func (f frame) uprightAxis(d draw.Canvas, r vg.Rectangle) {
	l := smallText
	if f.compact {
		l = tinyText
	}
	for _, g := range f.ticks {
		write(d, l, vg.Point{X: r.Min.X - 6, Y: f.y(r, g) - 0.35*l.size}, right, soft, f.print(g))
	}
	rule(d, axis, 1, nil, r.Min.X, r.Min.Y, r.Max.X, r.Min.Y)
}

// events hangs the freezing events from the top of the strip r, as deep as
// their coldest canopy temperature.
func (f frame) events(d draw.Canvas, r vg.Rectangle) {
	l := smallText
	if f.compact {
		l = tinyText
	} else {
		words := "Freezing events: canopy temperature at their coldest, °C"
		if len(f.season.Events) == 0 {
			words = eventSentence(f.season)
		}
		write(d, l, vg.Point{X: r.Min.X, Y: r.Max.Y + 5}, left, soft, words)
	}
	depth := func(c float64) vg.Length {
		return r.Max.Y - vg.Length(math.Min(0, c)/f.depthC)*(r.Max.Y-r.Min.Y)
	}
	rule(d, axis, 0.7, nil, r.Min.X, r.Max.Y, r.Max.X, r.Max.Y)
	rule(d, grid, 0.7, nil, r.Min.X, r.Min.Y, r.Max.X, r.Min.Y)
	for _, c := range []float64{0, f.depthC} {
		if c == 0 && f.compact {
			continue
		}
		write(d, l, vg.Point{X: r.Min.X - 6, Y: depth(c) - 0.35*l.size}, right, soft, number(c, 0))
	}
	for _, e := range f.season.Events {
		if !f.shows(e.Start.Date) || !finite(e.MinCanopyC) {
			continue
		}
		x0, x1 := f.x(r, float64(e.Start.Date)+float64(e.Start.Hour)/24), f.x(r, float64(e.End.Date)+float64(e.End.Hour)/24)
		if e.Open {
			x1 = f.x(r, float64(min(f.season.AsOf+1, f.to)))
		}
		x1 = min(max(x1, x0+1.4), r.Max.X)
		box(d, frost, x0, depth(e.MinCanopyC), x1, r.Max.Y)
	}
}

// monthAxis names months and years below r.
func (f frame) monthAxis(d draw.Canvas, r vg.Rectangle) {
	l := smallText
	if f.compact {
		l = tinyText
	}
	y := r.Min.Y - 4
	all := months(f.from, f.to)
	year := 0
	for _, m := range all {
		x0, x1 := f.x(r, float64(m.from)), f.x(r, float64(min(m.to, f.to)))
		rule(d, axis, 0.7, nil, x0, r.Min.Y, x0, y)
		name := m.name
		if l.room(name) > x1-x0 {
			name = name[:1]
		}
		if l.room(name) <= x1-x0+2 {
			write(d, l, vg.Point{X: (x0 + x1) / 2, Y: y - l.size + 1}, middle, soft, name)
		}
		if m.year != year && r.Max.X-x0 > l.room("2000") {
			write(d, l, vg.Point{X: x0, Y: y - 2*l.size - 2}, left, soft, strconv.Itoa(m.year))
		}
		year = m.year
	}
}
