package plots

import (
	"image/color"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// luminance and contrast follow WCAG 2.2, "relative luminance" and "contrast
// ratio" (from memory).
func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestTextCanBeRead(t *testing.T) {
	type pair struct{ text, ground tone }
	pairs := []pair{{ink, paper}, {soft, paper}, {ink, wash}, {soft, wash}}
	for i, c := range classes {
		pairs = append(pairs, pair{onClass[i], c})
	}
	for _, p := range pairs {
		const least = 4.5 // WCAG 2.2, 1.4.3
		if got := contrast(p.text.paper, p.ground.paper); got < least {
			t.Errorf("%s on %s: %.2f on paper", p.text.name, p.ground.name, got)
		}
		if got := contrast(p.text.dark, p.ground.dark); got < least {
			t.Errorf("%s on %s: %.2f on a dark screen", p.text.name, p.ground.name, got)
		}
	}
	for _, l := range append(lines[:], frost) {
		const least = 3 // WCAG 2.2, 1.4.11
		if got := min(contrast(l.paper, paper.paper), contrast(l.dark, paper.dark)); got < least {
			t.Errorf("%s: %.2f", l.name, got)
		}
	}
}

func TestPageColoursCanBeRead(t *testing.T) {
	roots := regexp.MustCompile(`:root\{([^}]*)\}`).FindAllStringSubmatch(pageStyle, -1)
	if len(roots) != 2 {
		t.Fatalf("%d sets of colours, for paper and a dark screen", len(roots))
	}
	for _, root := range roots {
		colour := map[string]color.NRGBA{}
		for _, part := range strings.Split(root[1], ";") {
			name, value, _ := strings.Cut(part, ":")
			if hex := strings.TrimPrefix(value, "#"); len(hex) == 3 {
				value = hex[:1] + hex[:1] + hex[1:2] + hex[1:2] + hex[2:] + hex[2:]
			}
			x, err := strconv.ParseUint(strings.TrimPrefix(value, "#"), 16, 32)
			if err != nil {
				t.Fatalf("%s: %v", part, err)
			}
			colour[name] = rgb(uint32(x))
		}
		for _, text := range []string{"--ink", "--soft"} {
			for _, ground := range []string{"--paper", "--wash"} {
				if got := contrast(colour[text], colour[ground]); got < 4.5 { // WCAG 2.2, 1.4.3
					t.Errorf("%s on %s: %.2f", text, ground, got)
				}
			}
		}
	}
}

func TestClassesDarkenWithOdds(t *testing.T) {
	for i := 1; i < len(classes); i++ {
		if luminance(classes[i].paper) >= luminance(classes[i-1].paper) {
			t.Errorf("%s is not darker in print than the class below", classes[i].name)
		}
	}
}

func TestDarkRulesAreOneForEachTone(t *testing.T) {
	seen := map[string]string{}
	rules := darkRules()
	for _, tone := range palette() {
		hex := hexOf(tone.paper)
		if other, twice := seen[hex]; twice {
			t.Errorf("%s and %s share %s", tone.name, other, hex)
		}
		seen[hex] = tone.name
		if !strings.Contains(rules, `[fill="`+hex+`"]`) {
			t.Errorf("no rule for %s", tone.name)
		}
	}
}
