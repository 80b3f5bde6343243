package plots

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"

	"wintertop/weather"
)

func TestLabelsKeepWithinTheirRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := plain(rapid.String().Draw(t, "text"))
		w := vg.Length(rapid.Float64Range(60, 400).Draw(t, "width"))
		got := append(bodyText.wrapName(text, w), bodyText.wrap(text, w, 3)...)
		got = append(got, bodyText.cut(text, w), bodyText.cutName(text, w))
		for _, line := range got {
			if bodyText.room(line) > w {
				t.Fatalf("%q takes %.1f of %.1f", line, bodyText.room(line), w)
			}
		}
		if bodyText.room(text) <= w && (bodyText.cut(text, w) != text || bodyText.cutName(text, w) != text) {
			t.Fatalf("%q fits but is cut", text)
		}
	})
}

func TestNamesKeepBothEnds(t *testing.T) {
	got := bodyText.cutName("Selection 2011-4-17 from a very wide cross, sister 88/301", 120)
	if !strings.HasPrefix(got, "Sel") || !strings.HasSuffix(got, "301") || !strings.Contains(got, "…") {
		t.Errorf("%q", got)
	}
}

func TestPlainTextIsFitToDraw(t *testing.T) {
	for in, want := range map[string]string{
		"a\tb\r\nc":            "a b c",
		"  edge\u00a0 ":        "edge",
		"nul\x00\x1b[31m":      "nul[31m",
		"\u202eevil\u2066":     "evil",
		"bad\xffbyte":          "bad\uFFFDbyte",
		"<b>&\"=1+1":           "<b>&\"=1+1",
		"\ufffe\uffffkept":     "kept",
		"Größe 4 × 5 °C, −2":   "Größe 4 × 5 °C, −2",
		"\u2028line\u2029para": "line para",
	} {
		if got := plain(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

func TestVisualOrder(t *testing.T) {
	for in, want := range map[string]string{
		"plain 4 × 5":              "plain 4 × 5",
		"":                         "",
		"שלום":                     "םולש",
		"Of \u2068שלום\u2069 more": "Of םולש more",
	} {
		if got := visual(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

func TestSpreadLabelsDoNotTouch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "n")
		centres, heights := make([]vg.Length, n), make([]vg.Length, n)
		for i := range centres {
			centres[i] = vg.Length(rapid.Float64Range(0, 300).Draw(t, "centre"))
			heights[i] = vg.Length(rapid.Float64Range(10, 45).Draw(t, "height"))
		}
		got := spread(centres, heights, 0, 300)
		type span struct{ low, high vg.Length }
		var spans []span
		for i, c := range got {
			spans = append(spans, span{c - heights[i]/2, c + heights[i]/2})
		}
		slices.SortFunc(spans, func(a, b span) int {
			if a.low < b.low {
				return -1
			}
			return 1
		})
		for i, s := range spans {
			if s.low < -1e-6 || s.high > 300+1e-6 || i > 0 && s.low < spans[i-1].high-1e-6 {
				t.Fatalf("%v", spans)
			}
		}
	})
}

func TestTicksAreRound(t *testing.T) {
	for _, c := range []struct {
		top      float64
		want     []float64
		decimals int
	}{
		{23, []float64{0, 5, 10, 15, 20}, 0},
		{40, []float64{0, 10, 20, 30, 40}, 0},
		{0.9, []float64{0, 0.2, 0.4, 0.6, 0.8}, 1},
		{0, []float64{0, 0.2, 0.4, 0.6, 0.8, 1}, 1},
		{math.NaN(), []float64{0, 0.2, 0.4, 0.6, 0.8, 1}, 1},
	} {
		got, decimals := ticks(c.top, 5)
		same := slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-12 })
		if !same || decimals != c.decimals {
			t.Errorf("%v: %v with %d decimals", c.top, got, decimals)
		}
	}
}

func TestMonths(t *testing.T) {
	got := months(weather.NewDate(2011, 12, 20), weather.NewDate(2012, 3, 1))
	want := []month{
		{weather.NewDate(2011, 12, 20), weather.NewDate(2012, 1, 1), "Dec", 2011},
		{weather.NewDate(2012, 1, 1), weather.NewDate(2012, 2, 1), "Jan", 2012},
		{weather.NewDate(2012, 2, 1), weather.NewDate(2012, 3, 1), "Feb", 2012},
		{weather.NewDate(2012, 3, 1), weather.NewDate(2012, 3, 2), "Mar", 2012},
	}
	if !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
}

func TestNumbersHaveARealMinus(t *testing.T) {
	for x, want := range map[float64]string{-3.14: "−3.1", -0.04: "0.0", 2: "2.0", math.Inf(1): "–"} {
		if got := number(x, 1); got != want {
			t.Errorf("%v: %q", x, got)
		}
	}
}

func TestThinnedPathsKeepTheirShape(t *testing.T) {
	var p vg.Path
	for i := range 400 {
		pt := vg.Point{X: vg.Length(i), Y: vg.Length(40 * math.Sin(float64(i)/30))}
		if i%97 == 0 {
			pt.Y += 30 // a spike
		}
		if i == 0 {
			p.Move(pt)
		} else {
			p.Line(pt)
		}
	}
	thin := thinned(p)
	if len(thin) > len(p)/2 {
		t.Errorf("%d of %d points remain", len(thin), len(p))
	}
	for _, q := range p {
		nearest := math.Inf(1)
		for i := 1; i < len(thin); i++ {
			nearest = min(nearest, distance(q.Pos, thin[i-1].Pos, thin[i].Pos))
		}
		if nearest > 0.1501 {
			t.Fatalf("%v is %.3f off", q.Pos, nearest)
		}
	}
	// There and back on one line: nothing lies off it, yet the far end counts.
	back := vg.Path{{Type: vg.MoveComp}, {Type: vg.LineComp, Pos: vg.Point{X: 10}}, {Type: vg.LineComp, Pos: vg.Point{X: 5}}}
	if len(thinned(back)) != 3 {
		t.Error("a turning point is lost")
	}
}
