package plots

import (
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
	"wintertop/weather"
)

// frame holds the scales that the panels of a leaf mass chart share.
type frame struct {
	season   *forecast.Season
	from, to weather.Date
	outlook  weather.Date // first day that was not observed; after to where there is none
	topG     float64      // upper end of the leaf mass scale
	ticks    []float64
	decimals int
	depthC   float64 // lowest canopy temperature on the scale of events
	compact  bool    // small panels
	yearless bool    // without years on the axis
}

func frameOf(s *forecast.Season, all []series) frame {
	f := frame{season: s, depthC: -10}
	f.from, f.to = s.Winter.FrostSeason()
	last := lastShown(s.Winter)
	f.to = min(f.to, last)
	top := s.GripG * 1.15
	started := false
	f.outlook = last + 1
	for _, l := range all {
		for _, d := range l.days {
			if d.Date > last {
				break
			}
			if !started || d.Date < f.from {
				f.from, started = d.Date, true
			}
			f.to = max(f.to, d.Date)
			if !d.Observed {
				f.outlook = min(f.outlook, d.Date)
			}
			for _, g := range []float64{d.LeafG, d.LeafHiG} {
				if finite(g) {
					top = max(top, g)
				}
			}
		}
		for _, n := range l.notes {
			if n.Date <= last {
				top = max(top, n.Value)
			}
		}
	}
	f.topG = top * 1.02
	f.ticks, f.decimals = ticks(f.topG, 5)
	for _, e := range s.Events {
		if finite(e.MinCanopyC) && e.MinCanopyC < f.depthC {
			f.depthC = 5 * math.Floor(e.MinCanopyC/5)
		}
	}
	return f
}

// small gives the frame of small panels: fewer ticks and smaller letters.
func (f frame) small() frame {
	f.compact = true
	f.ticks, f.decimals = ticks(f.topG, 4)
	return f
}

// panel draws lines with bands, notes, events and axes; r is the area of the
// leaf mass scale.
func (f frame) panel(d draw.Canvas, all []series, r vg.Rectangle) {
	p := plot.New()
	p.HideAxes()
	p.X.Padding, p.Y.Padding, p.BackgroundColor = 0, 0, nil
	p.Add(backdrop{f})
	for i, l := range all {
		for _, run := range f.runs(l.days) {
			p.Add(band(run, lines[i], len(all)))
		}
	}
	p.Add(threshold(f.season.GripG))
	for i, l := range all {
		for _, run := range f.runs(l.days) {
			p.Add(median(run, lines[i], dashes[i]))
		}
	}
	p.Add(weighed{all, f})
	f.scale(p)
	c := draw.Canvas{Canvas: d.Canvas, Rectangle: r}
	p.Draw(c)
	f.leafAxis(d, r)
	gap, height := f.strip()
	strip := vg.Rectangle{Min: vg.Point{X: r.Min.X, Y: r.Min.Y - gap - height}, Max: vg.Point{X: r.Max.X, Y: r.Min.Y - gap}}
	f.events(d, strip)
	f.monthAxis(d, strip)
}

func (f frame) scale(p *plot.Plot) {
	p.X.Min, p.X.Max = float64(f.from), float64(f.to)
	p.Y.Min, p.Y.Max = 0, f.topG
}

// x places a date between the sides of r, y a leaf mass between its bottom and
// top.
func (f frame) x(r vg.Rectangle, d float64) vg.Length {
	t := (d - float64(f.from)) / math.Max(1, float64(f.to-f.from))
	return r.Min.X + vg.Length(t)*(r.Max.X-r.Min.X)
}

func (f frame) y(r vg.Rectangle, g float64) vg.Length {
	return r.Min.Y + vg.Length(g/f.topG)*(r.Max.Y-r.Min.Y)
}

// runs cuts days into stretches that are wholly observed or wholly outlook and
// hold only numbers; an outlook starts at the last observed day.
func (f frame) runs(days []forecast.SeasonDay) [][]forecast.SeasonDay {
	var out [][]forecast.SeasonDay
	var run []forecast.SeasonDay
	flush := func() {
		if len(run) > 0 {
			out = append(out, run)
		}
		run = nil
	}
	for _, d := range days {
		if !finite(d.LeafG) || !finite(d.LeafLoG) || !finite(d.LeafHiG) || d.Date > f.to {
			flush()
			continue
		}
		if n := len(run); n > 0 && run[n-1].Observed != d.Observed {
			joint := run[n-1]
			flush()
			run = append(run, joint)
		}
		run = append(run, d)
	}
	flush()
	return out
}

func band(run []forecast.SeasonDay, t tone, together int) *plotter.Polygon {
	outline := make(plotter.XYs, 0, 2*len(run))
	for _, d := range run {
		outline = append(outline, plotter.XY{X: float64(d.Date), Y: d.LeafHiG})
	}
	for i := len(run) - 1; i >= 0; i-- {
		outline = append(outline, plotter.XY{X: float64(run[i].Date), Y: run[i].LeafLoG})
	}
	a := uint8(64)
	if together > 1 {
		a = 32
	}
	return &plotter.Polygon{XYs: []plotter.XYs{outline}, Color: t.alpha(a)}
}

func median(run []forecast.SeasonDay, t tone, dash []vg.Length) *plotter.Line {
	pts := make(plotter.XYs, len(run))
	for i, d := range run {
		pts[i] = plotter.XY{X: float64(d.Date), Y: d.LeafG}
	}
	w := vg.Length(2.4)
	if !run[len(run)-1].Observed {
		w = 1.5
	}
	return &plotter.Line{XYs: pts, LineStyle: draw.LineStyle{Color: t.paper, Width: w, Dashes: dash}}
}

// threshold draws the grip mass.
type threshold float64

// Plot is part of plot.Plotter.
func (t threshold) Plot(c draw.Canvas, p *plot.Plot) {
	_, y := p.Transforms(&c)
	rule(c, ink, 1, []vg.Length{4, 3}, c.Min.X, y(float64(t)), c.Max.X, y(float64(t)))
}

// backdrop draws the outlook's ground, the grid and the as-of day.
type backdrop struct{ f frame }

// Plot is part of plot.Plotter.
func (b backdrop) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	if b.f.outlook <= b.f.to {
		box(c, wash, x(float64(max(b.f.outlook-1, b.f.from))), c.Min.Y, c.Max.X, c.Max.Y)
	}
	for _, g := range b.f.ticks {
		rule(c, grid, 0.7, nil, c.Min.X, y(g), c.Max.X, y(g))
	}
	for _, m := range months(b.f.from, b.f.to) {
		if m.from > b.f.from {
			rule(c, grid, 0.7, nil, x(float64(m.from)), c.Min.Y, x(float64(m.from)), c.Max.Y)
		}
	}
	if b.f.shows(b.f.season.AsOf) {
		at := x(float64(b.f.season.AsOf))
		rule(c, ink, 1, nil, at, c.Min.Y, at, c.Max.Y)
	}
}

func (f frame) shows(d weather.Date) bool { return d >= f.from && d <= f.to }

// weighed draws the notes of leaf mass as they were weighed.
type weighed struct {
	all []series
	f   frame
}

// Plot is part of plot.Plotter.
func (w weighed) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	r := vg.Length(3.4)
	if w.f.compact {
		r = 2.6
	}
	for i, l := range w.all {
		for _, n := range l.notes {
			if w.f.shows(n.Date) {
				glyph(c, i, lines[i], x(float64(n.Date)), y(n.Value), r, true)
			}
		}
	}
}
