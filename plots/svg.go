package plots

import (
	"bytes"
	"fmt"
	"html"
	"image"
	"image/color"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// sheet is a canvas that writes compact SVG: y upwards as gonum/plot draws,
// text anchored where it was aligned, so that a reader's wider font grows away
// from its anchor instead of drifting into its neighbour.
type sheet struct {
	body   bytes.Buffer
	height vg.Length
	stack  []pen
}

type pen struct {
	color  color.NRGBA
	width  vg.Length
	dash   []vg.Length
	groups int
}

func newSheet(height vg.Length) *sheet {
	s := &sheet{height: height, stack: []pen{{}}}
	vg.Initialize(s)
	return s
}

func (s *sheet) top() *pen { return &s.stack[len(s.stack)-1] }

// SetLineWidth is part of vg.Canvas.
func (s *sheet) SetLineWidth(w vg.Length) { s.top().width = w }

// SetLineDash is part of vg.Canvas; the offset is not used by this package.
func (s *sheet) SetLineDash(d []vg.Length, _ vg.Length) { s.top().dash = d }

// SetColor is part of vg.Canvas.
func (s *sheet) SetColor(c color.Color) {
	if c == nil {
		c = color.Black
	}
	s.top().color = color.NRGBAModel.Convert(c).(color.NRGBA)
}

// Rotate is part of vg.Canvas.
func (s *sheet) Rotate(rad float64) {
	s.group(fmt.Sprintf("rotate(%s 0 %s)", tenths(-rad*180/math.Pi), tenths(s.height.Points())))
}

// Translate is part of vg.Canvas.
func (s *sheet) Translate(p vg.Point) {
	s.group(fmt.Sprintf("translate(%s %s)", tenths(p.X.Points()), tenths(-p.Y.Points())))
}

// Scale is part of vg.Canvas.
func (s *sheet) Scale(x, y float64) {
	h := s.height.Points()
	s.group(fmt.Sprintf("matrix(%g 0 0 %g 0 %g)", x, y, h-y*h))
}

func (s *sheet) group(transform string) {
	fmt.Fprintf(&s.body, "<g transform=\"%s\">", transform)
	s.top().groups++
}

// Push is part of vg.Canvas.
func (s *sheet) Push() {
	p := *s.top()
	p.groups = 0
	s.stack = append(s.stack, p)
}

// Pop is part of vg.Canvas.
func (s *sheet) Pop() {
	s.body.WriteString(strings.Repeat("</g>", s.top().groups))
	s.stack = s.stack[:len(s.stack)-1]
}

// Stroke is part of vg.Canvas.
func (s *sheet) Stroke(p vg.Path) {
	pen := s.top()
	if pen.width <= 0 || len(p) == 0 {
		return
	}
	fmt.Fprintf(&s.body, `<path d="%s" fill="none" stroke="%s"`, s.outline(p), hexOf(pen.color))
	opacity(&s.body, "stroke-opacity", pen.color)
	fmt.Fprintf(&s.body, ` stroke-width="%s"`, tenths(pen.width.Points()))
	if len(pen.dash) > 0 {
		parts := make([]string, len(pen.dash))
		for i, d := range pen.dash {
			parts[i] = tenths(d.Points())
		}
		fmt.Fprintf(&s.body, ` stroke-dasharray="%s"`, strings.Join(parts, " "))
	}
	s.body.WriteString("/>\n")
}

// Fill is part of vg.Canvas.
func (s *sheet) Fill(p vg.Path) {
	if len(p) == 0 {
		return
	}
	fmt.Fprintf(&s.body, `<path d="%s" fill="%s"`, s.outline(p), hexOf(s.top().color))
	opacity(&s.body, "fill-opacity", s.top().color)
	s.body.WriteString("/>\n")
}

func opacity(b *bytes.Buffer, attribute string, c color.NRGBA) {
	if c.A < 255 {
		fmt.Fprintf(b, ` %s="%.2f"`, attribute, float64(c.A)/255)
	}
}

// outline writes a path with coordinates relative to the point before, in
// tenths, rounded from the absolute place so that errors do not add up.
func (s *sheet) outline(p vg.Path) string {
	var b strings.Builder
	var x, y int
	place := func(q vg.Point) (int, int) {
		return int(math.Round(10 * q.X.Points())), int(math.Round(10 * (s.height - q.Y).Points()))
	}
	step := func(command byte, q vg.Point) {
		nx, ny := place(q)
		b.WriteByte(command)
		b.WriteString(tenths(float64(nx-x) / 10))
		if ny >= y {
			b.WriteByte(' ')
		}
		b.WriteString(tenths(float64(ny-y) / 10))
		x, y = nx, ny
	}
	for _, part := range thinned(p) {
		switch part.Type {
		case vg.MoveComp:
			x, y = 0, 0
			step('M', part.Pos)
		case vg.LineComp:
			step('l', part.Pos)
		case vg.CloseComp:
			b.WriteByte('z')
		default:
			panic("plots: arcs and curves are drawn as polygons")
		}
	}
	return b.String()
}

// thinned leaves out points of a path that no eye could miss: those within
// 0.15 of the line that remains (Ramer 1972; Douglas and Peucker 1973).
func thinned(p vg.Path) vg.Path {
	var out vg.Path
	for i := 0; i < len(p); {
		j := i + 1
		for j < len(p) && p[j].Type == vg.LineComp {
			j++
		}
		out = append(out, p[i])
		if j-i > 1 {
			out = appendThinned(out, p[i:j])
		}
		i = j
	}
	return out
}

// appendThinned appends what is needed of run, but for its first point.
func appendThinned(out, run vg.Path) vg.Path {
	const tolerance = 0.15
	far, at := 0.0, 0
	for i := 1; i < len(run)-1; i++ {
		if off := distance(run[i].Pos, run[0].Pos, run[len(run)-1].Pos); off > far {
			far, at = off, i
		}
	}
	if far <= tolerance {
		return append(out, run[len(run)-1])
	}
	out = appendThinned(out, run[:at+1])
	return appendThinned(out, run[at:])
}

// distance gives how far q is from the segment between a and b.
func distance(q, a, b vg.Point) float64 {
	along, out := b.Sub(a), q.Sub(a)
	t := 0.0
	if l := along.Dot(along); l > 0 {
		t = min(1, max(0, float64(out.Dot(along)/l)))
	}
	rest := out.Sub(along.Scale(vg.Length(t)))
	return math.Hypot(rest.X.Points(), rest.Y.Points())
}

// tenths prints x to one decimal, shortest form.
func tenths(x float64) string {
	s := strconv.FormatFloat(x, 'f', 1, 64)
	s = strings.TrimSuffix(s, ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

// FillString is part of vg.Canvas; text starts at p.
func (s *sheet) FillString(f font.Face, p vg.Point, text string) {
	l := lettering{size: f.Font.Size, bold: f.Font.Weight > 0}
	s.text(l, p, left, s.top().color, text)
}

// DrawImage is part of vg.Canvas; this package draws no images.
func (s *sheet) DrawImage(vg.Rectangle, image.Image) { panic("plots: images are not drawn") }

// align is where text stands against its point: 0 starts there, ½ is centred,
// 1 ends there.
type align float64

const (
	left   align = 0
	middle align = 0.5
	right  align = 1
)

func (s *sheet) text(l lettering, p vg.Point, a align, c color.NRGBA, text string) {
	fmt.Fprintf(&s.body, `<text x="%s" y="%s" font-size="%s" fill="%s"`,
		tenths(p.X.Points()), tenths((s.height - p.Y).Points()), tenths(l.size.Points()), hexOf(c))
	if a == middle {
		s.body.WriteString(` text-anchor="middle"`)
	} else if a == right {
		s.body.WriteString(` text-anchor="end"`)
	}
	if l.bold {
		s.body.WriteString(` font-weight="bold"`)
	}
	s.body.WriteString(">" + html.EscapeString(text) + "</text>\n")
}

// write puts text on c with its baseline at p.
func write(c draw.Canvas, l lettering, p vg.Point, a align, t tone, text string) {
	if s, ok := c.Canvas.(*sheet); ok {
		s.text(l, p, a, t.paper, text)
		return
	}
	f := l.face()
	text = boxed(visual(text), f)
	c.SetColor(t.paper)
	p.X -= vg.Length(a) * f.Width(text)
	c.FillString(f, p, text)
}
