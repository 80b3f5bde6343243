package plots

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
)

// drawn is an SVG as a reader's program sees it.
type drawn struct {
	raw           []byte
	width, height float64
	title, desc   string
	texts         []drawnText
}

type drawnText struct {
	x, y, size float64
	anchor     string
	bold       bool
	text       string
}

// box gives the text's extent in a font a tenth wider than the one that
// measures: 0.75 of the size above the baseline, 0.2 below it.
func (d drawnText) box() (x0, y0, x1, y1 float64) {
	w := lettering{vg.Length(d.size), d.bold}.room(d.text).Points() / slack * 1.1
	x0 = d.x
	switch d.anchor {
	case "middle":
		x0 -= w / 2
	case "end":
		x0 -= w
	}
	return x0, d.y - 0.75*d.size, x0 + w, d.y + 0.2*d.size
}

func draws(t *testing.T, c Chart) drawn {
	t.Helper()
	var b bytes.Buffer
	if err := c.SVG(&b); err != nil {
		t.Fatal(err)
	}
	d := drawn{raw: b.Bytes()}
	var open []string
	var text *drawnText
	decoder := xml.NewDecoder(bytes.NewReader(d.raw))
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			open = append(open, token.Name.Local)
			value := map[string]string{}
			for _, a := range token.Attr {
				value[a.Name.Local] = a.Value
				if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" {
					t.Errorf("attribute %s in %s", a.Name.Local, token.Name.Local)
				}
			}
			switch token.Name.Local {
			case "svg":
				if n, _ := fmt.Sscanf(value["viewBox"], "0 0 %f %f", &d.width, &d.height); n != 2 {
					t.Errorf("viewBox %q", value["viewBox"])
				}
			case "text":
				num := func(name string) float64 {
					x, err := strconv.ParseFloat(value[name], 64)
					if err != nil {
						t.Error(err)
					}
					return x
				}
				text = &drawnText{num("x"), num("y"), num("font-size"), value["text-anchor"], value["font-weight"] == "bold", ""}
			case "script", "image", "foreignObject", "style":
				t.Errorf("element %s", token.Name.Local)
			}
		case xml.CharData:
			if len(open) == 0 {
				continue
			}
			switch open[len(open)-1] {
			case "title":
				d.title += string(token)
			case "desc":
				d.desc += string(token)
			case "text":
				text.text += string(token)
			}
		case xml.EndElement:
			if token.Name.Local == "text" {
				d.texts = append(d.texts, *text)
			}
			open = open[:len(open)-1]
		}
	}
	return d
}

// check fails where a chart is cut, overlaps itself, or holds what no picture
// may hold.
func (d drawn) check(t *testing.T) {
	t.Helper()
	if d.title == "" || d.desc == "" {
		t.Errorf("title %q, desc %q", d.title, d.desc)
	}
	for _, bad := range []string{"NaN", "Inf", "<script", "<b>"} {
		if bytes.Contains(d.raw, []byte(bad)) {
			t.Errorf("holds %s", bad)
		}
	}
	type extent struct{ x0, y0, x1, y1 float64 }
	boxes := make([]extent, len(d.texts))
	for i, a := range d.texts {
		x0, y0, x1, y1 := a.box()
		boxes[i] = extent{x0, y0, x1, y1}
		if x0 < 0 || y0 < 0 || x1 > d.width || y1 > d.height {
			t.Errorf("%q is cut: %.0f–%.0f × %.0f–%.0f in %.0f × %.0f", a.text, x0, x1, y0, y1, d.width, d.height)
		}
		for j, b := range boxes[:i] {
			if x0 < b.x1 && b.x0 < x1 && y0 < b.y1 && b.y0 < y1 {
				t.Errorf("%q overlaps %q at %.0f, %.0f", a.text, d.texts[j].text, x0, y0)
			}
		}
	}
}

func (d drawn) names(t *testing.T, lines []string) {
	t.Helper()
	all := d.desc
	for _, x := range d.texts {
		all += "\n" + x.text
	}
	for _, name := range lines {
		if !strings.Contains(all, plain(name)) {
			t.Errorf("line %q is not named", name)
		}
	}
}

func mustDraw(t *testing.T, c Chart, err error) drawn {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	d := draws(t, c)
	d.check(t)
	return d
}
