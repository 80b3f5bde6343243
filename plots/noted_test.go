package plots

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

func TestScaleOfAPanelStandsWhereItsLabelsSay(t *testing.T) {
	f := leafFrameOf(season(1, november), seriesOf(season(1, november)))
	const height vg.Length = 400
	s := newSheet(height)
	r := vg.Rectangle{Min: vg.Point{X: 40, Y: 50}, Max: vg.Point{X: 640, Y: 350}}
	f.panel(draw.NewCanvas(s, 700, height), r, nil, nil)
	drawn := s.body.String()
	for _, g := range f.ticks {
		y := tenths((height - f.y(r, g)).Points())
		if want := `M40 ` + y + `l600 0`; !strings.Contains(drawn, want) {
			t.Errorf("no line across at %v: %s", g, want)
		}
	}
	if want := "M" + tenths(f.x(r, float64(november)).Points()) + " 350l0-300"; !strings.Contains(drawn, want) {
		t.Errorf("the as-of day is not at %s", want)
	}
}

func TestFewTicksAreMadeMore(t *testing.T) {
	for top, want := range map[float64][]float64{97: {0, 20, 40, 60, 80}, 48: {0, 20, 40}, 9: {0, 2, 4, 6, 8}} {
		if got, _ := ticks(top, 4); !slices.Equal(got, want) {
			t.Errorf("up to %v: %v, want %v", top, got, want)
		}
	}
}

func TestUnitsStayWithTheirNumbers(t *testing.T) {
	for _, line := range leadText.wrap("from 12.0 g to 13.5 g, at 80 % of 40 cm (−9.5 °C).", 60, 20) {
		if first, _, _ := strings.Cut(line, " "); first == "g" || first == "g," || first == "%" || first == "cm" || first == "°C)." {
			t.Errorf("a line begins with %q", line)
		}
	}
}

func TestLettersThatAPictureLacksAreBoxes(t *testing.T) {
	for text, want := range map[string]string{"Ægir −2 °C": "Ægir −2 °C", "胡萝卜 A": "□□□ A", "\U0001F955 x": "□ x", "a\ufe0fb": "ab"} {
		if got := boxed(text, bodyText.face()); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestManyLinesOfAPanelHaveBars(t *testing.T) {
	three, two := mustDraw(t, LeafMass(season(3, november)), nil), mustDraw(t, LeafMass(season(2, november)), nil)
	words := func(d drawn) string {
		var all []string
		for _, x := range d.texts {
			all = append(all, x.text)
		}
		return strings.Join(all, "|")
	}
	if !strings.Contains(words(three), "pale bars") || strings.Contains(words(two), "pale bars") {
		t.Errorf("keys: %s; %s", words(three), words(two))
	}
}

func TestNotesShowTheirDoubt(t *testing.T) {
	s := season(1, november)
	count := func() int { return strings.Count(string(mustDraw(t, LeafMass(s), nil).raw), `stroke-width="1.1"`) }
	with := count()
	notes := seriesOf(s)[0].notes(forecast.LeafMass)
	for i := range s.Plantings[0].Notes {
		s.Plantings[0].Notes[i].Low, s.Plantings[0].Notes[i].High = math.NaN(), math.NaN()
	}
	if without := count(); with-without != len(notes) || len(notes) == 0 {
		t.Errorf("%d bars for %d notes", with-without, len(notes))
	}
}

func TestCalendarOfManyRowsIsCompact(t *testing.T) {
	height := func(n int) vg.Length {
		c, err := Calendar(picks(n, november))
		if err != nil {
			t.Fatal(err)
		}
		_, h := c.size()
		return h
	}
	large := height(9) - height(8)
	compact := height(61) - height(60) // the 61st of the invented rows is a candidate
	if compact != 18 || large != 31 {
		t.Errorf("a row of many adds %v, one of few %v", compact, large)
	}
}

func TestComparisonsLostAreSaid(t *testing.T) {
	lost := verification()
	for i := range lost.Scores {
		if s := &lost.Scores[i]; s.What == forecast.WhatTopHeight && s.Method == forecast.ByForecast {
			s.CRPS *= 100
		}
	}
	if got := Reliability(lost).Finding; !strings.Contains(got, ", but not in top height.") {
		t.Errorf("finding: %s", got)
	}
	for i := range lost.Scores {
		if s := &lost.Scores[i]; s.Method == forecast.ByForecast {
			s.CRPS = 1e6
			s.Brier.Score = 1e6
		}
	}
	if got, want := Reliability(lost).Finding, "The forecast did not beat what a notebook says in freezing events, leaf mass, top height and lifting. "; !strings.HasPrefix(got, want) {
		t.Errorf("finding: %s", got)
	}
}
