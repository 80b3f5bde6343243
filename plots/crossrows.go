package plots

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// chanceAt places a chance on the scale of the rows.
func (g crossLayout) chanceAt(p float64) vg.Length {
	return g.rowLeft + g.rowNames + g.rowWide*vg.Length(p)
}

// drawRows draws the chances of the first pairs; top is the upper edge.
func (g crossLayout) drawRows(d draw.Canvas, top vg.Length) {
	write(d, strongText, vg.Point{X: g.rowLeft, Y: top + 9}, left, ink, "Chance to hold through the window")
	bottom := top - g.rowsHeight
	for i := 0; i <= 4; i++ {
		x := g.chanceAt(float64(i) / 4)
		rule(d, grid, 0.7, nil, x, top, x, bottom)
		if i%2 == 0 {
			write(d, tinyText, vg.Point{X: x, Y: bottom - 13}, middle, soft, number(float64(i)/4, 1))
		}
	}
	for i, c := range g.rows {
		y := top - g.rowStep*vg.Length(i) - g.rowStep/2
		words := fmt.Sprintf("%s (%s–%s)", number(c.Chosen, 2), number(c.ChosenLo, 2), number(c.ChosenHi, 2))
		at, room := vg.Point{X: g.rowLeft + 22, Y: y - 3.5}, g.rowNames-30
		if g.narrow {
			at.Y, room = y+8, g.width-g.rowLeft-34
		}
		if c.Related != "" {
			if g.narrow {
				write(d, tinyText, vg.Point{X: g.width - 8, Y: at.Y}, right, soft, "related")
				room -= tinyText.room("related")
			} else {
				at.Y += 4
				write(d, tinyText, at.Sub(vg.Point{Y: 10}), left, soft, "related")
			}
		}
		t := ink
		if i < len(g.field) {
			t = lines[i]
			numbered(d, t, i+1, vg.Point{X: g.rowLeft + 8, Y: at.Y + 3.5})
		} else {
			write(d, smallText, vg.Point{X: g.rowLeft + 8, Y: at.Y}, middle, soft, fmt.Sprint(i+1))
		}
		write(d, smallText, at, left, ink, g.cutPair(c, room))
		if g.narrow {
			y -= 7
		}
		g.drawChance(d, c, t, y)
		write(d, tinyText, vg.Point{X: g.rowLeft + g.rowNames + g.rowWide + 8, Y: y - 3.5}, left, ink, words)
	}
}

// drawChance draws one pair's chance with its doubt, and those of the parents
// themselves as ticks.
func (g crossLayout) drawChance(d draw.Canvas, c forecast.Cross, t tone, y vg.Length) {
	rule(d, t, 2.4, nil, g.chanceAt(c.ChosenLo), y, g.chanceAt(c.ChosenHi), y)
	for _, p := range []float64{g.x.Parents[c.A].Holds, g.x.Parents[c.B].Holds} {
		rule(d, soft, 1.2, nil, g.chanceAt(p), y-6, g.chanceAt(p), y+6)
	}
	glyph(d, 0, t, g.chanceAt(c.Chosen), y, 4, false)
}

// pairName names both parents.
func (g crossLayout) pairName(c forecast.Cross) string {
	return parentName(g.x.Parents[c.A]) + " × " + parentName(g.x.Parents[c.B])
}

// cutPair names both parents within a width.
func (g crossLayout) cutPair(c forecast.Cross, room vg.Length) string {
	const sign = " × "
	a, b := parentName(g.x.Parents[c.A]), parentName(g.x.Parents[c.B])
	if whole := a + sign + b; smallText.room(whole) <= room {
		return whole
	}
	half := (room - smallText.room(sign)) / 2
	return smallText.cutName(a, half) + sign + smallText.cutName(b, half)
}

// keys explains the signs.
func (g crossLayout) keys() []key {
	if len(g.field) == 0 {
		return nil
	}
	return []key{
		{func(c draw.Canvas, x, y vg.Length) { glyph(c, 0, ink, x+5, y+3.5, 3.4, false) }, 10, "line"},
		{func(c draw.Canvas, x, y vg.Length) { glyph(c, 3, ink, x+5, y+3.5, 3.4, false) }, 10, "check"},
		{func(c draw.Canvas, x, y vg.Length) { numbered(c, lines[0], 1, vg.Point{X: x + 8, Y: y + 3.5}) }, 16, "progeny by rank, ring 1 SD of its lines"},
		{func(c draw.Canvas, x, y vg.Length) {
			rule(c, lines[0], 1.6, nil, x, y+3.5, x+18, y+3.5)
			c.FillPolygon(lines[0].paper, []vg.Point{{X: x + 24, Y: y + 3.5}, {X: x + 17, Y: y + 7}, {X: x + 17, Y: y}})
		}, 24, "to those chosen"},
		{func(c draw.Canvas, x, y vg.Length) {
			rule(c, ink, 2.4, nil, x, y+3.5, x+30, y+3.5)
			glyph(c, 0, ink, x+15, y+3.5, 4, false)
		}, 30, "those chosen, 5 to 95 %"},
		{func(c draw.Canvas, x, y vg.Length) { rule(c, soft, 1.2, nil, x+3, y-2, x+3, y+9) }, 6, "a parent itself"},
	}
}

// finding is the answer of the chart.
func (g crossLayout) finding() string { return plain(strings.Join(g.x.Answer(), " ")) }

// crossFoot says what is assumed.
func crossFoot(x *forecast.Crosses) string {
	return fmt.Sprintf("Assumed: additive traits, so that progeny lines stand about their parents' middle; %s %% of them kept, chosen for what holds, of what is seen among them %s %% breeds true; whole past winters, sown like the newest planting. Roots are left out.",
		number(100*x.Select, 0), number(100*x.Heritable, 0))
}

// desc tells every pair shown in words.
func (g crossLayout) desc() string {
	var b strings.Builder
	b.WriteString(g.finding())
	for i, c := range g.rows {
		fmt.Fprintf(&b, " %d. %s: chance %s (%s to %s); middle of the progeny: top length %s cm, hardiness %s °C.", i+1, g.pairName(c), number(c.Chosen, 2), number(c.ChosenLo, 2), number(c.ChosenHi, 2),
			number(c.TopLengthCM.Value, 1), number(c.HardinessC.Value, 1))
	}
	return b.String() + " " + crossFoot(g.x)
}
