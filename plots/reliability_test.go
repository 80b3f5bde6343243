package plots

import (
	"html"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"wintertop/forecast"
)

// verification invents what a place with notes is verified to.
func verification() forecast.Verification {
	v := eventsOnly()
	for i, lead := range []int{109, 78, 48, 17} {
		for _, s := range []struct {
			what             string
			ours, mean, last float64
		}{{forecast.WhatLeafMass, 5.7, 9.1, 10.7}, {forecast.WhatTopHeight, 5.2, 10.7, 12.9}} {
			v.Scores = append(v.Scores,
				forecast.Score{What: s.what, Method: forecast.ByForecast, LeadDays: lead, N: 56, CRPS: s.ours - 0.6*float64(i), Cover50: 0.57, Cover90: 0.95},
				forecast.Score{What: s.what, Method: forecast.ByOwnMean, LeadDays: lead, N: 56, CRPS: s.mean, Cover50: math.NaN(), Cover90: math.NaN()},
				forecast.Score{What: s.what, Method: forecast.ByLastWinter, LeadDays: lead, N: 42, CRPS: s.last, Cover50: math.NaN(), Cover90: math.NaN()})
		}
		for k, method := range []string{forecast.ByForecast, forecast.ByOwnMean, forecast.ByLastWinter, forecast.ByBaseRate} {
			n := 56
			if method == forecast.ByLastWinter {
				n = 42
			}
			v.Scores = append(v.Scores, forecast.Score{What: forecast.WhatLift, Method: method, LeadDays: lead, N: n, CRPS: math.NaN(),
				Brier: forecast.Brier{Score: 0.1 + 0.031*float64(k) - 0.01*float64(i)}, Cover50: math.NaN(), Cover90: math.NaN()})
		}
	}
	for i, n := range []int{88, 17, 6, 17, 20, 10, 14, 8, 18, 26} {
		chance := 0.03 + 0.1*float64(i)
		seen := chance * chance
		v.Odds = append(v.Odds, forecast.OddsClass{Chance: chance, Seen: seen, N: n, Low: seen * 0.6, High: math.Min(1, seen+0.2)})
	}
	v.NotedWinters = 3
	return v
}

// eventsOnly invents what a place without notes is verified to.
func eventsOnly() forecast.Verification {
	var v forecast.Verification
	for i, lead := range []int{136, 105, 75, 44} {
		v.Scores = append(v.Scores,
			forecast.Score{What: forecast.WhatEvents, Method: forecast.ByForecast, LeadDays: lead, N: 32, CRPS: 5.45 - 0.7*float64(i), Cover50: 0.625 - 0.03*float64(i), Cover90: 0.875},
			forecast.Score{What: forecast.WhatEvents, Method: forecast.ByOwnMean, LeadDays: lead, N: 32, CRPS: 5.44, Cover50: 0.625, Cover90: 0.875},
			forecast.Score{What: forecast.WhatEvents, Method: forecast.ByLastWinter, LeadDays: lead, N: 31, CRPS: 8.81, Cover50: math.NaN(), Cover90: math.NaN()})
	}
	return v
}

func TestReliabilityOfAnySize(t *testing.T) {
	oneClass := verification()
	oneClass.Odds = oneClass.Odds[:1]
	close := verification()
	for i := range close.Odds {
		close.Odds[i].Chance, close.Odds[i].N = 0.1*float64(i)+0.097*float64((i+1)%2), 12345
	}
	oneLead := eventsOnly()
	oneLead.Scores = oneLead.Scores[:3]
	late := verification()
	for i := range late.Scores {
		late.Scores[i].LeadDays -= 60 // a window that opens before the last forecast
	}
	perfect := verification()
	for i := range perfect.Scores {
		perfect.Scores[i].CRPS = 0
	}
	holes := verification()
	for i := range holes.Scores {
		if i%2 == 0 {
			holes.Scores[i].CRPS, holes.Scores[i].Cover50 = math.NaN(), math.NaN()
		}
		if i%5 == 0 {
			holes.Scores[i].N = 0
		}
	}
	for name, v := range map[string]forecast.Verification{
		"nothing": {}, "events alone": eventsOnly(), "all": verification(), "one class": oneClass, "close classes": close, "one lead": oneLead,
		"late leads": late, "no error": perfect, "holes": holes,
	} {
		t.Run(name, func(t *testing.T) {
			wide := mustDraw(t, Reliability(v), nil)
			mustDraw(t, phoneReliability(v), nil)
			if got := len(v.Odds) > 0; strings.Contains(string(wide.raw), "perfect odds") != got {
				t.Errorf("the line of perfect odds is drawn: %v", !got)
			}
		})
	}
}

func TestReliabilityPrintsWhatCame(t *testing.T) {
	v := verification()
	d := mustDraw(t, Reliability(v), nil)
	var printed []string
	for _, x := range d.texts {
		printed = append(printed, x.text)
	}
	all := "|" + strings.Join(printed, "|") + "|"
	for _, want := range []string{
		"|88|17|6|17|20|10|14|8|18|26|", "|136|105|75|44|", "|% of 32 inside the interval; dashed: as many as should be|", "|% of 56 inside the interval; dashed: as many as should be|",
		"|forecast|", "|mean of other winters|", "|last winter repeated|", "|42 of 56 only|", "|rate of all lines|", "|50 % interval|", "|90 % interval|",
		"|The forecast beat what a notebook says in ", "3 winters are few to judge them by",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not printed", want)
		}
	}
	if want := "Of 26 forecasts that stated 93 % on average, 86 % came true (95 % interval 52 to 100 %)"; !strings.Contains(d.desc, want) {
		t.Errorf("the description does not say %q: %s", want, d.desc)
	}
}

func TestReliabilityPlacesWhatCame(t *testing.T) {
	g := trustLayoutOf(verification(), false)
	r := vg.Rectangle{Max: vg.Point{X: 100, Y: 200}}
	odds := g.panels[0]
	if odds.odds == nil || odds.at(r, 0.25) != 50 || odds.at(r, 1) != 200 {
		t.Errorf("a quarter stands at %v of 200, all at %v", odds.at(r, 0.25), odds.at(r, 1))
	}
	for _, p := range g.panels {
		for _, c := range p.curves {
			for _, x := range c.at {
				if finite(x) && (x > p.top || x < 0) {
					t.Errorf("%s, %s: %v is off the scale", p.head, c.name, x)
				}
			}
		}
	}
}

func TestPageSaysHowFarToTrustIt(t *testing.T) {
	p := page(3, november, false)
	p.Verifications = nil
	if text := html.UnescapeString(written(t, p)); !strings.Contains(text, "wintertop report --verify") || strings.Contains(text, "Error: forecast") {
		t.Error("an unverified page does not say how to verify")
	}
	north, south := verification(), eventsOnly()
	north.Place, south.Place = "North <field>", "South"
	p.Verifications = []forecast.Verification{north, south, {Place: "New"}}
	text := html.UnescapeString(written(t, p))
	for _, want := range []string{
		"<bdi>North <field></bdi>", "Freeze–thaw events to the end of February: the forecast beat", "Odds that the wanted share lifts",
		"Error: mean of other winters", "Leaf mass, g", "takes at least two complete winters",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if strings.Contains(text, "report --verify") {
		t.Error("a verified page says how to verify")
	}
}
