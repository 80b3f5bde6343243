// Package plots draws the forecast's results: charts as SVG and one page that
// holds the whole answer. It shows no number that the results do not hold;
// axis ticks and the placing of labels are its own.
//
// Lines are thinned as Ramer 1972 (Computer Graphics and Image Processing
// 1:244–256) and Douglas and Peucker 1973 (Cartographica 10:112–122) do, both
// from memory.
package plots

import (
	"fmt"
	"html"
	"io"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Chart is one picture that answers one question. The zero Chart is not
// usable; LeafMass, Shade, Calendar, Order, Events, Traits and Reliability make one.
type Chart struct {
	Title   string // the question, in words
	Finding string // the answer in a sentence, computed from the results
	Desc    string // what the picture shows, line by line, for those who cannot see it

	width  vg.Length
	keys   []key
	height vg.Length // of the drawing below heading and keys
	draw   func(c draw.Canvas, top vg.Length)
	bare   bool // without heading, which the page sets itself
}

// key explains one sign of a chart: a swatch of the given width, then text.
type key struct {
	swatch func(c draw.Canvas, x, y vg.Length)
	width  vg.Length
	text   string
}

const (
	margin    vg.Length = 14
	keyGap    vg.Length = 16
	keyHeight vg.Length = 18
	leadStep  vg.Length = 18
)

// SVG writes the chart as one SVG document with viewBox, title and desc. The
// bytes depend on the results alone.
func (c Chart) SVG(w io.Writer) error {
	if _, err := io.WriteString(w, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"); err != nil {
		return err
	}
	return c.element(w, "chart")
}

// element writes the svg element; id makes the names inside it unique on a
// page.
func (c Chart) element(w io.Writer, id string) error {
	width, height := c.size()
	s := newSheet(height)
	c.paint(draw.NewCanvas(s, width, height))
	_, err := fmt.Fprintf(w, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%[1]s" height="%[2]s" role="img" aria-labelledby="%[3]s-t %[3]s-d" font-family="%[4]s">
<title id="%[3]s-t">%[5]s</title>
<desc id="%[3]s-d">%[6]s</desc>
%[7]s</svg>
`, tenths(width.Points()), tenths(height.Points()), html.EscapeString(id), fontStack,
		html.EscapeString(c.Title), html.EscapeString(c.Desc), s.body.Bytes())
	return err
}

func (c Chart) size() (width, height vg.Length) {
	return c.width, c.headHeight() + vg.Length(len(c.keyRows()))*keyHeight + c.height
}

func (c Chart) headHeight() vg.Length {
	if c.bare {
		return 4
	}
	return margin + titleText.size + 6 + vg.Length(len(c.lead()))*leadStep + 8
}

func (c Chart) lead() []string { return leadText.wrap(c.Finding, c.width-2*margin, 6) }

func (c Chart) keyRows() [][]key {
	var rows [][]key
	x := c.width
	for _, k := range c.keys {
		need := k.width + 6 + smallText.room(k.text)
		if len(rows) == 0 || x+need > c.width-margin {
			rows = append(rows, nil)
			x = margin
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], k)
		x += need + keyGap
	}
	return rows
}

// paint draws the whole chart on a canvas of its size.
func (c Chart) paint(d draw.Canvas) {
	width, height := c.size()
	box(d, paper, 0, 0, width, height)
	y := height
	if !c.bare {
		y -= margin + titleText.size
		write(d, titleText, vg.Point{X: margin, Y: y + 3}, left, ink, c.Title)
		y -= 6
		for _, line := range c.lead() {
			y -= leadStep
			write(d, leadText, vg.Point{X: margin, Y: y + 5}, left, soft, line)
		}
		y -= 8
	} else {
		y -= c.headHeight()
	}
	for _, row := range c.keyRows() {
		x := margin
		y -= keyHeight
		for _, k := range row {
			k.swatch(d, x, y+5)
			write(d, smallText, vg.Point{X: x + k.width + 6, Y: y + 5}, left, soft, k.text)
			x += k.width + 6 + smallText.room(k.text) + keyGap
		}
	}
	c.draw(d, y)
}

// box fills the rectangle from (x0, y0) to (x1, y1).
func box(c draw.Canvas, t tone, x0, y0, x1, y1 vg.Length) {
	c.FillPolygon(t.paper, []vg.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}})
}

// rule strokes a line of the given width from (x0, y0) to (x1, y1).
func rule(c draw.Canvas, t tone, width vg.Length, dash []vg.Length, x0, y0, x1, y1 vg.Length) {
	c.StrokeLine2(draw.LineStyle{Color: t.paper, Width: width, Dashes: dash}, x0, y0, x1, y1)
}

// frameBox strokes the outline of a rectangle.
func frameBox(c draw.Canvas, t tone, width, x0, y0, x1, y1 vg.Length) {
	c.StrokeLines(draw.LineStyle{Color: t.paper, Width: width},
		[]vg.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}, {X: x0, Y: y0}})
}

// glyph draws the sign of line i, hollow where a note was weighed.
func glyph(c draw.Canvas, i int, t tone, x, y, r vg.Length, hollow bool) {
	shape := glyphs[i%len(glyphs)]
	pts := make([]vg.Point, 0, len(shape)+1)
	for _, p := range shape {
		pts = append(pts, vg.Point{X: x + r*vg.Length(p[0]), Y: y + r*vg.Length(p[1])})
	}
	if !hollow {
		c.FillPolygon(t.paper, pts)
		return
	}
	c.FillPolygon(paper.paper, pts)
	c.StrokeLines(draw.LineStyle{Color: t.paper, Width: 1.5}, append(pts, pts[0]))
}

// glyphs are a round dot, a square, a triangle and a diamond of like weight.
var glyphs = [maxTogether][][2]float64{
	{{1, 0}, {.87, .5}, {.5, .87}, {0, 1}, {-.5, .87}, {-.87, .5}, {-1, 0}, {-.87, -.5}, {-.5, -.87}, {0, -1}, {.5, -.87}, {.87, -.5}},
	{{.9, .9}, {-.9, .9}, {-.9, -.9}, {.9, -.9}},
	{{0, 1.2}, {-1.1, -.8}, {1.1, -.8}},
	{{1.3, 0}, {0, 1.3}, {-1.3, 0}, {0, -1.3}},
}
