package plots

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strings"

	"wintertop/forecast"
)

//go:embed pagenext.html.tmpl
var nextTemplate string

// nextSection says which notes to take next at one place, as a sheet to print:
// a row per walk and planting, a box per trait.
type nextSection struct {
	Place  string
	Answer string
	Traits []string
	Walks  []walkRow
	Rows   []nextRow
}

type walkRow struct {
	Date, Planting, Line string
	Plants               int
	Asked                []bool // by trait
}

type nextRow struct {
	Name, Expected, Now, After, Advice string
}

// traitWords names the traits on a sheet, with the unit to write.
var traitWords = map[forecast.Trait]string{
	forecast.LeafMass: "Leaf, fresh g per plant", forecast.TopHeight: "Top height, cm", forecast.TopLength: "Longest leaf, cm",
	forecast.LiveLeaves: "Live leaves", forecast.GroundCover: "Ground cover, %", forecast.LiftedShare: "Lifted, %",
}

// adviceWords says what to do about a row.
var adviceWords = map[string]string{forecast.StopHere: "stop measuring here", forecast.ThenStop: "take these, then stop", forecast.Later: "later: others teach more"}

func (p Page) nextSections() []nextSection {
	var sections []nextSection
	for _, a := range p.Next {
		s := nextSection{Place: plain(a.Place), Answer: plain(a.Answer())}
		walks := a.Sheet()
		traits := forecast.SheetTraits(walks)
		for _, t := range traits {
			s.Traits = append(s.Traits, traitWords[t])
		}
		for _, w := range walks {
			row := walkRow{Date: fullDate(w.Date), Planting: plain(w.Planting), Line: plain(w.Line), Plants: w.Plants}
			for _, t := range traits {
				row.Asked = append(row.Asked, slices.Contains(w.Traits, t))
			}
			s.Walks = append(s.Walks, row)
		}
		for _, r := range a.Rows {
			name := r.Line
			if !strings.Contains(r.Planting, r.Line) {
				name += " (" + r.Planting + ")"
			}
			s.Rows = append(s.Rows, nextRow{Name: plain(name), Advice: adviceWords[r.Advice],
				Expected: percentOrNone("", r.Mean), Now: percentOrNone("± ", r.Doubt), After: percentOrNone("± ", r.After)})
		}
		sections = append(sections, s)
	}
	return sections
}

// percentOrNone writes a share, a dash where it is not known.
func percentOrNone(sign string, share float64) string {
	if math.IsNaN(share) {
		return "–"
	}
	return sign + wholePercent(share) + " %"
}

func (p Page) planCharts() ([]twinChart, error) {
	var charts []twinChart
	for i, plan := range p.Plans {
		wide := planLayoutOf(plan, false)
		t, err := twinOf(plan.Place, wide.foot(), barePlan(plan), phoneTrial(plan), fmt.Sprintf("plan%d", i+1))
		if err != nil {
			return nil, err
		}
		charts = append(charts, t)
	}
	return charts, nil
}

// barePlan is the chart without heading and foot, which the page sets itself.
func barePlan(p *forecast.TrialPlan) Chart {
	g := planLayoutOf(p, false)
	g.bare = true
	return g.chart()
}
