package plots

import (
	"fmt"

	"wintertop/forecast"
)

// crossSection is what to cross.
type crossSection struct {
	Picture twinChart
	Pairs   *resultGrid
	Meaning string
	LeftOut []string
}

// shownCrosses is how many pairs the page lists.
const shownCrosses = 10

// crossSection is nil where there is no pair.
func (p Page) crossSection() (*crossSection, error) {
	x := p.Crosses
	if x == nil || len(x.Pairs) == 0 {
		return nil, nil
	}
	wide := crossLayoutOf(x, false)
	wide.bare = true
	s := &crossSection{Pairs: pairsGrid(x), Meaning: "Those chosen are the best of each cross's progeny lines. Size, length and hardiness are the middle of all its lines. Half as heritable: the chance where half as much of what is seen breeds true; half passed on: where only half of what sets lines apart is."}
	for _, l := range x.LeftOut {
		s.LeftOut = append(s.LeftOut, plain(l.Line)+" ("+plain(l.Why)+")")
	}
	var err error
	s.Picture, err = twinOf("", crossFoot(x), wide.chart(), phoneCross(x), "cross")
	return s, err
}

// pairsGrid lists the first pairs.
func pairsGrid(x *forecast.Crosses) *resultGrid {
	g := &resultGrid{File: "cross.csv", Heads: []gridHead{{"Cross", false}, {"Chance of those chosen", true}, {"5 to 95 %", true}, {"Half as heritable", true}, {"Half passed on", true},
		{"Size", true}, {"Length, cm", true}, {"Hardiness, °C", true}, {"Related", false}}}
	for _, c := range x.Pairs {
		row := gridRow{Cells: []gridCell{{Text: plain(x.Parents[c.A].Line) + " × " + plain(x.Parents[c.B].Line)}}}
		chances := []string{"–", "–", "–", "–"}
		if x.Winters > 0 {
			chances = []string{number(c.Chosen, 2), fmt.Sprintf("%s–%s", number(c.ChosenLo, 2), number(c.ChosenHi, 2)), number(c.HalfHeritable, 2), number(c.HalfPassedOn, 2)}
		}
		for _, text := range append(chances, number(c.TopSize.Value, 2), number(c.TopLengthCM.Value, 1), number(c.HardinessC.Value, 1)) {
			row.Cells = append(row.Cells, gridCell{Text: text, Number: true})
		}
		row.Cells = append(row.Cells, gridCell{Text: plain(c.Related)})
		g.Rows = append(g.Rows, row)
	}
	g.cut(shownCrosses)
	return g
}
