package plots

import (
	"fmt"
	"slices"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/weather"
)

const (
	askedDeep  vg.Length = 76 // depth of the large winter's scale
	askedHigh  vg.Length = 148
	frostHead  vg.Length = 42
	hoursWidth vg.Length = 88 // of the longest bar of frost hours
)

// Right edges of the columns right of the lanes.
const (
	hoursAt   vg.Length = 588 // left edge of the bars
	hoursEnd  vg.Length = 722
	eventsEnd vg.Length = 758
	coldEnd   vg.Length = 800
	firstEnd  vg.Length = 844
	lastEnd   vg.Length = 888
)

func (g frostLayout) chart(place string) Chart {
	c := Chart{Title: "How hard were the winters on the leaves?", Finding: g.finding(place), Desc: g.desc(place), width: g.width, keys: g.keys(), bare: g.bare}
	var foot []string
	if !g.bare {
		foot = smallText.wrap(g.foot(), c.width-2*margin, 4)
	}
	c.height = askedHigh + margin + 15*vg.Length(len(foot))
	if len(g.rows) > 0 {
		c.height += frostHead + g.step*vg.Length(len(g.rows))
	}
	c.draw = func(d draw.Canvas, top vg.Length) {
		g.large(d, top)
		y := top - askedHigh
		if len(g.rows) > 0 {
			g.rowsBelow(d, y)
			y -= frostHead + g.step*vg.Length(len(g.rows))
		}
		for i, line := range foot {
			write(d, smallText, vg.Point{X: margin, Y: y - 15*vg.Length(i+1)}, left, soft, line)
		}
	}
	return c
}

// large draws the asked winter.
func (g frostLayout) large(d draw.Canvas, top vg.Length) {
	name := g.asked.whole.Winter.String()
	if g.inProgress {
		name += " so far"
	}
	write(d, strongText, vg.Point{X: margin, Y: top - 16}, left, ink, name)
	words := "canopy temperature at the coldest of each freezing event, °C"
	room := g.lane0 + g.lane - margin - strongText.room(name) - 10
	if g.narrow {
		words = "coldest canopy of each event, °C"
	}
	if smallText.room(words) <= room {
		write(d, smallText, vg.Point{X: margin + strongText.room(name) + 10, Y: top - 16}, left, soft, words)
	}
	y := top - 44
	x1 := g.lane0 + g.lane
	for c := 0.0; c >= g.depthC; c -= 5 {
		at := y - vg.Length(c/g.depthC)*askedDeep
		rule(d, grid, 0.7, nil, g.lane0, at, x1, at)
		write(d, tinyText, vg.Point{X: g.lane0 - 5, Y: at - 0.35*tinyText.size}, right, soft, number(c, 0))
	}
	rule(d, axis, 0.7, nil, g.lane0, y, x1, y)
	g.behind(d, y, askedDeep)
	g.hang(d, g.asked, y, askedDeep)
	g.firstAndLast(d, y+5)
	if !g.narrow {
		g.figures(d, y-8)
	}
	g.months(d, y-askedDeep-4)
	if g.inProgress {
		at := g.asOfX()
		rule(d, ink, 1, nil, at, y, at, y-askedDeep)
		words, a, x := "as of "+dayMonth(g.asOf), left, at+5
		if x+smallText.room(words) > x1 {
			a, x = right, at-5
		}
		write(d, smallText, vg.Point{X: x, Y: y - askedDeep + 5}, a, ink, words)
	}
}

// figures prints what the large winter's events add up to, right of it.
func (g frostLayout) figures(d draw.Canvas, y vg.Length) {
	s := g.asked.begun
	events := "freezing events"
	if s.Events == 1 {
		events = "freezing event"
	}
	for _, f := range []struct{ value, words string }{
		{strconv.Itoa(s.Events), events},
		{number(s.MinCanopyC, 1), "°C, coldest canopy"},
		{number(s.FreezingDegreeHours, 0), "degree-hours below 0 °C"},
	} {
		write(d, strongText, vg.Point{X: hoursAt + 50, Y: y}, right, ink, f.value)
		write(d, smallText, vg.Point{X: hoursAt + 58, Y: y}, left, soft, f.words)
		y -= 20
	}
}

// firstAndLast names the days of the first and the last event above the large
// winter's lane.
func (g frostLayout) firstAndLast(d draw.Canvas, y vg.Length) {
	s := g.asked.whole
	if s.Events == 0 {
		write(d, smallText, vg.Point{X: g.lane0, Y: y}, left, soft, "no freezing event")
		return
	}
	first, last := dayMonth(s.First.Start.Date), dayMonth(s.Last.Start.Date)
	x0, _ := g.span(s.First)
	_, x1 := g.span(s.Last)
	end := g.lane0 + g.lane
	words := "first " + first
	latest := "last " + last
	if g.inProgress {
		latest = "latest " + last
	}
	if s.Events == 1 {
		words, latest = "the only one, "+first, ""
	}
	x0 = min(x0, end-smallText.room(words))
	if latest != "" && x0+smallText.room(words)+12 > x1-smallText.room(latest) {
		words, latest = words+", "+latest, ""
		x0 = min(x0, end-smallText.room(words))
	}
	write(d, smallText, vg.Point{X: x0, Y: y}, left, soft, words)
	if latest != "" {
		write(d, smallText, vg.Point{X: x1, Y: y}, right, soft, latest)
	}
}

// months names the months below y.
func (g frostLayout) months(d draw.Canvas, y vg.Length) {
	start, _ := g.asked.whole.Winter.FrostSeason()
	for _, m := range months(start+weather.Date(g.from), start+weather.Date(g.to)) {
		x0, x1 := g.x(float64(m.from-start)), g.x(float64(m.to-start))
		rule(d, axis, 0.7, nil, x0, y+4, x0, y)
		name := m.name
		if smallText.room(name) > x1-x0 {
			name = name[:1]
		}
		if smallText.room(name) <= x1-x0 {
			write(d, smallText, vg.Point{X: (x0 + x1) / 2, Y: y - smallText.size + 1}, middle, soft, name)
		}
	}
}

// rowsBelow draws the other winters, hardest first.
func (g frostLayout) rowsBelow(d draw.Canvas, top vg.Length) {
	y := top - frostHead
	heads := func(x vg.Length, a align, upper, lower string) {
		write(d, tinyText, vg.Point{X: x, Y: y + 18}, a, soft, upper)
		write(d, tinyText, vg.Point{X: x, Y: y + 6}, a, soft, lower)
	}
	heads(margin, left, "rank, 1 is", "the hardest")
	if g.narrow {
		heads(g.width-8, right, "coldest", "°C")
	} else {
		heads(hoursAt, left, "frost in the canopy,", "degree-hours below 0 °C")
		heads(eventsEnd, right, "", "events")
		heads(coldEnd, right, "coldest", "°C")
		heads(firstEnd, right, "first", "event")
		heads(lastEnd, right, "last", "event")
	}
	start, _ := g.asked.whole.Winter.FrostSeason()
	bottom := y - g.step*vg.Length(len(g.rows))
	for _, m := range months(start+weather.Date(g.from), start+weather.Date(g.to)) {
		if x := g.x(float64(m.from - start)); x > g.lane0 {
			rule(d, grid, 0.7, nil, x, y, x, bottom)
		}
	}
	for i, r := range g.rows {
		g.row(d, r, y-g.step*vg.Length(i))
	}
	if g.inProgress {
		rule(d, ink, 1, nil, g.asOfX(), y, g.asOfX(), bottom)
	}
	if !g.narrow && g.known && g.topHours > 0 {
		at := hoursAt + g.bar(g.asked.begun.FreezingDegreeHours)
		rule(d, ink, 1, []vg.Length{1.5, 2.5}, at, y+1, at, bottom)
	}
}

func (g frostLayout) bar(hours float64) vg.Length {
	if !(g.topHours > 0) {
		return 0
	}
	return hoursWidth * vg.Length(hours/g.topHours)
}

func (g frostLayout) row(d draw.Canvas, r winterRow, y vg.Length) {
	s := r.whole
	base := y - g.step/2 - 3
	name := smallText
	if s.Winter == g.asked.whole.Winter {
		box(d, wash, margin-4, y-g.step+1, g.width-8, y+1)
		name.bold = true
	}
	rank := "–"
	if s.Rank > 0 {
		rank = strconv.Itoa(s.Rank)
	}
	write(d, tinyText, vg.Point{X: margin + 16, Y: base}, right, soft, rank)
	write(d, name, vg.Point{X: margin + 24, Y: base}, left, ink, s.Winter.String())
	rule(d, grid, 0.7, nil, g.lane0, y, g.lane0+g.lane, y)
	g.hang(d, r, y, g.deep)
	cold := number(s.MinCanopyC, 1)
	if g.narrow {
		write(d, tinyText, vg.Point{X: g.width - 8, Y: base}, right, ink, cold)
		return
	}
	low, high := y-g.step/2-4.5, y-g.step/2+4.5
	box(d, pale, hoursAt, low, hoursAt+g.bar(s.FreezingDegreeHours), high)
	box(d, frost, hoursAt, low, hoursAt+g.bar(r.begun.FreezingDegreeHours), high)
	first, last := "–", "–"
	if s.Events > 0 {
		first, last = dayMonth(s.First.Start.Date), dayMonth(s.Last.Start.Date)
	}
	for _, c := range []struct {
		end  vg.Length
		text string
	}{
		{hoursEnd, number(s.FreezingDegreeHours, 0)},
		{eventsEnd, strconv.Itoa(s.Events)}, {coldEnd, cold}, {firstEnd, first}, {lastEnd, last},
	} {
		write(d, tinyText, vg.Point{X: c.end, Y: base}, right, ink, c.text)
	}
}

// keys explains the signs of an events chart.
func (g frostLayout) keys() []key {
	words := "freezing event, as long as it lasted, as deep as its coldest canopy"
	if g.narrow {
		words = "freezing event, as deep as its coldest canopy"
	}
	out := []key{{func(c draw.Canvas, x, y vg.Length) {
		box(c, frost, x, y+1, x+2, y+9)
		box(c, frost, x+5, y-2, x+9, y+9)
	}, 10, words}}
	out = append(out, key{func(c draw.Canvas, x, y vg.Length) { box(c, ink, x+3, y-2, x+6, y+9) }, 10, "the winter's coldest"})
	if len(g.rows) > 0 && g.inProgress {
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) { box(c, pale, x, y-1, x+10, y+9) }, 10, "begun after " + dayMonth(g.asOf)})
	}
	if slices.ContainsFunc(g.rows, func(r winterRow) bool { return r.complete && r.whole.Winter != g.asked.whole.Winter }) {
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) {
			for _, i := range []vg.Length{0, 1, 2} {
				c.FillPolygon(frost.alpha(51), []vg.Point{{X: x, Y: y + 4*i - 2}, {X: x + 18, Y: y + 4*i - 2}, {X: x + 18, Y: y + 10}, {X: x, Y: y + 10}})
			}
		}, 18, "behind " + g.asked.whole.Winter.String() + ": the others, laid over one another"})
	}
	if !g.narrow && len(g.rows) > 0 && g.known {
		name := g.asked.whole.Winter.String()
		if g.inProgress {
			name += " so far"
		}
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) {
			rule(c, ink, 1, []vg.Length{1.5, 2.5}, x+5, y-2, x+5, y+10)
		}, 10, fmt.Sprintf("frost of %s", name)})
	}
	return out
}
