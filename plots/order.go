package plots

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
	"wintertop/weather"
)

// Order draws what to lift in which order: a bar for each planting from today
// to its last safe date, a tick below it for each fit day to be expected, and
// where there is a schedule the day by which the crew is done in the wanted
// share of winters. It gives an error where the window ends before as-of.
func Order(o *forecast.Order) (Chart, error) {
	g, err := wideOrder(o)
	if err != nil {
		return Chart{}, err
	}
	return g.chart(), nil
}

// wideOrder lays out the bars with the names beside them.
func wideOrder(o *forecast.Order) (orderBars, error) {
	if o.AsOf > o.To {
		return orderBars{}, fmt.Errorf("no order: the window ends on %s, before %s", o.To, o.AsOf)
	}
	g := orderBars{order: o, names: orderNames(o), width: 900, left: 110, right: 172, rowHeight: 34, barHeight: 15}
	for i, name := range g.names {
		g.left = min(250, max(g.left, nameLeft+10+max(strongText.room(name), tinyText.room(areaWords(o.Rows[i])))))
	}
	return g, nil
}

// phoneOrder is the same for a narrow screen, without a heading: the names stand
// above their bars.
func phoneOrder(o *forecast.Order) Chart {
	return orderBars{order: o, names: orderNames(o), width: 360, left: 8, right: 12, rowHeight: 66, barHeight: 15, above: 33, bare: true}.chart()
}

// orderBars is the layout of an order.
type orderBars struct {
	order                *forecast.Order
	names                []string
	width, left, right   vg.Length
	rowHeight, barHeight vg.Length
	bare                 bool      // without heading and foot, which the page sets itself
	above                vg.Length // room for the name above a row's bar; 0: beside it
}

const orderHead vg.Length = 50

func (g orderBars) chart() Chart {
	o := g.order
	c := Chart{Title: "What to lift this week?", Finding: o.Answer(g.names), Desc: orderDesc(o, g.names), width: g.width, keys: g.keys(), bare: g.bare}
	var foot []string
	if !c.bare {
		foot = smallText.wrap(orderFoot(o), c.width-2*margin, 8)
	}
	c.height = orderHead + g.rowHeight*vg.Length(len(o.Rows)) + 15*vg.Length(len(foot)) + 14
	c.draw = func(d draw.Canvas, top vg.Length) {
		bottom := top - orderHead - g.rowHeight*vg.Length(len(o.Rows))
		g.header(d, top, bottom)
		for i := range o.Rows {
			g.row(d, i, top-orderHead-g.rowHeight*vg.Length(i))
		}
		for i, line := range foot {
			write(d, smallText, vg.Point{X: margin, Y: bottom - 8 - 15*vg.Length(i+1)}, left, soft, line)
		}
	}
	return c
}

// x gives where a day ends.
func (g orderBars) x(day weather.Date) vg.Length {
	o := g.order
	return g.left + (g.width-g.left-g.right)*vg.Length(day-o.AsOf)/vg.Length(max(1, o.To-o.AsOf))
}

// header draws the months, the window and today.
func (g orderBars) header(d draw.Canvas, top, bottom vg.Length) {
	o := g.order
	for _, m := range months(o.AsOf, o.To) {
		x0, x1 := g.x(max(o.AsOf, m.from-1)), g.x(m.to-1)
		if x1-x0 > smallText.room(m.name) {
			write(d, smallText, vg.Point{X: (x0 + x1) / 2, Y: top - 40}, middle, soft, m.name)
		}
	}
	from := max(o.From-1, o.AsOf)
	words := "window " + dayMonth(o.From) + "–" + dayMonth(o.To)
	x0, x1 := g.x(from), g.x(o.To)
	room := smallText.room(words)
	write(d, smallText, vg.Point{X: min(max((x0+x1)/2, g.left+room/2), g.width-4-room/2), Y: top - 14}, middle, ink, words)
	rule(d, ink, 1.2, nil, x0, top-20, x1, top-20)
	if g.above > 0 {
		bottom = top - orderHead // the rows draw their own, below their names
	}
	g.sides(d, top-20, top-30)
	g.uprights(d, top-30, bottom)
	if today := "from " + fullDate(o.AsOf); g.left+smallText.room(today) < x0 {
		write(d, smallText, vg.Point{X: g.left, Y: top - 22}, left, soft, today)
	}
}

// uprights draws the months' bounds, today and the sides of the window.
func (g orderBars) uprights(d draw.Canvas, top, bottom vg.Length) {
	o := g.order
	for _, m := range months(o.AsOf, o.To) {
		if m.from > o.AsOf {
			rule(d, grid, 0.8, nil, g.x(m.from-1), top, g.x(m.from-1), bottom)
		}
	}
	rule(d, axis, 1, nil, g.left, top, g.left, bottom)
	g.sides(d, top, bottom)
}

// sides draws the sides of the window.
func (g orderBars) sides(d draw.Canvas, top, bottom vg.Length) {
	o := g.order
	for _, day := range []weather.Date{max(o.From-1, o.AsOf), o.To} {
		rule(d, ink, 1.2, nil, g.x(day), top, g.x(day), bottom)
	}
}

// row draws one planting, its bar and what to do.
func (g orderBars) row(d draw.Canvas, i int, top vg.Length) {
	t := g.order.Rows[i]
	rank, action, note := fmt.Sprint(i+1), actionWords(t), turnNote(t)
	barTop := top - g.above - 3
	mid := barTop - g.barHeight/2
	if g.above > 0 {
		g.uprights(d, top-g.above, top-g.rowHeight+6)
		room := strongText.room(action)
		write(d, bodyText, vg.Point{X: 22, Y: top - 14}, right, soft, rank)
		write(d, strongText, vg.Point{X: 28, Y: top - 14}, left, ink, strongText.cutName(g.names[i], g.width-28-room-16))
		write(d, strongText, vg.Point{X: g.width - 8, Y: top - 14}, right, ink, action)
		write(d, tinyText, vg.Point{X: 28, Y: top - 27}, left, soft, tinyText.cut(areaWords(t), g.width/2-70))
		write(d, tinyText, vg.Point{X: g.width - 8, Y: top - 27}, right, soft, note)
	} else {
		wide := g.left - nameLeft - 8
		write(d, bodyText, vg.Point{X: margin + 18, Y: mid - 4}, right, soft, rank)
		write(d, strongText, vg.Point{X: nameLeft, Y: mid + 2}, left, ink, strongText.cutName(g.names[i], wide))
		write(d, tinyText, vg.Point{X: nameLeft, Y: mid - 9}, left, soft, tinyText.cut(areaWords(t), wide))
		x := g.width - g.right + 12
		write(d, strongText, vg.Point{X: x, Y: mid + 2}, left, ink, action)
		write(d, tinyText, vg.Point{X: x, Y: mid - 9}, left, soft, tinyText.cut(note, g.width-x-4))
	}
	rule(d, grid, 0.8, nil, g.left, mid, g.x(g.order.To), mid)
	if t.HasHold {
		x0, x1 := g.left, max(g.x(t.LastSafe), g.left+2)
		if t.HoldsFrom > g.order.AsOf {
			x0 = g.x(t.HoldsFrom - 1)
			x1 = max(x1, x0+2)
		}
		barOf(t.Action)(d, x0, barTop-g.barHeight, x1, barTop)
		g.fitTicks(d, t.LastSafe, barTop-g.barHeight)
	}
	if t.HasDoneBy {
		x := g.x(t.DoneBy)
		glyph(d, 3, paper, x, mid, 6.5, false)
		glyph(d, 3, ink, x, mid, 4.5, false)
	}
}

// fitTicks draws a tick below a bar for each fit day to be expected.
func (g orderBars) fitTicks(d draw.Canvas, until weather.Date, y vg.Length) {
	for _, day := range g.order.FitDays {
		if day <= until {
			rule(d, ink, 1, nil, g.x(day), y-1.5, g.x(day), y-6.5)
		}
	}
}

// barOf gives the fill that stands for an action.
func barOf(a forecast.Action) func(d draw.Canvas, x0, y0, x1, y1 vg.Length) {
	fill := classes[0]
	switch a {
	case forecast.LiftNow:
		fill = classes[3]
	case forecast.LiftBy:
		fill = classes[2]
	case forecast.LookFirst:
		fill = paper
	}
	return func(d draw.Canvas, x0, y0, x1, y1 vg.Length) {
		box(d, fill, x0, y0, x1, y1)
		frameBox(d, ink, 0.8, x0, y0, x1, y1)
	}
}

// keys explains the bars and signs that the picture holds.
func (g orderBars) keys() []key {
	var out []key
	done := false
	used := map[forecast.Action]bool{}
	for _, t := range g.order.Rows {
		used[t.Action] = used[t.Action] || t.HasHold
		done = done || t.HasDoneBy
	}
	for _, a := range []struct {
		action forecast.Action
		words  string
	}{{forecast.LiftNow, "lift now"}, {forecast.LiftBy, "safe until its end"}, {forecast.LeaveIt, "can stand through the window"}, {forecast.LookFirst, "assumed, look first"}} {
		if used[a.action] {
			out = append(out, key{func(c draw.Canvas, x, y vg.Length) { barOf(a.action)(c, x, y-2, x+18, y+9) }, 18, a.words})
		}
	}
	if len(g.order.FitDays) > 0 {
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) {
			for i := range 3 {
				rule(c, ink, 1, nil, x+3+5*vg.Length(i), y, x+3+5*vg.Length(i), y+6)
			}
		}, 16, "a fit day to be expected"})
	}
	if done {
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) { glyph(c, 3, ink, x+6, y+3.5, 4.5, false) }, 12,
			"done by then in " + number(10*g.order.Assurance, 0) + " winters of 10"})
	}
	return out
}

// actionWords gives an action with its date as a grower reads it.
func actionWords(t forecast.Turn) string {
	if t.Action == forecast.LiftBy {
		return "lift by " + dayMonth(t.LastSafe)
	}
	return string(t.Action)
}

// turnNote says of a planting what the schedule holds, else why.
func turnNote(t forecast.Turn) string {
	switch {
	case !finite(t.ShareLost) || t.Action == forecast.LookFirst:
		return plain(t.Why)
	case finite(t.InTime):
		return "in time " + percent(t.InTime) + " %, lost " + number(100*t.ShareLost, 0) + " %"
	}
	return "lost " + number(100*t.ShareLost, 0) + " %"
}

// areaWords gives a row's area and kind.
func areaWords(t forecast.Turn) string {
	var parts []string
	if finite(t.AreaM2) {
		parts = append(parts, number(t.AreaM2, 0)+" m²")
	}
	if kind := plain(t.Kind); kind != "" {
		parts = append(parts, kind)
	}
	return strings.Join(parts, ", ")
}

func orderNames(o *forecast.Order) []string {
	var p forecast.Picks
	for _, t := range o.Rows {
		p.Rows = append(p.Rows, t.Pick)
	}
	return pickNames(&p)
}

func orderDesc(o *forecast.Order, names []string) string {
	var b strings.Builder
	b.WriteString(o.Answer(names))
	for i, t := range o.Rows {
		fmt.Fprintf(&b, " %d. %s: %s", i+1, names[i], plain(t.Say))
	}
	b.WriteString(" " + orderFoot(o))
	return b.String()
}

// orderFoot says what is counted, and why there is no schedule.
func orderFoot(o *forecast.Order) string {
	s := fmt.Sprintf("Safe: at odds of %s %% or better the belts lift enough, the ground is shaded and no root has frozen, over %s. ", number(100*o.Assurance, 0), pastWinters(o.Traces))
	if o.NoSchedule != "" {
		return s + "No schedule, only last safe dates: " + plain(o.NoSchedule) + "."
	}
	return s + o.RulesWords()
}
