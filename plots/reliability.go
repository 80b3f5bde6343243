package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"wintertop/forecast"
)

// Reliability draws how good past forecasts would have been at one place: the
// stated chance of lifting against how often it came true, how often what came
// lay within the intervals, and the error score of the forecast against what a
// notebook says, by lead. What was not verified is left out.
func Reliability(v forecast.Verification) Chart { return trustLayoutOf(v, false).chart() }

// phoneReliability is the same chart for a narrow screen, without a heading:
// the panels stand below one another.
func phoneReliability(v forecast.Verification) Chart {
	g := trustLayoutOf(v, true)
	g.bare = true
	return g.chart()
}

// trustLayout lays out the panels, one or two abreast.
type trustLayout struct {
	verified forecast.Verification
	panels   []trustPanel
	narrow   bool
	bare     bool
	width    vg.Length
}

// trustPanel is one panel: classes of odds, or curves by lead.
type trustPanel struct {
	head, unit string
	odds       []forecast.OddsClass

	leads     []int // days, the longest first
	leadWords string
	curves    []leadCurve
	levels    []float64 // drawn across, where the curves should lie
	tall      bool      // as high as the odds beside it
	scale
}

// leadCurve is one curve over the leads of its panel; NaN where nothing is
// known.
type leadCurve struct {
	name, small string
	at          []float64
	sign        int  // of colour, dash and glyph
	hollow      bool // glyph, which tells two curves of one sign apart
}

// verifiedThing says how one thing that is verified is named.
type verifiedThing struct{ what, head, unit, leadWords string }

// verifiedThings are in the order in which the panels stand.
var verifiedThings = []verifiedThing{
	{forecast.WhatLift, "Lifting", "Brier score, 0–1", "days from the forecast to the window"},
	{forecast.WhatEvents, "Freezing events", "mean error, events closed by late winter", "days from the forecast to the end of the count"},
	{forecast.WhatLeafMass, "Leaf mass", "mean error, fresh g per plant", "days from the forecast to the window"},
	{forecast.WhatTopHeight, "Top height", "mean error, cm", "days from the forecast to the window"},
}

// methodsCompared are in the order of their signs.
var methodsCompared = []struct{ method, name, short string }{
	{forecast.ByForecast, "forecast", "forecast"},
	{forecast.ByOwnMean, "mean of other winters", "mean winter"},
	{forecast.ByLastWinter, "last winter repeated", "last winter"},
	{forecast.ByBaseRate, "rate of all lines", "all lines"},
}

func trustLayoutOf(v forecast.Verification, narrow bool) trustLayout {
	g := trustLayout{verified: v, narrow: narrow, width: 900}
	if narrow {
		g.width = 360
	}
	if len(v.Odds) > 0 {
		g.panels = append(g.panels, trustPanel{
			head: "Lifting: how often did the odds come true?", unit: "came true, %, with 95 % interval", odds: v.Odds,
			scale: scale{top: 1, ticks: []float64{0, 0.25, 0.5, 0.75, 1}},
		})
	}
	for _, t := range verifiedThings {
		leads := leadsOf(v, t.what)
		if len(leads) == 0 {
			continue
		}
		if p, ok := t.coverage(v, leads, narrow); ok {
			g.panels = append(g.panels, p)
		}
		if p, ok := t.scores(v, leads, narrow); ok {
			g.panels = append(g.panels, p)
		}
	}
	return g
}

// leadsOf gives the leads at which one thing was forecast, the longest first.
func leadsOf(v forecast.Verification, what string) []int {
	var leads []int
	for _, s := range v.Scores {
		if s.What == what && s.N > 0 && !slices.Contains(leads, s.LeadDays) {
			leads = append(leads, s.LeadDays)
		}
	}
	slices.SortFunc(leads, func(a, b int) int { return cmp.Compare(b, a) })
	return leads
}

// curveOf gives one reading of a method's scores over the leads, and the number
// of forecasts behind it; ok is false where it has none.
func curveOf(v forecast.Verification, what, method string, leads []int, of func(forecast.Score) float64) (c leadCurve, n int, ok bool) {
	for _, lead := range leads {
		value := math.NaN()
		for _, s := range v.Scores {
			if s.What == what && s.Method == method && s.LeadDays == lead && s.N > 0 {
				value, n = of(s), s.N
			}
		}
		ok = ok || finite(value)
		c.at = append(c.at, value)
	}
	return c, n, ok
}

// coverage gives the panel of how often what came lay within the intervals.
func (t verifiedThing) coverage(v forecast.Verification, leads []int, narrow bool) (trustPanel, bool) {
	p := trustPanel{leads: leads, leadWords: t.leadWords, head: t.head + ": were the intervals wide enough?", levels: []float64{0.5, 0.9},
		scale: scale{top: 1, ticks: []float64{0, 0.5, 0.9, 1}}}
	any := false
	for _, c := range []struct {
		name string
		of   func(forecast.Score) float64
	}{
		{"50 % interval", func(s forecast.Score) float64 { return s.Cover50 }},
		{"90 % interval", func(s forecast.Score) float64 { return s.Cover90 }},
	} {
		curve, n, ok := curveOf(v, t.what, forecast.ByForecast, leads, c.of)
		curve.name = c.name
		if narrow {
			curve.name = strings.TrimSuffix(c.name, " interval")
		}
		curve.hollow = c.name == "90 % interval"
		p.curves = append(p.curves, curve)
		p.unit = fmt.Sprintf("%% of %d inside the interval; dashed: as many as should be", n)
		any = any || ok
	}
	return p, any
}

// scores gives the panel of the error scores by method.
func (t verifiedThing) scores(v forecast.Verification, leads []int, narrow bool) (trustPanel, bool) {
	p := trustPanel{leads: leads, leadWords: t.leadWords, unit: t.unit + "; lower is better", head: t.head + ": how far off?"}
	ours := 0
	for i, m := range methodsCompared {
		curve, n, ok := curveOf(v, t.what, m.method, leads, forecast.Score.Loss)
		curve.sign = i
		if m.method == forecast.ByForecast {
			ours = n
		}
		if !ok {
			continue
		}
		curve.name = m.name
		if narrow {
			curve.name = m.short
		}
		if n != ours {
			curve.small = fmt.Sprintf("%d of %d only", n, ours)
		}
		for _, x := range curve.at {
			if finite(x) {
				p.top = max(p.top, x)
			}
		}
		p.curves = append(p.curves, curve)
	}
	steps, decimals := ticks(p.top*1.02, 4)
	p.ticks = steps
	p.print = func(x float64) string { return number(x, decimals) }
	if p.top = p.top * 1.08; !(p.top > 0) {
		p.top = 1
	}
	return p, ours > 0
}

// finding says what was found: what the forecasts beat and what they did not,
// and of the odds what came true.
func (g trustLayout) finding() string {
	all := trustWords(g.verified)
	if len(all) == 0 {
		return "No past winter could be forecast again: that takes at least two complete winters in the record."
	}
	words := comparedWords(g.verified.Comparisons())
	if len(g.verified.Odds) > 0 {
		words = append(words, all[len(all)-1])
	}
	return strings.Join(words, " ")
}

// comparedWords says what the forecasts beat a notebook in, and what not.
func comparedWords(all []forecast.Comparison) []string {
	var won, lost []string
	for _, c := range all {
		name := comparedNames[c.What]
		switch {
		case c.By == "":
		case c.Won():
			won = append(won, name)
		default:
			lost = append(lost, name)
		}
	}
	switch {
	case len(won)+len(lost) == 0:
		return []string{"There is nothing to compare the forecast with."}
	case len(lost) == 0:
		return []string{"The forecast beat what a notebook says in " + both(won) + "."}
	case len(won) == 0:
		return []string{"The forecast did not beat what a notebook says in " + both(lost) + "."}
	}
	return []string{"The forecast beat what a notebook says in " + both(won) + ", but not in " + both(lost) + "."}
}

// comparedNames are the things verified, inside a sentence.
var comparedNames = map[string]string{
	forecast.WhatLift: "lifting", forecast.WhatEvents: "freezing events", forecast.WhatLeafMass: "leaf mass", forecast.WhatTopHeight: "top height",
}

// both joins names by commas and a last "and".
func both(names []string) string {
	if n := len(names) - 1; n > 0 {
		return strings.Join(names[:n], ", ") + " and " + names[n]
	}
	return strings.Join(names, "")
}

// trustWords gives the sentences of the verification, each beginning with a
// capital letter.
func trustWords(v forecast.Verification) []string {
	var out []string
	for _, s := range v.Summary() {
		out = append(out, strings.ToUpper(s[:1])+plain(s[1:]))
	}
	return out
}

// desc says what the picture shows.
func (g trustLayout) desc() string {
	parts := trustWords(g.verified)
	if len(parts) == 0 {
		parts = []string{g.finding()}
	}
	for _, c := range g.verified.Odds {
		parts = append(parts, fmt.Sprintf("Of %d forecasts that stated %s %% on average, %s %% came true (95 %% interval %s to %s %%).",
			c.N, wholePercent(c.Chance), wholePercent(c.Seen), wholePercent(c.Low), wholePercent(c.High)))
	}
	for _, p := range g.panels {
		for _, c := range p.curves {
			var values []string
			for _, x := range c.at {
				values = append(values, p.value(x))
			}
			parts = append(parts, fmt.Sprintf("%s, %s, %s: %s at %s days.", p.head, p.unit, c.name, strings.Join(values, ", "), joinInts(p.leads)))
		}
	}
	return strings.Join(parts, " ")
}

// value prints a curve's value.
func (p trustPanel) value(x float64) string {
	if p.print == nil {
		return wholePercent(x)
	}
	return number(x, 2)
}

func joinInts(all []int) string {
	var words []string
	for _, n := range all {
		words = append(words, number(float64(n), 0))
	}
	return strings.Join(words, ", ")
}

// wholePercent prints a share as rounded percent: it is a count of what came,
// where percent rounds a promise down.
func wholePercent(share float64) string { return number(100*share, 0) }
