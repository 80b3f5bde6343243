package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// Shade draws whether the ground is shaded: the light that passes the crop and
// the ground that weeds cover, by line through one season as medians, with the
// shade limit as a line, observed days apart from the outlook, and the notes
// of weeds and of ground covered. Up to four plantings share two panels; more
// get a panel each, or a row of a table, as in LeafMass.
func Shade(s *forecast.Season) Chart {
	c, f, all := shadeChart(s)
	switch {
	case len(all) == 0:
		c.height = 40
		c.draw = func(draw.Canvas, vg.Length) {}
	case len(all) <= maxTogether:
		c.shadePanels(f, all)
	default:
		large, rest := largest(s, all)
		c.shadeGrid(f, large, rest)
	}
	return c
}

// shadePanel draws one planting of a season, small enough for a phone and
// without a heading.
func shadePanel(s *forecast.Season, i int) Chart {
	c, f, all := shadeChart(s)
	l := all[i]
	c.Title = "Is the ground shaded under " + l.name + "?"
	c.Finding = shadeSentence(s, l)
	c.Desc = c.Finding
	c.bare = true
	c.keys = nil
	c.width = 360
	f = f.small()
	const height = 156
	c.height = height
	c.draw = func(d draw.Canvas, top vg.Length) {
		f.shadePanel(d, l, vg.Rectangle{Min: vg.Point{X: 34, Y: top - height + 32}, Max: vg.Point{X: c.width - 44, Y: top - 4}})
	}
	return c
}

// shadeChart gives the parts that all shade charts of a season share.
func shadeChart(s *forecast.Season) (Chart, shadeFrame, []series) {
	all := seriesOf(s)
	f := shadeFrame{frameOf(s, all)}
	f.top, f.limit = 1, s.ShadeLimit
	f.ticks, f.print = []float64{0, 0.25, 0.5, 0.75, 1}, func(share float64) string { return number(100*share, 0) }
	c := Chart{
		Title:   "Is the ground shaded?",
		Finding: shadeFinding(s, all),
		Desc:    shadeDesc(s, all),
		width:   900,
	}
	c.keys = f.keys(all, len(all) > maxTogether)
	return c, f, all
}

// shadeFrame is the frame of a shade chart; its upright scale is a share,
// printed in %.
type shadeFrame struct{ frame }

func groundLight(d forecast.SeasonDay) float64 { return d.GroundLight }
func weedCover(d forecast.SeasonDay) float64   { return d.WeedCover }

// small gives the frame of small panels.
func (f shadeFrame) small() shadeFrame {
	return shadeFrame{f.frame.small()}
}

// uncovered takes a note of ground covered by the crop for the light scale.
func uncovered(cover float64) float64 { return 1 - cover }

func asNoted(value float64) float64 { return value }

// The signs of a small shade panel: of weeds, and of ground not covered.
const (
	bareSign = 1
	weedSign = 2
)

// shadePanel draws light and weeds of one planting in one panel, with what
// light passes beyond the limit filled in.
func (f shadeFrame) shadePanel(d draw.Canvas, l series, r vg.Rectangle) {
	var under, over []plot.Plotter
	limit := func(forecast.SeasonDay) float64 { return f.limit }
	for _, run := range f.runs(l.days, groundLight) {
		beyond := func(day forecast.SeasonDay) float64 { return max(f.limit, day.GroundLight) }
		under = append(under, between(run, limit, beyond, lines[0].alpha(64)))
		over = append(over, curve(run, groundLight, lines[0], nil))
	}
	for _, run := range f.runs(l.days, weedCover) {
		over = append(over, curve(run, weedCover, lines[weedSign], dashes[weedSign]))
	}
	over = append(over,
		noted{f.frame, l.notes(forecast.GroundCover), uncovered, bareSign, lines[0]},
		noted{f.frame, l.notes(forecast.WeedCover), asNoted, weedSign, lines[weedSign]})
	f.panel(d, r, under, over)
	f.monthAxis(d, r)
	values := []float64{f.limit, f.last(l.days, groundLight), f.last(l.days, weedCover)}
	words := []string{number(100*f.limit, 0) + " %", "light", "weeds"}
	centres, heights := make([]vg.Length, 3), []vg.Length{11, 11, 11}
	for i, v := range values {
		centres[i] = f.y(r, v)
	}
	for i, at := range spread(centres, heights, r.Min.Y-4, r.Max.Y+4) {
		write(d, tinyText, vg.Point{X: r.Max.X + 3, Y: at - 0.35*tinyText.size}, left, ink, words[i])
	}
}

// shadePanels lays out light above weeds, each panel with up to four lines
// named at their ends.
func (c *Chart) shadePanels(f shadeFrame, all []series) {
	const (
		light  vg.Length = 230
		weeds  vg.Length = 120
		leftW  vg.Length = 48
		rightW vg.Length = 200
	)
	c.height = 42 + light + 66 + weeds + 48
	c.draw = func(d draw.Canvas, top vg.Length) {
		r := vg.Rectangle{Min: vg.Point{X: leftW, Y: top - 42 - light}, Max: vg.Point{X: c.width - rightW, Y: top - 42}}
		write(d, smallText, vg.Point{X: margin, Y: top - 16}, left, ink, "Light that reaches the ground through the crop, % of that above it")
		f.share(d, all, r, groundLight, forecast.GroundCover, uncovered)
		f.asOfWords(d, r)
		var labels []endLabel
		for i, l := range all {
			labels = append(labels, endLabel{l.name, shadeWords(f.season, l), f.last(l.days, groundLight), i})
		}
		labels = append(labels, endLabel{"", fmt.Sprintf("shade limit %s %%", number(100*f.limit, 0)), f.limit, -1})
		f.endLabels(d, labels, r)

		under := f
		under.limit, under.ticks = math.NaN(), []float64{0, 0.5, 1}
		r.Max.Y = r.Min.Y - 66
		r.Min.Y = r.Max.Y - weeds
		write(d, smallText, vg.Point{X: margin, Y: r.Max.Y + 14}, left, ink, "Ground that weeds cover, %")
		under.share(d, all, r, weedCover, forecast.WeedCover, asNoted)
		f.monthAxis(d, r)
		labels = nil
		for i, l := range all {
			labels = append(labels, endLabel{"", bodyText.cutName(l.name, rightW-36-margin), f.last(l.days, weedCover), i})
		}
		under.endLabels(d, labels, r)
	}
}

// share draws one quantity of up to four plantings with its notes.
func (f shadeFrame) share(d draw.Canvas, all []series, r vg.Rectangle, of reading, trait forecast.Trait, at func(float64) float64) {
	var over []plot.Plotter
	for i, l := range all {
		for _, run := range f.runs(l.days, of) {
			over = append(over, curve(run, of, lines[i], dashes[i]))
		}
	}
	for i, l := range all {
		over = append(over, noted{f.frame, l.notes(trait), at, i, lines[i]})
	}
	f.panel(d, r, nil, over)
}

// shadeGrid lays out one panel per large planting, and the rest as a table
// below.
func (c *Chart) shadeGrid(f shadeFrame, large, rest []series) {
	f = f.small()
	g := gridOfPanels(f.frame, large, func(l series) string { return kindBefore(l, shadeWords(f.season, l)) }, 28)
	t := lightRows(f, rest)
	c.height = 22 + g.height() + t.height()
	c.keys = append(c.keys, t.keys()...)
	c.draw = func(d draw.Canvas, top vg.Length) {
		write(d, smallText, vg.Point{X: margin, Y: top - 14}, left, ink, "Light that reaches the ground through the crop, % of that above it; ground that weeds cover, %")
		g.draw(d, top-22, func(i int, r vg.Rectangle) { f.shadePanel(d, large[i], r) })
		t.draw(d, top-22-g.height())
	}
}

// lightRows gives the light in two classes, shaded and open.
func lightRows(f shadeFrame, all []series) monthRows {
	limit := number(100*f.limit, 0)
	t := monthRows{f: f.frame, all: all, what: "median light at the ground, % of that above the crop,", of: groundLight}
	t.print = func(share float64) string { return number(100*share, 0) }
	t.class = func(share float64) int {
		if share <= f.limit {
			return 2
		}
		return 0
	}
	t.bounds[0], t.bounds[2] = "light above "+limit+" %: open", "up to "+limit+" %: shaded"
	return t
}

// keys explains the signs of a shade chart; each says that both quantities
// stand in one panel.
func (f shadeFrame) keys(all []series, each bool) []key {
	var out []key
	if each {
		out = append(out,
			key{func(c draw.Canvas, x, y vg.Length) {
				c.FillPolygon(lines[0].alpha(64), []vg.Point{{X: x, Y: y + 1}, {X: x + 24, Y: y + 1}, {X: x + 24, Y: y + 8}, {X: x, Y: y + 8}})
				rule(c, lines[0], 2.4, nil, x, y+8, x+24, y+8)
			}, 24, "light, median; filled: beyond the limit"},
			key{func(c draw.Canvas, x, y vg.Length) {
				rule(c, lines[weedSign], 2.4, dashes[weedSign], x, y+3.5, x+24, y+3.5)
			}, 24, "weeds, median"})
		out = append(out, f.outlookKey()...)
	}
	if len(all) > 0 {
		out = append(out, limitKey("shade limit "+number(100*f.limit, 0)+" %"))
	}
	out = append(out, f.aheadKey()...)
	bare, weeds := anyNotes(all, forecast.GroundCover), anyNotes(all, forecast.WeedCover)
	sign := func(i int, t tone, words string) {
		out = append(out, key{notedSign(i, t), 10, words})
	}
	switch {
	case each && bare:
		sign(bareSign, lines[0], "ground not covered, as noted; bar: 5–95 % for the eye")
	case !each && bare && weeds:
		sign(0, soft, "as noted: ground not covered, weed cover; bars: 5–95 % for the eye")
	case !each && bare:
		sign(0, soft, "ground not covered, as noted; bar: 5–95 % for the eye")
	}
	if weeds && each {
		sign(weedSign, lines[weedSign], "weed cover, as noted; bar: 5–95 % for the eye")
	} else if weeds && !bare {
		sign(0, soft, "weed cover, as noted; bar: 5–95 % for the eye")
	}
	return out
}
