package plots

import (
	"math"
	"strings"
	"testing"

	"wintertop/forecast"
	"wintertop/weather"
)

// advice invents the notes to take for the rows of a pick.
func advice(p *forecast.Picks) *forecast.Advice {
	a := &forecast.Advice{Winter: p.Winter, AsOf: p.AsOf, For: forecast.ForPick}
	for i, r := range p.Rows {
		row := forecast.NextRow{Planting: r.Planting, Line: r.Line, Mean: 0.8, Doubt: 0.12, After: 0.12, Advice: forecast.StopHere}
		if i%3 == 0 {
			row.After, row.Advice = 0.08, forecast.ThenStop
			for k, trait := range []forecast.Trait{forecast.LeafMass, forecast.LiftedShare} {
				a.Take = append(a.Take, forecast.NextNote{Rank: len(a.Take) + 1, Planting: r.Planting, Line: r.Line, Trait: trait, From: p.AsOf + 1 + weather.Date(7*k), Plants: 10, Gain: 0.01})
			}
		}
		a.Rows = append(a.Rows, row)
	}
	return a
}

// trialPlan invents a trial plan of n past winters.
func trialPlan(n, bestOf int) *forecast.TrialPlan {
	p := &forecast.TrialPlan{Place: hostile[0], Goal: forecast.DesignGoal{Differ: forecast.Difference{Hardiness: true, By: 1}, Chance: 0.9, BestOf: bestOf}}
	for i := range n {
		p.Past = append(p.Past, forecast.PastWinter{Winter: weather.WinterYear{Year: 1990 + i}, Kept: 0.3, Told: 0.7})
	}
	for _, winters := range []int{1, 2, 3, 4, 5} {
		for _, places := range []int{1, 2, 3} {
			for _, plots := range []int{1, 2, 3, 4, 6} {
				for _, plants := range []int{5, 10, 20} {
					information := float64(winters*places) / (1 + 1/float64(plots*plants))
					c := 1 - 0.5*math.Exp(-information)
					p.Designs = append(p.Designs, forecast.Design{Winters: winters, Places: places, Plots: plots, Plants: plants, Chance: c, Low: c - 0.05, High: c})
				}
			}
		}
	}
	return p
}

func TestPlanChart(t *testing.T) {
	for _, p := range []*forecast.TrialPlan{trialPlan(1, 2), trialPlan(30, 10)} {
		for _, c := range []Chart{Trial(p), phoneTrial(p)} {
			var b strings.Builder
			if err := c.SVG(&b); err != nil {
				t.Fatal(err)
			}
			if text := b.String(); strings.Contains(text, "NaN") || strings.Contains(text, "<b>") || !strings.Contains(text, "wanted chance") && !c.bare {
				t.Error("the chart is not sound")
			}
		}
	}
}

func TestPageHasTheNoteSheet(t *testing.T) {
	text := written(t, page(8, november, false))
	for _, want := range []string{"Which notes to take next?", "Lifted, %", "take these, then stop", "stop measuring here", "How large must the next trial be?"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}
