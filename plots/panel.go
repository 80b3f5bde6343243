package plots

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
	"wintertop/weather"
)

// frame holds the scales that the panels of one chart of a season share.
type frame struct {
	season   *forecast.Season
	from, to weather.Date
	outlook  weather.Date // first day that was not observed; after to where there is none
	// the days of a short-range forecast; 0 where there is none
	aheadFrom, aheadTo weather.Date
	scale
	depthC  float64 // lowest canopy temperature on the scale of events
	compact bool    // small panels
}

// scale is the upright scale of a panel, from 0 to top.
type scale struct {
	top   float64
	ticks []float64
	print func(float64) string
	limit float64 // a threshold, drawn across; NaN for none
}

// frameOf gives the days that the panels of a season show, without an upright
// scale.
func frameOf(s *forecast.Season, all []series) frame {
	f := frame{season: s, depthC: -10}
	f.from, f.to = s.Winter.FrostSeason()
	last := lastShown(s.Winter)
	f.to = min(f.to, last)
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
			if d.Weather == forecast.WeatherAhead {
				if f.aheadTo == 0 {
					f.aheadFrom = d.Date
				}
				f.aheadTo = max(f.aheadTo, d.Date)
			}
		}
	}
	for _, e := range s.Events {
		if finite(e.MinCanopyC) && e.MinCanopyC < f.depthC {
			f.depthC = 5 * math.Floor(e.MinCanopyC/5)
		}
	}
	return f
}

// small gives the frame of small panels: smaller letters.
func (f frame) small() frame {
	f.compact = true
	return f
}

// panel draws what stands in it over the ground, the grid and the limit; r is
// the area of the upright scale.
func (f frame) panel(d draw.Canvas, r vg.Rectangle, under, over []plot.Plotter) {
	p := plot.New()
	p.X.Min, p.X.Max = float64(f.from), float64(f.to)
	p.Y.Min, p.Y.Max = 0, f.top
	c := draw.Canvas{Canvas: d.Canvas, Rectangle: r}
	parts := slices.Concat([]plot.Plotter{backdrop{f}}, under, []plot.Plotter{threshold(f.limit)}, over)
	for _, part := range parts {
		part.Plot(c, p) // not by plot.Draw, which measures every sign to leave room that is left here already
	}
	f.uprightAxis(d, r)
}

// x places a date between the sides of r, y a value between its bottom and
// top.
func (f frame) x(r vg.Rectangle, d float64) vg.Length {
	t := (d - float64(f.from)) / math.Max(1, float64(f.to-f.from))
	return r.Min.X + vg.Length(t)*(r.Max.X-r.Min.X)
}

func (f frame) y(r vg.Rectangle, value float64) vg.Length {
	return r.Min.Y + vg.Length(value/f.top)*(r.Max.Y-r.Min.Y)
}

// reading takes one quantity of a day.
type reading func(forecast.SeasonDay) float64

// runs cuts days into stretches that are wholly observed or wholly outlook and
// whose readings are all numbers; an outlook starts at the last observed day.
func (f frame) runs(days []forecast.SeasonDay, readings ...reading) [][]forecast.SeasonDay {
	var out [][]forecast.SeasonDay
	var run []forecast.SeasonDay
	flush := func() {
		if len(run) > 0 {
			out = append(out, run)
		}
		run = nil
	}
	for _, d := range days {
		known := d.Date <= f.to
		for _, of := range readings {
			known = known && finite(of(d))
		}
		if !known {
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

// between fills the area between two readings of a run.
func between(run []forecast.SeasonDay, low, high reading, c color.Color) *plotter.Polygon {
	outline := make(plotter.XYs, 0, 2*len(run))
	for _, d := range run {
		outline = append(outline, plotter.XY{X: float64(d.Date), Y: high(d)})
	}
	for i := len(run) - 1; i >= 0; i-- {
		outline = append(outline, plotter.XY{X: float64(run[i].Date), Y: low(run[i])})
	}
	return &plotter.Polygon{XYs: []plotter.XYs{outline}, Color: c}
}

// curve draws a reading of a run, thinner in the outlook.
func curve(run []forecast.SeasonDay, of reading, t tone, dash []vg.Length) *plotter.Line {
	pts := make(plotter.XYs, len(run))
	for i, d := range run {
		pts[i] = plotter.XY{X: float64(d.Date), Y: of(d)}
	}
	w := vg.Length(2.4)
	if !run[len(run)-1].Observed {
		w = 1.5
	}
	return &plotter.Line{XYs: pts, LineStyle: draw.LineStyle{Color: t.paper, Width: w, Dashes: dash}}
}

// threshold draws a limit across the panel.
type threshold float64

// Plot is part of plot.Plotter.
func (t threshold) Plot(c draw.Canvas, p *plot.Plot) {
	if !finite(float64(t)) {
		return
	}
	_, y := p.Transforms(&c)
	rule(c, ink, 1, []vg.Length{4, 3}, c.Min.X, y(float64(t)), c.Max.X, y(float64(t)))
}

// aheadBar is the height of the bar under the days of a short-range forecast.
const aheadBar vg.Length = 3.5

// aheadKey explains that bar where there is one.
func (f frame) aheadKey() []key {
	if f.aheadTo == 0 {
		return nil
	}
	return []key{{func(c draw.Canvas, x, y vg.Length) { box(c, ink, x, y+2, x+10, y+2+aheadBar) }, 10, "days of the weather forecast given"}}
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
	if b.f.aheadTo > 0 {
		box(c, ink, x(float64(b.f.aheadFrom-1)), c.Min.Y, x(float64(b.f.aheadTo)), c.Min.Y+aheadBar)
	}
	if b.f.shows(b.f.season.AsOf) {
		at := x(float64(b.f.season.AsOf))
		rule(c, ink, 1, nil, at, c.Min.Y, at, c.Max.Y)
	}
}

func (f frame) shows(d weather.Date) bool { return d >= f.from && d <= f.to }
