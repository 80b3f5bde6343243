package forecast

import (
	"fmt"
	"math"
	"strings"
)

// Summary says plainly, one sentence for each thing verified, whether the
// forecasts beat what a notebook would have said: the mean over the four leads
// of the score (CRPS, or Brier for lift; lower is better) against the best of
// the other methods. The last sentence compares the odds of lifting with what
// came, where there were any.
func (v Verification) Summary() []string {
	unit := map[string]string{WhatEvents: "events", WhatLeafMass: "g", WhatTopHeight: "cm", WhatLift: ""}
	late := "February"
	if v.South {
		late = "August"
	}
	words := map[string]string{
		WhatEvents: "freeze–thaw events to the end of " + late, WhatLeafMass: "leaf mass in the window",
		WhatTopHeight: "top height in the window", WhatLift: "whether the wanted share lifts",
		ByOwnMean: "the mean of other winters", ByLastWinter: "last winter repeated", ByBaseRate: "the rate of all lines",
	}
	var all []string
	for _, c := range v.Comparisons() {
		if c.By == "" {
			all = append(all, fmt.Sprintf("%s: nothing to compare the forecast with, no other winter has such notes.", words[c.What]))
			continue
		}
		verb := "beat"
		if !c.Won() {
			verb = "did not beat"
		}
		sentence := strings.Replace(fmt.Sprintf("%s: the forecast %s %s (mean error score %.3g against %.3g %s)",
			words[c.What], verb, words[c.By], c.Forecast, c.Best, unit[c.What]), " )", ")", 1)
		if c.Won() && len(c.LostAt) > 0 {
			sentence += ", but not " + strings.Join(c.LostAt, " or ") + " days ahead"
		}
		all = append(all, sentence+".")
	}
	if words := v.oddsWords(); words != "" {
		all = append(all, words)
	}
	return all
}

// Comparison sets the forecasts of one thing against the best of the other
// methods: the mean score over the leads, lower is better.
type Comparison struct {
	What           string
	By             string // the best other method; "" where no other has a score
	Forecast, Best float64
	LostAt         []string // leads in days at which the forecast did not beat it
}

// Won says whether the forecast beat the best of the others.
func (c Comparison) Won() bool { return c.By != "" && c.Forecast < c.Best }

// Comparisons gives one comparison for each thing verified, in the order of
// verify.csv.
func (v Verification) Comparisons() []Comparison {
	var all []Comparison
	for _, what := range []string{WhatEvents, WhatLeafMass, WhatTopHeight, WhatLift} {
		c := Comparison{What: what, Forecast: v.meanScore(what, ByForecast), Best: math.NaN()}
		if math.IsNaN(c.Forecast) {
			continue
		}
		for _, method := range []string{ByOwnMean, ByLastWinter, ByBaseRate} {
			if s := v.meanScore(what, method); s < c.Best || c.By == "" && !math.IsNaN(s) {
				c.Best, c.By = s, method
			}
		}
		for _, s := range v.Scores {
			if s.What != what || s.Method != c.By {
				continue
			}
			for _, f := range v.Scores {
				if f.What == what && f.Method == ByForecast && f.LeadDays == s.LeadDays && !(f.Loss() < s.Loss()) {
					c.LostAt = append(c.LostAt, fmt.Sprint(s.LeadDays))
				}
			}
		}
		all = append(all, c)
	}
	return all
}

// oddsWords says what chance of lifting was stated on average and how often it
// came true; "" where no odds were given.
func (v Verification) oddsWords() string {
	stated, came, n := 0.0, 0.0, 0.0
	for _, c := range v.Odds {
		stated, came, n = stated+c.Chance*float64(c.N), came+c.Seen*float64(c.N), n+float64(c.N)
	}
	if n == 0 {
		return ""
	}
	words := fmt.Sprintf("odds that the wanted share lifts: %.0f %% stated on average, %.0f %% came true", 100*stated/n, 100*came/n)
	switch {
	case v.NotedWinters == 1:
		return words + "; one winter cannot judge them."
	case v.NotedWinters < fewWinters:
		return words + fmt.Sprintf("; %d winters are few to judge them by.", v.NotedWinters)
	}
	return words + fmt.Sprintf(", over %d winters.", v.NotedWinters)
}

// meanScore gives the mean score over the leads; NaN where there is none.
func (v Verification) meanScore(what, method string) float64 {
	var m mean
	for _, s := range v.Scores {
		if s.What != what || s.Method != method || s.N == 0 {
			continue
		}
		m.add(s.Loss())
	}
	return m.value()
}
