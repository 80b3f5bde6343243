package plots

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// LeafMass draws how much leaf is left: leaf mass in fresh g per plant by line
// through one season, median and 5–95 % band (of three and four lines in one
// panel as bars, since bands would hide one another), observed days apart from the
// outlook, notes as weighed with their doubt, freezing events below, the mass that the belts
// grip as a line. Up to four plantings share one panel; more get a panel each
// on shared scales; of more than twelve the checks and those with most leaf at
// the winter low do, and the others a row of a table each. A season without
// plantings gives a chart that says so.
func LeafMass(s *forecast.Season) Chart {
	c, f, all := leafChart(s)
	switch {
	case len(all) == 0:
		c.height = 40
		c.draw = func(draw.Canvas, vg.Length) {}
	case len(all) <= maxTogether:
		c.onePanel(f, all)
	default:
		large, rest := largest(s, all)
		c.panelGrid(f, large, rest)
	}
	return c
}

// leafPanel draws one planting of a season on the scales of the whole season,
// small enough for a phone and without a heading.
func leafPanel(s *forecast.Season, i int) Chart {
	c, f, all := leafChart(s)
	l := all[i]
	c.Title = "How much leaf is left of " + l.name + "?"
	c.Finding = leafSentence(s, l)
	c.Desc = c.Finding
	c.bare = true
	c.keys = nil
	c.width = 360
	f = f.small()
	const height = 176
	c.height = height
	c.draw = func(d draw.Canvas, top vg.Length) {
		r := vg.Rectangle{Min: vg.Point{X: 34, Y: top - height + 52}, Max: vg.Point{X: c.width - 44, Y: top - 4}}
		f.leafPanel(d, []series{l}, r)
		f.limitLabel(d, r)
	}
	return c
}

// leafChart gives the parts that all leaf mass charts of a season share.
func leafChart(s *forecast.Season) (Chart, leafFrame, []series) {
	all := seriesOf(s)
	f := leafFrameOf(s, all)
	c := Chart{
		Title:   "How much leaf is left?",
		Finding: leafFinding(s, all),
		Desc:    leafDesc(s, all),
		width:   900,
		keys:    f.keys(all, len(all) > maxTogether),
	}
	return c, f, all
}

// leafFrame is the frame of a leaf mass chart; its upright scale is in fresh g
// per plant.
type leafFrame struct{ frame }

func leafG(d forecast.SeasonDay) float64   { return d.LeafG }
func leafLoG(d forecast.SeasonDay) float64 { return d.LeafLoG }
func leafHiG(d forecast.SeasonDay) float64 { return d.LeafHiG }

func leafFrameOf(s *forecast.Season, all []series) leafFrame {
	f := frameOf(s, all)
	top := s.GripG * 1.15
	for _, l := range all {
		for _, d := range l.days {
			for _, g := range []float64{d.LeafG, d.LeafHiG} {
				if d.Date <= f.to && finite(g) {
					top = max(top, g)
				}
			}
		}
		for _, n := range l.notes(forecast.LeafMass) {
			for _, g := range []float64{n.Value, n.High} {
				if f.shows(n.Date) && finite(g) {
					top = max(top, g)
				}
			}
		}
	}
	f.limit = s.GripG
	f.top = top * 1.02
	steps, decimals := ticks(f.top, 5)
	f.ticks, f.print = steps, func(g float64) string { return number(g, decimals) }
	return leafFrame{f}
}

// small gives the frame of small panels: fewer ticks and smaller letters.
func (f leafFrame) small() leafFrame {
	f.compact = true
	steps, decimals := ticks(f.top, 4)
	f.ticks, f.print = steps, func(g float64) string { return number(g, decimals) }
	return f
}

// leafPanel draws lines with bands, notes, events and months; r is the area of
// the leaf mass scale.
func (f leafFrame) leafPanel(d draw.Canvas, all []series, r vg.Rectangle) {
	var under, over []plot.Plotter
	for i, l := range all {
		a := uint8(64)
		if len(all) > 1 {
			a = 32
		}
		if len(all) > mostBands {
			under = append(under, spans{f, l.days, i, len(all)})
		}
		for _, run := range f.runs(l.days, leafG, leafLoG, leafHiG) {
			if len(all) <= mostBands {
				under = append(under, between(run, leafLoG, leafHiG, lines[i].alpha(a)))
			}
			over = append(over, curve(run, leafG, lines[i], dashes[i]))
		}
	}
	for i, l := range all {
		over = append(over, noted{f.frame, l.notes(forecast.LeafMass), func(v float64) float64 { return v }, i, lines[i]})
	}
	f.panel(d, r, under, over)
	gap, height := f.strip()
	strip := vg.Rectangle{Min: vg.Point{X: r.Min.X, Y: r.Min.Y - gap - height}, Max: vg.Point{X: r.Max.X, Y: r.Min.Y - gap}}
	f.events(d, strip)
	f.monthAxis(d, strip)
}

// limitLabel prints the grip mass right of a small panel.
func (f leafFrame) limitLabel(d draw.Canvas, r vg.Rectangle) {
	write(d, tinyText, vg.Point{X: r.Max.X + 3, Y: f.y(r, f.limit) - 0.35*tinyText.size}, left, ink, number(f.limit, 1)+" g")
}

// onePanel lays out one panel with the lines' names at their ends.
func (c *Chart) onePanel(f leafFrame, all []series) {
	const (
		height vg.Length = 452
		leftW  vg.Length = 48
		rightW vg.Length = 200
	)
	c.height = height
	c.draw = func(d draw.Canvas, top vg.Length) {
		r := vg.Rectangle{
			Min: vg.Point{X: leftW, Y: top - height + 108},
			Max: vg.Point{X: c.width - rightW, Y: top - 42},
		}
		write(d, smallText, vg.Point{X: margin, Y: top - 16}, left, ink, "Leaf mass, g fresh per plant")
		f.leafPanel(d, all, r)
		f.asOfWords(d, r)
		var labels []endLabel
		for i, l := range all {
			labels = append(labels, endLabel{l.name, lowWords(f.season, l), f.last(l.days, leafG), i})
		}
		labels = append(labels, endLabel{"", "grip mass " + number(f.limit, 1) + " g", f.limit, -1})
		f.endLabels(d, labels, r)
	}
}

// panelGrid lays out one panel per large planting in columns with shared
// scales, and the rest as a table below.
func (c *Chart) panelGrid(f leafFrame, large, rest []series) {
	f = f.small()
	g := gridOfPanels(f.frame, large, func(l series) string { return kindBefore(l, lowWords(f.season, l)) }, 46)
	t := leafRows(f, rest)
	c.height = 22 + g.height() + t.height()
	c.keys = append(c.keys, t.keys()...)
	c.draw = func(d draw.Canvas, top vg.Length) {
		write(d, smallText, vg.Point{X: margin, Y: top - 14}, left, ink, "Leaf mass, g fresh per plant; below, canopy temperature of freezing events, °C")
		g.draw(d, top-22, func(i int, r vg.Rectangle) {
			f.leafPanel(d, large[i:i+1], r)
			f.limitLabel(d, r)
		})
		t.draw(d, top-22-g.height())
	}
}
