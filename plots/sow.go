package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// Sowing draws a sowing plan in bars: the area of each line and week of sowing,
// the winters of the past in which each week asked for is supplied, and the area
// that each share of winters costs.
func Sowing(p *forecast.SowPlan) Chart { return sowLayout{plan: p, width: 900}.chart() }

// phoneSowing is the same chart for a narrow screen, without a heading.
func phoneSowing(p *forecast.SowPlan) Chart {
	return sowLayout{plan: p, width: 360, narrow: true, bare: true}.chart()
}

// sowLayout is where a sowing chart draws.
type sowLayout struct {
	plan         *forecast.SowPlan
	width        vg.Length
	narrow, bare bool
}

// sowBlock is a set of bars on one scale.
type sowBlock struct {
	head string
	top  float64
	mark float64 // drawn across all bars; NaN for none
	tag  string  // what the mark says
	bars []sowBar
}

type sowBar struct {
	name, note string
	value      float64
	label      string
	strong     bool // the one that the plan rests on
}

const (
	sowHead  vg.Length = 40
	sowStep  vg.Length = 22
	sowTall  vg.Length = 34 // step where the name stands above its bar
	sowThick vg.Length = 12
	sowGap   vg.Length = 12
	sowLabel vg.Length = 130 // kept free at the end of the longest bar
)

func (g sowLayout) chart() Chart {
	blocks := g.blocks()
	c := Chart{Title: "What to sow, and when?", Finding: plain(strings.TrimSpace(g.plan.Answer() + " " + g.plan.Shortfall())), Desc: g.desc(), width: g.width, bare: g.bare}
	c.height = margin
	for _, b := range blocks {
		c.height += sowHead + vg.Length(len(b.bars))*g.step() + sowGap
	}
	c.draw = func(d draw.Canvas, top vg.Length) {
		for _, b := range blocks {
			g.block(d, b, top)
			top -= sowHead + vg.Length(len(b.bars))*g.step() + sowGap
		}
	}
	return c
}

func (g sowLayout) step() vg.Length {
	if g.narrow {
		return sowTall
	}
	return sowStep
}

// lane gives where bars begin and the longest one's length.
func (g sowLayout) lane() (from, length vg.Length) {
	from = 270
	if g.narrow {
		from = margin
	}
	return from, g.width - from - sowLabel
}

func (g sowLayout) block(d draw.Canvas, b sowBlock, top vg.Length) {
	from, length := g.lane()
	at := func(v float64) vg.Length { return from + length*vg.Length(v/b.top) }
	write(d, strongText, vg.Point{X: margin, Y: top - 20}, left, ink, b.head)
	y := top - sowHead
	bottom := y - g.step()*vg.Length(len(b.bars))
	for _, bar := range b.bars {
		low := y - g.step() + 5
		face := bodyText
		if bar.strong {
			face = strongText
		}
		note := ""
		if bar.note != "" {
			note = "  " + bar.note
		}
		room := from - margin - 8
		if g.narrow {
			room = g.width - 2*margin
		}
		name := face.cutName(bar.name, room-smallText.room(note))
		write(d, face, vg.Point{X: margin, Y: y - 13}, left, ink, name)
		write(d, smallText, vg.Point{X: margin + face.room(name), Y: y - 13}, left, soft, note)
		end := from
		if finite(bar.value) && bar.value > 0 {
			end = at(bar.value)
			tone := classes[2]
			if bar.strong {
				tone = classes[3]
			}
			box(d, tone, from, low, end, low+sowThick)
			frameBox(d, classes[3], 0.8, from, low, end, low+sowThick)
		}
		write(d, smallText, vg.Point{X: end + 6, Y: low + 2}, left, ink, bar.label)
		y -= g.step()
	}
	if finite(b.mark) {
		x := at(b.mark)
		rule(d, ink, 1, []vg.Length{4, 3}, x, bottom, x, top-sowHead+2)
		write(d, tinyText, vg.Point{X: x, Y: top - sowHead + 5}, right, soft, b.tag)
	}
	if !g.narrow {
		rule(d, axis, 0.8, nil, from, bottom, from, top-sowHead)
	}
}

// blocks gathers the bars.
func (g sowLayout) blocks() []sowBlock {
	p := g.plan
	n := float64(len(p.Played))
	var blocks []sowBlock
	rows := sowBlock{head: "Sow, m²", mark: math.NaN()}
	for _, r := range p.Rows {
		rows.top = max(rows.top, r.AreaM2)
		rows.bars = append(rows.bars, sowBar{sowName(r), "week of " + dayMonth(r.From), r.AreaM2,
			fmt.Sprintf("%s m², lifts %s %%", number(math.Ceil(r.AreaM2), 0), number(100*r.LiftMean, 0)), true})
	}
	prices := g.prices()
	if len(rows.bars) > 0 { // on the scale of the prices, which are areas too
		rows.top = max(rows.top, prices.top)
		prices.top = rows.top
		blocks = append(blocks, rows)
	}
	weeks := sowBlock{head: fmt.Sprintf("Past winters that supply the week, of %s", number(n, 0)), top: max(1, n), mark: math.NaN()}
	if len(p.Rows) > 0 {
		weeks.mark, weeks.tag = p.Met, "all weeks together: "+number(p.Met, 0)
	}
	for _, w := range p.Weeks {
		weeks.bars = append(weeks.bars, sowBar{dayMonth(w.From) + "–" + dayMonth(w.Until), number(w.KG, 0) + " kg", w.Met,
			number(w.Met, 0) + " of " + number(n, 0), false})
	}
	return append(blocks, weeks, prices)
}

// prices gathers the bars of the area that each share of winters costs.
func (g sowLayout) prices() sowBlock {
	p := g.plan
	n := float64(len(p.Played))
	prices := sowBlock{head: "The price of certainty, m²", mark: math.NaN()}
	for _, price := range p.Prices {
		bar := sowBar{number(10*price.Wanted, 1), "", price.AreaM2, number(math.Ceil(price.AreaM2), 0) + " m²", price.Wanted == p.Wanted}
		bar.name = strings.TrimSuffix(bar.name, ".0") + " winters in 10"
		bar.note = number(price.Kept, 0) + " of " + number(n, 0) + " played"
		if !finite(price.AreaM2) {
			bar.label = "no area does it"
		} else {
			prices.top = max(prices.top, price.AreaM2)
		}
		prices.bars = append(prices.bars, bar)
	}
	return prices
}

// sowName names a row, with its place where the trial has several.
func sowName(r forecast.SowRow) string {
	name := plain(r.Line)
	if r.Place != "" {
		name += ", " + plain(r.Place)
	}
	return isolated(name)
}

// desc tells what the bars show.
func (g sowLayout) desc() string {
	var all []string
	for _, b := range g.blocks() {
		for _, bar := range b.bars {
			all = append(all, strings.TrimSpace(bar.name+" "+bar.note)+": "+bar.label)
		}
		all[len(all)-len(b.bars)] = b.head + ". " + all[len(all)-len(b.bars)]
	}
	return strings.Join(all, "; ") + "."
}
