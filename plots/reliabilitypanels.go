package plots

import (
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

const (
	trustTitle  vg.Length = 44 // above a panel: its head and unit
	trustFoot   vg.Length = 40 // below it: its scale
	trustScale  vg.Length = 38 // left of it
	oddsHeight  vg.Length = 220
	leadsHeight vg.Length = 112
)

// labelRoom gives the room for labels right of a panel.
func (g trustLayout) labelRoom() vg.Length {
	if g.narrow {
		return 116
	}
	return 158
}

// rows pairs the panels that stand side by side; the odds pair with the score
// of the same thing.
func (g trustLayout) rows() [][]trustPanel {
	abreast := 2
	if g.narrow {
		abreast = 1
	}
	var rows [][]trustPanel
	for i := 0; i < len(g.panels); i += abreast {
		row := slices.Clone(g.panels[i:min(i+abreast, len(g.panels))])
		for k := range row {
			row[k].tall = row[0].odds != nil
		}
		rows = append(rows, row)
	}
	return rows
}

// height gives that of the panel's own area.
func (p trustPanel) height() vg.Length {
	if p.tall {
		return oddsHeight
	}
	return leadsHeight
}

func rowHeight(row []trustPanel) vg.Length {
	high := vg.Length(0)
	for _, p := range row {
		foot := trustFoot
		if p.odds != nil {
			foot += 12 // a second row of counts
		}
		high = max(high, trustTitle+p.height()+foot)
	}
	return high
}

func (g trustLayout) chart() Chart {
	c := Chart{Title: "Did the odds come true?", Finding: g.finding(), Desc: g.desc(), width: g.width, bare: g.bare}
	rows := g.rows()
	for _, row := range rows {
		c.height += rowHeight(row)
	}
	var foot []string
	if !g.bare && len(rows) > 0 {
		foot = smallText.wrap(g.foot(), c.width-2*margin, 4)
	}
	c.height += 15*vg.Length(len(foot)) + margin
	c.draw = func(d draw.Canvas, top vg.Length) {
		for _, row := range rows {
			wide := (g.width - margin) / vg.Length(max(1, len(row)))
			if !g.narrow {
				wide = (g.width - margin) / 2
			}
			for i, p := range row {
				x := margin + wide*vg.Length(i)
				r := vg.Rectangle{
					Min: vg.Point{X: x + trustScale, Y: top - trustTitle - p.height()},
					Max: vg.Point{X: x + wide - g.labelRoom(), Y: top - trustTitle},
				}
				p.heading(d, x, r, wide-margin)
				if p.odds != nil {
					p.classes(d, r)
				} else {
					p.byLead(d, r, x+wide-margin)
				}
			}
			top -= rowHeight(row)
		}
		for i, line := range foot {
			write(d, smallText, vg.Point{X: margin, Y: top - 15*vg.Length(i) - 10}, left, soft, line)
		}
	}
	return c
}

// foot says how the picture is made.
func (g trustLayout) foot() string {
	words := "Each past winter was left out with its weather and notes and forecast from the others. Mean errors are continuous ranked probability scores (CRPS), which for a single figure is its distance from what came"
	if len(g.verified.Odds) > 0 {
		words += "; odds of the same planting at four leads count as four, so that the intervals of the odds are rather too short"
	}
	return words + "."
}

// heading names the panel and what its upright scale shows, and prints that
// scale.
func (p trustPanel) heading(d draw.Canvas, x vg.Length, r vg.Rectangle, room vg.Length) {
	write(d, strongText, vg.Point{X: x, Y: r.Max.Y + 25}, left, ink, strongText.cut(p.head, room))
	write(d, tinyText, vg.Point{X: x, Y: r.Max.Y + 11}, left, soft, tinyText.cut(p.unit, room))
	for _, t := range p.ticks {
		y := p.at(r, t)
		rule(d, grid, 0.7, nil, r.Min.X, y, r.Max.X, y)
		print := wholePercent
		if p.print != nil {
			print = p.print
		}
		write(d, tinyText, vg.Point{X: r.Min.X - 6, Y: y - 0.35*tinyText.size}, right, soft, print(t))
	}
	rule(d, axis, 1, nil, r.Min.X, r.Min.Y, r.Max.X, r.Min.Y)
}

// at places a value between bottom and top of r.
func (p trustPanel) at(r vg.Rectangle, value float64) vg.Length {
	return r.Min.Y + vg.Length(min(1, max(0, value/p.top)))*(r.Max.Y-r.Min.Y)
}

// classes draws what came of each class of odds, with the line of perfect odds
// and the number of forecasts below.
func (p trustPanel) classes(d draw.Canvas, r vg.Rectangle) {
	x := func(chance float64) vg.Length { return r.Min.X + vg.Length(chance)*(r.Max.X-r.Min.X) }
	for _, t := range p.ticks {
		rule(d, grid, 0.7, nil, x(t), r.Min.Y, x(t), r.Max.Y)
		write(d, tinyText, vg.Point{X: x(t), Y: r.Min.Y - 13}, middle, soft, wholePercent(t))
	}
	rule(d, ink, 1, []vg.Length{4, 3}, x(0), r.Min.Y, x(1), r.Max.Y)
	write(d, smallText, vg.Point{X: r.Max.X + 8, Y: r.Max.Y - 4}, left, soft, "perfect odds")
	t := lines[0]
	for _, c := range p.odds {
		at := x(c.Chance)
		for _, y := range []vg.Length{p.at(r, c.Low), p.at(r, c.High)} {
			rule(d, t, 1.2, nil, at-3, y, at+3, y)
		}
		rule(d, t, 1.2, nil, at, p.at(r, c.Low), at, p.at(r, c.High))
		glyph(d, 0, t, at, p.at(r, c.Seen), 3.8, false)
	}
	write(d, smallText, vg.Point{X: r.Max.X + 12, Y: r.Min.Y - 13}, left, soft, "stated, %")
	write(d, smallText, vg.Point{X: r.Max.X + 12, Y: r.Min.Y - 28}, left, soft, "forecasts")
	p.counts(d, r, x)
}

// counts prints the number of forecasts below each class, in two rows by turns
// where one is too short for them.
func (p trustPanel) counts(d draw.Canvas, r vg.Rectangle, x func(chance float64) vg.Length) {
	need := vg.Length(0)
	room := func(c forecast.OddsClass) vg.Length { return tinyText.room(strconv.Itoa(c.N)) + 5 }
	for _, c := range p.odds {
		need += room(c)
	}
	rows := 1
	if need > r.Max.X-r.Min.X+16 {
		rows = 2
	}
	for row := range rows {
		var centres, rooms []vg.Length
		for i := row; i < len(p.odds); i += rows {
			centres, rooms = append(centres, x(p.odds[i].Chance)), append(rooms, room(p.odds[i]))
		}
		for k, at := range spread(centres, rooms, r.Min.X-8, r.Max.X+8) {
			write(d, tinyText, vg.Point{X: at, Y: r.Min.Y - 28 - 12*vg.Length(row)}, middle, ink, strconv.Itoa(p.odds[row+k*rows].N))
		}
	}
}

// byLead draws the curves of a panel, labelled at their ends as far as end.
func (p trustPanel) byLead(d draw.Canvas, r vg.Rectangle, end vg.Length) {
	const inset = 12
	longest, shortest := p.leads[0], p.leads[len(p.leads)-1]
	x := func(lead int) vg.Length {
		if longest == shortest {
			return (r.Min.X + r.Max.X) / 2
		}
		t := vg.Length(longest-lead) / vg.Length(longest-shortest)
		return r.Min.X + inset + t*(r.Max.X-r.Min.X-2*inset)
	}
	for _, level := range p.levels {
		rule(d, ink, 1, []vg.Length{4, 3}, r.Min.X, p.at(r, level), r.Max.X, p.at(r, level))
	}
	free := vg.Length(math.Inf(-1))
	for _, lead := range p.leads {
		words := number(float64(lead), 0)
		rule(d, axis, 0.7, nil, x(lead), r.Min.Y, x(lead), r.Min.Y-4)
		if half := tinyText.room(words)/2 + 2; x(lead)-half >= free {
			write(d, tinyText, vg.Point{X: x(lead), Y: r.Min.Y - 14}, middle, soft, words)
			free = x(lead) + half
		}
	}
	write(d, tinyText, vg.Point{X: r.Min.X, Y: r.Min.Y - 27}, left, soft, p.leadWords)
	var shown []int
	var ends []vg.Length
	for i, c := range p.curves {
		last := math.NaN()
		var from vg.Point
		for k, value := range c.at {
			if !finite(value) {
				continue
			}
			to := vg.Point{X: x(p.leads[k]), Y: p.at(r, value)}
			if finite(last) {
				rule(d, lines[c.sign], 1.8, dashes[c.sign], from.X, from.Y, to.X, to.Y)
			}
			last, from = value, to
		}
		for k, value := range c.at {
			if finite(value) {
				glyph(d, c.sign, lines[c.sign], x(p.leads[k]), p.at(r, value), 3, c.hollow)
			}
		}
		if finite(last) {
			shown, ends = append(shown, i), append(ends, from.Y)
		}
	}
	p.endLabels(d, r, end, shown, ends)
}

// endLabels names the shown curves right of r, where they end.
func (p trustPanel) endLabels(d draw.Canvas, r vg.Rectangle, end vg.Length, shown []int, ends []vg.Length) {
	const step vg.Length = 13
	heights := make([]vg.Length, len(shown))
	for k, i := range shown {
		heights[k] = step + 1
		if p.curves[i].small != "" {
			heights[k] += step - 2
		}
	}
	at := r.Max.X + 24
	for k, y := range spread(ends, heights, r.Min.Y-12, r.Max.Y+12) {
		c := p.curves[shown[k]]
		i := c.sign
		y += heights[k]/2 - step/2
		rule(d, lines[i], 0.8, nil, r.Max.X-8, ends[k], at-9, y)
		glyph(d, i, lines[i], at-5, y, 3, c.hollow)
		write(d, smallText, vg.Point{X: at + 2, Y: y - 4}, left, ink, smallText.cut(c.name, end-at-2))
		if c.small != "" {
			write(d, tinyText, vg.Point{X: at + 2, Y: y - 4 - step + 2}, left, soft, tinyText.cut(c.small, end-at-2))
		}
	}
}
