package forecast

import (
	"fmt"
	"math"
	"strings"
)

// Summary says plainly, one sentence for each thing verified, whether the
// forecasts beat what a notebook would have said: the mean over the four leads
// of the score (CRPS, or Brier for lift; lower is better) against the best of
// the other methods.
func (v Verification) Summary() []string {
	unit := map[string]string{WhatEvents: "events", WhatLeafMass: "g", WhatTopHeight: "cm", WhatLift: ""}
	words := map[string]string{
		WhatEvents: "freeze–thaw events to the end of February", WhatLeafMass: "leaf mass in the window",
		WhatTopHeight: "top height in the window", WhatLift: "whether the wanted share lifts",
		ByOwnMean: "the mean of other winters", ByLastWinter: "last winter repeated", ByBaseRate: "the rate of all lines",
	}
	var all []string
	for _, what := range []string{WhatEvents, WhatLeafMass, WhatTopHeight, WhatLift} {
		ours := v.meanScore(what, ByForecast)
		if math.IsNaN(ours) {
			continue
		}
		best, by := math.NaN(), ""
		for _, method := range []string{ByOwnMean, ByLastWinter, ByBaseRate} {
			if s := v.meanScore(what, method); s < best || math.IsNaN(best) && !math.IsNaN(s) {
				best, by = s, method
			}
		}
		if by == "" {
			all = append(all, fmt.Sprintf("%s: nothing to compare the forecast with, no other winter has such notes.", words[what]))
			continue
		}
		verb := "beat"
		if ours >= best {
			verb = "did not beat"
		}
		all = append(all, strings.Replace(fmt.Sprintf("%s: the forecast %s %s (mean error score %.3g against %.3g %s).",
			words[what], verb, words[by], ours, best, unit[what]), " )", ")", 1))
	}
	return all
}

// meanScore gives the mean score over the leads; NaN where there is none.
func (v Verification) meanScore(what, method string) float64 {
	var m mean
	for _, s := range v.Scores {
		if s.What != what || s.Method != method || s.N == 0 {
			continue
		}
		if what == WhatLift {
			m.add(s.Brier.score)
		} else {
			m.add(s.CRPS)
		}
	}
	return m.value()
}
