package plots

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"wintertop/forecast"
	"wintertop/weather"
)

var november = weather.NewDate(2012, 11, 15)

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

func TestChartsOfAnySize(t *testing.T) {
	for _, n := range []int{0, 1, 2, 4, 5, 8, 20, 60} {
		for _, hostileNames := range []bool{false, true} {
			t.Run(fmt.Sprintf("%d lines, hostile %v", n, hostileNames), func(t *testing.T) {
				s, p := season(n, november), picks(n, november)
				if hostileNames {
					rename(s, p)
				}
				var lines []string
				for _, r := range p.Rows {
					lines = append(lines, r.Line)
				}
				c, err := LeafMass(s)
				leaf := mustDraw(t, c, err)
				leaf.names(t, lines)
				c, err = Calendar(p)
				cal := mustDraw(t, c, err)
				cal.names(t, lines)
				mustDraw(t, phoneCalendar(p), nil).names(t, lines)
				if n > 0 {
					mustDraw(t, leafPanel(s, n-1), nil).names(t, lines[n-1:])
					mustDraw(t, leafKey(s), nil)
				}
				const most = 500_000 // bytes, for 8 lines
				if n == 8 && max(len(leaf.raw), len(cal.raw)) > most {
					t.Errorf("%d and %d bytes", len(leaf.raw), len(cal.raw))
				}
			})
		}
	}
}

func TestChartsAtAnyDate(t *testing.T) {
	for _, day := range []weather.Date{
		weather.NewDate(2012, 7, 17), weather.NewDate(2012, 7, 20), weather.NewDate(2012, 9, 30), weather.NewDate(2013, 1, 30),
		weather.NewDate(2013, 2, 10), weather.NewDate(2013, 3, 12), weather.NewDate(2013, 3, 15), weather.NewDate(2013, 6, 30),
	} {
		for _, n := range []int{3, 6} {
			s := season(n, day)
			c, err := LeafMass(s)
			mustDraw(t, c, err)
			p := picks(n, day)
			c, err = Calendar(p)
			if day > p.To {
				if err == nil {
					t.Errorf("%s: a calendar after its window", day)
				}
				continue
			}
			mustDraw(t, c, err)
			mustDraw(t, phoneCalendar(p), nil)
		}
	}
}

func TestOddSeasons(t *testing.T) {
	cases := map[string]func(s *forecast.Season){
		"no leaf at all": func(s *forecast.Season) {
			for i := range s.Plantings {
				for j := range s.Plantings[i].Days {
					d := &s.Plantings[i].Days[j]
					d.LeafG, d.LeafLoG, d.LeafHiG = 0, 0, 0
				}
				s.Plantings[i].Notes = nil
			}
		},
		"holes in the numbers": func(s *forecast.Season) {
			for j := 40; j < 90; j += 7 {
				s.Plantings[0].Days[j].LeafG = math.NaN()
				s.Plantings[0].Days[j+1].LeafHiG = math.Inf(1)
			}
			s.Plantings[0].Notes[0].Value = math.NaN()
			s.Events[0].MinCanopyC = math.NaN()
		},
		"no days":   func(s *forecast.Season) { s.Plantings[0].Days = nil },
		"one day":   func(s *forecast.Season) { s.Plantings[0].Days = s.Plantings[0].Days[:1] },
		"sown late": func(s *forecast.Season) { s.Plantings[0].Days = s.Plantings[0].Days[260:] },
		"still frozen": func(s *forecast.Season) {
			e := &s.Events[len(s.Events)-1]
			e.Open, e.End, e.ThawPeakC = true, weather.Hour{}, math.NaN()
		},
		"bitter cold": func(s *forecast.Season) { s.Events[0].MinCanopyC = -31.4 },
		"no names": func(s *forecast.Season) {
			s.Plantings[0].Line, s.Plantings[0].Planting = "", ""
		},
		"twins": func(s *forecast.Season) {
			s.Plantings = append(s.Plantings, s.Plantings[0])
			s.Plantings[len(s.Plantings)-1].Planting = "P99"
		},
		"no grip": func(s *forecast.Season) { s.GripG = 0 },
	}
	for name, change := range cases {
		for _, n := range []int{1, 6} {
			t.Run(fmt.Sprintf("%s, %d", name, n), func(t *testing.T) {
				s := season(n, november)
				change(s)
				c, err := LeafMass(s)
				mustDraw(t, c, err)
				mustDraw(t, leafPanel(s, 0), nil)
			})
		}
	}
}

func TestCalendarPrintsTheOdds(t *testing.T) {
	p := picks(8, november)
	p.Rows[2].Dates[7].All = 0.7999 // 22 November: still under the assurance
	p.Rows[3].Dates[0].All = 1
	p.Rows[4].Dates[0].All = math.NaN()
	c, err := Calendar(p)
	d := mustDraw(t, c, err)
	var printed []string
	for _, x := range d.texts {
		printed = append(printed, x.text)
	}
	all := "|" + strings.Join(printed, "|") + "|"
	dates := calendarDates(p, 20)
	if !slices.Contains(dates, p.From) || !slices.Contains(dates, p.To) || dates[0] != p.AsOf {
		t.Errorf("columns %v", dates)
	}
	for _, r := range p.Rows {
		var want []string
		for _, day := range dates {
			odds := r.Dates[day-p.AsOf].All
			text := "–"
			if !math.IsNaN(odds) {
				text = strconv.Itoa(int(math.Trunc(odds*100 + 1e-9)))
			}
			want = append(want, text)
		}
		if row := "|" + strings.Join(want, "|") + "|"; !strings.Contains(all, row) {
			t.Errorf("%s: %s is not printed", r.Line, row)
		}
	}
}

func TestPercent(t *testing.T) {
	for _, c := range []struct {
		odds  float64
		want  string
		class int
	}{
		{0, "0", 0}, {0.199, "19", 0}, {0.2, "20", 1}, {0.29, "29", 1}, {0.5, "50", 2}, {0.7999, "79", 2}, {0.8, "80", 3},
		{0.999, "99", 3}, {1, "100", 3}, {math.NaN(), "–", -1},
	} {
		if got := percent(c.odds); got != c.want {
			t.Errorf("%v: %s, want %s", c.odds, got, c.want)
		}
		if got := oddsClass(c.odds, 0.8); got != c.class {
			t.Errorf("%v: class %d, want %d", c.odds, got, c.class)
		}
	}
}

func TestSameBytesEachTime(t *testing.T) {
	var first []byte
	for range 3 {
		var b bytes.Buffer
		if err := page(5, november, true).HTML(&b); err != nil {
			t.Fatal(err)
		}
		c, err := LeafMass(season(3, november))
		if err != nil {
			t.Fatal(err)
		}
		if err := c.SVG(&b); err != nil {
			t.Fatal(err)
		}
		if first != nil && !bytes.Equal(first, b.Bytes()) {
			t.Fatal("the same results gave other bytes")
		}
		first = b.Bytes()
	}
}
