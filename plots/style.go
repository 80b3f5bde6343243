package plots

import (
	"fmt"
	"image/color"
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// tone is one colour of the palette: as printed on paper, and as shown on a
// dark screen. Charts are drawn with paper colours; the page re-colours them
// by rules on those exact values, so no two tones share a paper colour.
type tone struct {
	name        string
	paper, dark color.NRGBA
}

func rgb(hex uint32) color.NRGBA {
	return color.NRGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: 255}
}

// The palette. Lightness carries the order of the classes and dashes, glyphs
// and labels carry the identity of the lines, so that nothing rests on hue.
var (
	paper   = tone{"paper", rgb(0xffffff), rgb(0x14191c)}
	ink     = tone{"ink", rgb(0x1c2529), rgb(0xe8edef)}
	soft    = tone{"soft", rgb(0x4d5b64), rgb(0xaebbc3)}
	axis    = tone{"axis", rgb(0x7a8890), rgb(0x77858d)}
	grid    = tone{"grid", rgb(0xdce2e5), rgb(0x30393f)}
	wash    = tone{"wash", rgb(0xf4f6f3), rgb(0x1b2226)}
	frost   = tone{"frost", rgb(0x2c6a99), rgb(0x8cc4ee)}
	pale    = tone{"pale", rgb(0x83abc9), rgb(0x3f6788)} // frost after the as-of day
	classes = [4]tone{                                   // of odds, from little to enough
		{"odds0", rgb(0xf3ecd9), rgb(0x20272a)},
		{"odds1", rgb(0xdfe8dc), rgb(0x2a3f3d)},
		{"odds2", rgb(0xa9cdc3), rgb(0x36605b)},
		{"odds3", rgb(0x14524f), rgb(0x93ddd0)},
	}
	onClass = [4]tone{ink, ink, ink, {"onodds3", rgb(0xfefefe), rgb(0x0c1f1d)}}
	lines   = [maxTogether]tone{
		{"line0", rgb(0x1b4b8a), rgb(0x82b4f5)},
		{"line1", rgb(0xc2500f), rgb(0xf2a067)},
		{"line2", rgb(0x148a78), rgb(0x52d1ba)},
		{"line3", rgb(0x94357f), rgb(0xdd92cb)},
	}
)

// maxTogether is the most lines that one panel holds.
const maxTogether = 4

// dashes tells the lines of one panel apart without colour.
var dashes = [maxTogether][]vg.Length{nil, {7, 3}, {1.5, 2.5}, {8, 2.5, 1.5, 2.5}}

func palette() []tone {
	all := []tone{paper, ink, soft, axis, grid, wash, frost, pale, onClass[3]}
	all = append(all, classes[:]...)
	return append(all, lines[:]...)
}

func hexOf(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// darkRules gives the style sheet rules that re-colour drawn charts for a
// dark screen.
func darkRules() string {
	var b strings.Builder
	for _, t := range palette() {
		p, d := hexOf(t.paper), hexOf(t.dark)
		fmt.Fprintf(&b, "svg [fill=\"%s\"]{fill:%s}svg [stroke=\"%s\"]{stroke:%s}\n", p, d, p, d)
	}
	return b.String()
}

// classRules gives the style sheet rules that ground a table's cells in the
// classes of odds, on paper and on a dark screen.
func classRules() string {
	var light, dark strings.Builder
	for i, c := range classes {
		fmt.Fprintf(&light, ".k%d{background:%s;color:%s}", i, hexOf(c.paper), hexOf(onClass[i].paper))
		fmt.Fprintf(&dark, ".k%d{background:%s;color:%s}", i, hexOf(c.dark), hexOf(onClass[i].dark))
	}
	return light.String() + "\n@media screen and (prefers-color-scheme:dark){" + dark.String() + "}\n"
}

// alpha gives the paper colour of t let through by a.
func (t tone) alpha(a uint8) color.NRGBA {
	c := t.paper
	c.A = a
	return c
}

// fontStack names faces of the same widths as the one that measures, then
// whatever the device has.
const fontStack = "'Liberation Sans', Arimo, Helvetica, Arial, sans-serif"

// lettering is a size and weight of text.
type lettering struct {
	size vg.Length
	bold bool
}

var (
	titleText  = lettering{20, true}
	leadText   = lettering{13, false}
	bodyText   = lettering{12, false}
	strongText = lettering{12, true}
	smallText  = lettering{10.5, false}
	tinyText   = lettering{9.5, false}
)

func (l lettering) face() font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans", Size: l.size}
	if l.bold {
		f.Weight = xfont.WeightBold
	}
	return font.DefaultCache.Lookup(f, l.size)
}
