package plots

import (
	"math"
	"slices"
	"strings"
	"testing"

	"wintertop/forecast"
)

func TestTraitsSayWhoExcels(t *testing.T) {
	all := []forecast.Learned{
		{Line: "A", TopSize: 1, TopSizeSD: 0.1, TopLengthCM: 40, TopLengthSDCM: 2, HardinessC: -9, HardinessSDC: 0.5, Basis: forecast.FromNotes, Notes: 9, Winters: 2},
		{Line: "B", TopSize: 1.4, TopSizeSD: 0.2, TopLengthCM: 38, TopLengthSDCM: 3, HardinessC: -11, HardinessSDC: 0.4, Basis: forecast.FromNotes, Notes: 9, Winters: 1},
		{Line: "C", TopSize: 3, TopSizeSD: 1, TopLengthCM: 60, TopLengthSDCM: 9, HardinessC: -14, HardinessSDC: 1, Basis: forecast.Assumed},
	}
	c := Traits(all)
	d := mustDraw(t, c, nil)
	if want := "Of 2 lines with notes B is hardiest (−11.0 ± 0.4 °C) and has the largest top (1.40 ± 0.20); A has the longest leaves (40.0 ± 2.0 cm). " +
		"Of C nothing is known yet: its values are assumed."; c.Finding != want {
		t.Errorf("%q, want %q", c.Finding, want)
	}
	var names []string
	for _, x := range d.texts {
		if slices.Contains([]string{"A", "B", "C"}, x.text) {
			names = append(names, x.text)
		}
	}
	if strings.Join(names, "") != "BAC" {
		t.Errorf("order %v", names)
	}
	for _, want := range []string{"1.40 ± 0.20", "38.0 ± 3.0", "−11.0 ± 0.4", "9 notes, 1 winter", "assumed, no notes"} {
		if !slices.ContainsFunc(d.texts, func(x drawnText) bool { return x.text == want }) {
			t.Errorf("%q is not printed", want)
		}
	}
}

// Lines that are alike in all printed digits stand as they were listed.
func TestTraitsAlikeKeepTheirOrder(t *testing.T) {
	g := traitLayoutOf([]forecast.Learned{{Line: "A", HardinessC: -9.5}, {Line: "B", HardinessC: -9.5 - 1e-12}, {Line: "C", HardinessC: -9.5 + 1e-12}, {Line: "D", HardinessC: -9.6}}, false)
	for i, want := range []string{"D", "A", "B", "C"} {
		if !strings.Contains(g.rows[i].name, want) {
			t.Errorf("row %d is %q, want %s", i, g.rows[i].name, want)
		}
	}
}

func TestTraitIntervals(t *testing.T) {
	g := traitLayoutOf([]forecast.Learned{{Line: "A", TopSize: 1, TopSizeSD: 0.35, TopLengthCM: 40, TopLengthSDCM: 6.8, HardinessC: -9.5, HardinessSDC: 1.2}}, false)
	size, hard := g.columns[0], g.columns[2]
	if low, high := size.at(1, 0.35, -2), size.at(1, 0.35, 2); math.Abs(low*high-1) > 1e-12 || math.Abs(high-math.Exp(0.7)) > 1e-12 {
		t.Errorf("size from %v to %v", low, high) // a spread of the logarithm
	}
	if hard.left <= hard.right || hard.at0(-11) <= hard.at0(-9) {
		t.Error("hardier is not to the right")
	}
	for _, c := range g.columns {
		v, sd := c.of(g.rows[0].learned)
		for _, k := range []float64{-2, 2} {
			if x := c.at0(c.at(v, sd, k)); x <= c.x || x >= c.x+c.lane {
				t.Errorf("%s: %v SD off the scale", c.head, k)
			}
		}
	}
}

func TestOddTraits(t *testing.T) {
	for name, all := range map[string][]forecast.Learned{
		"none":     nil,
		"nothing":  {{}},
		"no words": {{Line: "A", TopSize: math.NaN(), HardinessC: math.Inf(-1)}, {Line: "A"}},
		"certain":  {{Line: "A", TopSize: 1, TopLengthCM: 40, HardinessC: -9}, {Line: "B", TopSize: 1, TopLengthCM: 40, HardinessC: -9, Kind: "check"}},
		"huge":     {{Line: "A", TopSize: 9.9, TopSizeSD: 8, TopLengthCM: 149, TopLengthSDCM: 90, HardinessC: -24, HardinessSDC: 9}},
	} {
		t.Run(name, func(t *testing.T) {
			mustDraw(t, Traits(all), nil)
			mustDraw(t, phoneTraits(all), nil)
		})
	}
}
