package plots

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// Trial draws the chance of a right choice by the winters of a trial, a panel
// for each number of places and a curve for each number of plots, with the
// wanted chance across.
func Trial(p *forecast.TrialPlan) Chart { return planLayoutOf(p, false).chart() }

// phoneTrial is the same chart for a narrow screen, without a heading: the
// panels stand below one another.
func phoneTrial(p *forecast.TrialPlan) Chart {
	g := planLayoutOf(p, true)
	g.bare = true
	return g.chart()
}

// planLayout lays out the panels, side by side or below one another.
type planLayout struct {
	plan         *forecast.TrialPlan
	panels       []trustPanel
	narrow, bare bool
	width        vg.Length
	from         float64 // chance at the foot of the panels
}

const (
	planPlants              = 10 // of the designs that are drawn
	planHeight    vg.Length = 190
	planLabelRoom vg.Length = 76
)

// planPlots are the curves.
var planPlots = []int{1, 2, 4}

func planLayoutOf(p *forecast.TrialPlan, narrow bool) planLayout {
	g := planLayout{plan: p, narrow: narrow, width: 900}
	if narrow {
		g.width = 360
	}
	// Axis from what tossing a coin gives between two.
	if p.Goal.BestOf == 2 {
		g.from = 0.5
	}
	for places := 1; ; places++ {
		panel := trustPanel{
			head: plural(places, "place"), unit: "chance of choosing rightly, %", leadWords: "winters",
			scale:  scale{top: 1 - g.from, print: func(x float64) string { return wholePercent(x + g.from) }},
			levels: []float64{p.Goal.Chance - g.from},
		}
		for i := range 6 {
			panel.ticks = append(panel.ticks, panel.top*float64(i)/5)
		}
		for _, plots := range planPlots {
			c := leadCurve{name: plural(plots, "plot")}
			panel.leads = nil
			for _, d := range p.Designs {
				if d.Places == places && d.Plots == plots && d.Plants == planPlants {
					panel.leads = append(panel.leads, d.Winters)
					c.at = append(c.at, d.Chance-g.from)
				}
			}
			panel.curves = append(panel.curves, c)
		}
		if len(panel.leads) == 0 {
			return g
		}
		g.panels = append(g.panels, panel)
	}
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

func (g planLayout) chart() Chart {
	c := Chart{Title: "How large must a trial be?", Finding: plain(g.plan.Answer()), Desc: g.desc(), width: g.width, bare: g.bare}
	if g.plan.Place != "" {
		c.Title += " " + isolated(plain(g.plan.Place))
	}
	step := trustTitle + planHeight + trustFoot
	rows := 1
	if g.narrow {
		rows = len(g.panels)
	}
	foot := smallText.wrap(g.foot(), c.width-2*margin, 5)
	if g.bare {
		foot = nil
	}
	c.height = step*vg.Length(rows) + 15*vg.Length(len(foot)) + margin
	c.draw = func(d draw.Canvas, top vg.Length) {
		wide := g.width - margin
		if !g.narrow {
			wide /= vg.Length(len(g.panels))
		}
		for i, p := range g.panels {
			x, y := margin, top
			if g.narrow {
				y -= step * vg.Length(i)
			} else {
				x += wide * vg.Length(i)
			}
			r := vg.Rectangle{Min: vg.Point{X: x + trustScale, Y: y - trustTitle - planHeight}, Max: vg.Point{X: x + wide - planLabelRoom, Y: y - trustTitle}}
			p.heading(d, x, r, wide-margin)
			p.byLead(d, r, x+wide-margin)
		}
		for i, line := range foot {
			write(d, smallText, vg.Point{X: margin, Y: top - step*vg.Length(rows) - 15*vg.Length(i) - 10}, left, soft, line)
		}
	}
	return c
}

// foot says how the picture is made.
func (g planLayout) foot() string {
	return fmt.Sprintf("Leaf mass of %d plants of each plot, weighed in mid October, December, January and February. Broken line: the wanted chance, %s %%. Each of %s on record is as likely as the other; places share the winter.",
		planPlants, wholePercent(g.plan.Goal.Chance), plural(len(g.plan.Past), "complete winter"))
}

// desc says what the picture shows.
func (g planLayout) desc() string {
	parts := []string{plain(g.plan.Answer())}
	for _, p := range g.panels {
		for _, c := range p.curves {
			var values []string
			for _, x := range c.at {
				values = append(values, wholePercent(x+g.from))
			}
			parts = append(parts, fmt.Sprintf("%s, %s: chance in %% by winters from 1: %s.", p.head, c.name, strings.Join(values, ", ")))
		}
	}
	return strings.Join(parts, " ")
}
