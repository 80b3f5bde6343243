package plots

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// Cross draws the best pairs of parents: all lines by top length and hardiness,
// the progeny of the first pairs between their parents with what selection
// moves, and a row for each pair with its chance to hold.
func Cross(x *forecast.Crosses) Chart {
	return crossLayoutOf(x, false).chart()
}

// phoneCross is the same chart for a narrow screen, without a heading.
func phoneCross(x *forecast.Crosses) Chart {
	g := crossLayoutOf(x, true)
	g.bare = true
	return g.chart()
}

// The pairs that the picture shows: by their progeny in the field of traits, and
// with their chances in rows.
const (
	fieldPairs = 3
	rowPairs   = 10
)

type crossLayout struct {
	x            *forecast.Crosses
	field, rows  []forecast.Cross
	narrow, bare bool
	width        vg.Length

	lengths, hards                [2]float64 // of the field, left to right and bottom to top
	lengthTicks, hardTicks        []float64
	fieldLeft, fieldWide          vg.Length
	fieldHigh, rowLeft, rowWide   vg.Length // rowWide is the scale's
	rowNames, rowStep, rowsHeight vg.Length
}

const (
	crossHead vg.Length = 22 // above the field and the rows
	crossAxis vg.Length = 40 // below the field
)

func crossLayoutOf(x *forecast.Crosses, narrow bool) crossLayout {
	g := crossLayout{x: x, narrow: narrow, width: 900, fieldLeft: 50, fieldWide: 390, fieldHigh: 300, rowLeft: 476, rowNames: 180, rowWide: 145, rowStep: 26}
	if narrow {
		g.width, g.fieldLeft, g.fieldWide, g.fieldHigh = 360, 40, 304, 260
		g.rowLeft, g.rowNames, g.rowWide, g.rowStep = 10, 4, 240, 40
	}
	if x.Winters > 0 {
		g.field, g.rows = x.Pairs[:min(len(x.Pairs), fieldPairs)], x.Pairs[:min(len(x.Pairs), rowPairs)]
	}
	g.rowsHeight = g.rowStep * vg.Length(len(g.rows))
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	see := func(lengthCM, hardC float64) {
		for i, v := range [2]float64{lengthCM, hardC} {
			low[i], high[i] = math.Min(low[i], v), math.Max(high[i], v)
		}
	}
	for _, p := range x.Parents {
		see(p.TopLengthCM, p.HardinessC)
	}
	for _, c := range g.field {
		l, h := c.TopLengthCM, c.HardinessC
		see(l.Value-l.Spread, h.Value-h.Spread)
		see(l.Value+l.Spread, h.Value+h.Spread)
		see(l.Value+l.Response, h.Value+h.Response)
	}
	for i, least := range [2]float64{6, 2} {
		if !(low[i] <= high[i]) {
			low[i], high[i] = [2]float64{40, -9.5}[i], [2]float64{40, -9.5}[i]
		}
		if wider := (least - (high[i] - low[i])) / 2; wider > 0 {
			low[i], high[i] = low[i]-wider, high[i]+wider
		}
	}
	g.lengths[0], g.lengths[1], g.lengthTicks = around(low[0], high[0])
	g.hards[1], g.hards[0], g.hardTicks = around(low[1], high[1]) // hardier is higher
	return g
}

// at places a pair of traits in the field, whose lower left corner is at y.
func (g crossLayout) at(lengthCM, hardC float64, y vg.Length) vg.Point {
	return vg.Point{
		X: g.fieldLeft + g.fieldWide*vg.Length((lengthCM-g.lengths[0])/(g.lengths[1]-g.lengths[0])),
		Y: y + g.fieldHigh*vg.Length((hardC-g.hards[0])/(g.hards[1]-g.hards[0])),
	}
}

func (g crossLayout) chart() Chart {
	c := Chart{Title: "Which lines to cross?", Finding: g.finding(), Desc: g.desc(), width: g.width, bare: g.bare, keys: g.keys()}
	below := g.fieldHigh + crossAxis
	if !g.narrow {
		below = max(below, g.rowsHeight+crossAxis)
	}
	c.height = crossHead + below
	if g.narrow && len(g.rows) > 0 {
		c.height += crossHead + g.rowsHeight + 22
	}
	var foot []string
	if !g.bare {
		foot = smallText.wrap(crossFoot(g.x), g.width-2*margin, 4)
	}
	c.height += 15*vg.Length(len(foot)) + margin
	c.draw = func(d draw.Canvas, top vg.Length) {
		y := top - crossHead - g.fieldHigh
		g.drawField(d, y)
		if len(g.rows) > 0 {
			from := top - crossHead
			if g.narrow {
				from = y - crossAxis - crossHead
			}
			g.drawRows(d, from)
		}
		for i, line := range foot {
			write(d, smallText, vg.Point{X: margin, Y: margin + 15*vg.Length(len(foot)-1-i)}, left, soft, line)
		}
	}
	return c
}

// drawField draws lines and progeny by length and hardiness; y is the field's
// lower edge.
func (g crossLayout) drawField(d draw.Canvas, y vg.Length) {
	right0, high := g.fieldLeft+g.fieldWide, y+g.fieldHigh
	write(d, strongText, vg.Point{X: margin, Y: high + 9}, left, ink, "Hardiness, °C, hardier above")
	for _, t := range g.lengthTicks {
		x := g.at(t, g.hards[0], y).X
		rule(d, grid, 0.7, nil, x, y, x, high)
		write(d, tinyText, vg.Point{X: x, Y: y - 13}, middle, soft, number(t, 0))
	}
	decimals := max(0, -int(math.Floor(math.Log10(math.Abs(g.hardTicks[1]-g.hardTicks[0]))+1e-9)))
	for _, t := range g.hardTicks {
		h := g.at(g.lengths[0], t, y).Y
		rule(d, grid, 0.7, nil, g.fieldLeft, h, right0, h)
		write(d, tinyText, vg.Point{X: g.fieldLeft - 5, Y: h - 3}, right, soft, number(t, decimals))
	}
	write(d, strongText, vg.Point{X: g.fieldLeft + g.fieldWide/2, Y: y - 30}, middle, ink, "Top length, cm")
	for i := len(g.field) - 1; i >= 0; i-- {
		g.drawProgeny(d, i, y)
	}
	var named []int
	for i, p := range g.x.Parents {
		q := g.at(p.TopLengthCM, p.HardinessC, y)
		glyph(d, parentSign(p), ink, q.X, q.Y, 3.4, p.Basis == forecast.Assumed)
		if len(g.x.Parents) <= 8 || slices.ContainsFunc(g.field, func(c forecast.Cross) bool { return c.A == i || c.B == i }) {
			named = append(named, i)
		}
	}
	g.nameParents(d, named, y)
}

// nameParents writes names beside their marks, moved apart where they would
// touch a rank or one another; a name that finds no place is left to the rows.
func (g crossLayout) nameParents(d draw.Canvas, named []int, y vg.Length) {
	const most, half vg.Length = 110, 7
	var taken []vg.Rectangle
	for _, c := range g.field {
		q := g.at(c.TopLengthCM.Value, c.HardinessC.Value, y)
		taken = append(taken, vg.Rectangle{Min: q.Sub(vg.Point{X: 9, Y: 9}), Max: q.Add(vg.Point{X: 9, Y: 9})})
	}
	for _, i := range named {
		p := g.x.Parents[i]
		q := g.at(p.TopLengthCM, p.HardinessC, y)
		name := smallText.cutName(parentName(p), most)
		room := smallText.room(name)
		for k := range 16 {
			side, x, from := left, q.X+7, q.X+7
			if k%2 == 1 {
				side, x, from = right, q.X-7, q.X-7-room
			}
			mid := q.Y + vg.Length([...]int{0, 13, -13, 26, -26, 39, -39, 52}[k/2])
			r := vg.Rectangle{Min: vg.Point{X: from, Y: mid - half}, Max: vg.Point{X: from + room, Y: mid + half}}
			if from < g.fieldLeft || from+room > g.fieldLeft+g.fieldWide+10 || r.Min.Y < y || r.Max.Y > y+g.fieldHigh || touches(r, taken) {
				continue
			}
			taken = append(taken, r)
			if k > 1 {
				rule(d, axis, 0.7, nil, q.X, q.Y, x, mid)
			}
			shown := room / slack
			box(d, paper, x-vg.Length(side)*shown, mid-5.5, x+(1-vg.Length(side))*shown, mid+5.5)
			write(d, smallText, vg.Point{X: x, Y: mid - 3.5}, side, ink, name)
			break
		}
	}
}

func touches(r vg.Rectangle, taken []vg.Rectangle) bool {
	return slices.ContainsFunc(taken, func(t vg.Rectangle) bool {
		return r.Min.X < t.Max.X && t.Min.X < r.Max.X && r.Min.Y < t.Max.Y && t.Min.Y < r.Max.Y
	})
}

// drawProgeny draws the progeny of the i-th pair: a line between the parents, one
// SD about their middle, and an arrow to what is chosen.
func (g crossLayout) drawProgeny(d draw.Canvas, i int, y vg.Length) {
	c, t := g.field[i], lines[i]
	a, b := g.x.Parents[c.A], g.x.Parents[c.B]
	from, to := g.at(a.TopLengthCM, a.HardinessC, y), g.at(b.TopLengthCM, b.HardinessC, y)
	rule(d, t, 1, dashes[i], from.X, from.Y, to.X, to.Y)
	l, h := c.TopLengthCM, c.HardinessC
	const corners = 36
	var ring []vg.Point
	for k := range corners {
		angle := 2 * math.Pi * float64(k) / corners
		ring = append(ring, g.at(l.Value+l.Spread*math.Cos(angle), h.Value+h.Spread*math.Sin(angle), y))
	}
	d.FillPolygon(t.alpha(28), ring)
	d.StrokeLines(draw.LineStyle{Color: t.paper, Width: 1.2, Dashes: dashes[i]}, append(ring, ring[0]))
	mid, end := g.at(l.Value, h.Value, y), g.at(l.Value+l.Response, h.Value+h.Response, y)
	if along := end.Sub(mid); math.Hypot(float64(along.X), float64(along.Y)) > 8 {
		rule(d, t, 1.6, nil, mid.X, mid.Y, end.X, end.Y)
		unit := along.Scale(1 / vg.Length(math.Hypot(float64(along.X), float64(along.Y))))
		across := vg.Point{X: -unit.Y, Y: unit.X}
		back := end.Sub(unit.Scale(7))
		d.FillPolygon(t.paper, []vg.Point{end, back.Add(across.Scale(3.5)), back.Sub(across.Scale(3.5))})
	}
	numbered(d, t, i+1, mid)
}

// numbered draws a pair's rank in a disc.
func numbered(d draw.Canvas, t tone, rank int, at vg.Point) {
	glyph(d, 0, t, at.X, at.Y, 7.5, false)
	write(d, strongText, vg.Point{X: at.X, Y: at.Y - 4}, middle, paper, fmt.Sprint(rank))
}

// parentSign is a diamond for checks, a dot for the others.
func parentSign(p forecast.Parent) int {
	if p.Kind == "check" {
		return 3
	}
	return 0
}

func parentName(p forecast.Parent) string {
	if name := isolated(plain(p.Line)); name != "" {
		return name
	}
	return "(no name)"
}
