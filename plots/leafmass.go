package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
	"wintertop/weather"
)

// LeafMass draws how much leaf is left: leaf mass in fresh g per plant by line
// through one season, median and 5–95 % band, observed days apart from the
// outlook, notes as weighed, freezing events below, the mass that the belts
// grip as a line. Up to four plantings share one panel; more get a panel each
// on shared scales. A season without plantings gives a chart that says so.
func LeafMass(s *forecast.Season) (Chart, error) {
	c, f, all := leafChart(s)
	switch {
	case len(all) == 0:
		c.height = 40
		c.draw = func(draw.Canvas, vg.Length) {}
	case len(all) <= maxTogether:
		c.onePanel(f, all)
	default:
		c.panelGrid(f, all)
	}
	return c, nil
}

// leafPanel draws one planting of a season on the scales of the whole season,
// small enough for a phone and without a heading.
func leafPanel(s *forecast.Season, i int) Chart {
	c, f, all := leafChart(s)
	l := all[i]
	c.Title = "How much leaf is left of " + l.name + "?"
	c.Finding = leafSentence(s, l)
	c.Desc = c.Finding
	c.bare = true
	c.keys = nil
	c.width = 360
	f = f.small()
	const height = 176
	c.height = height
	c.draw = func(d draw.Canvas, top vg.Length) {
		f.panel(d, []series{l}, vg.Rectangle{Min: vg.Point{X: 34, Y: top - height + 52}, Max: vg.Point{X: c.width - 44, Y: top - 4}})
	}
	return c
}

// leafChart gives the parts that all leaf mass charts of a season share.
func leafChart(s *forecast.Season) (Chart, frame, []series) {
	all := seriesOf(s)
	f := frameOf(s, all)
	c := Chart{
		Title:   "How much leaf is left?",
		Finding: leafFinding(s, all),
		Desc:    leafDesc(s, all),
		width:   900,
		keys:    f.keys(all),
	}
	return c, f, all
}

// series is one planting as charts name and draw it.
type series struct {
	name  string
	days  []forecast.SeasonDay
	notes []forecast.NotePoint
}

// seriesOf names the plantings by line, and by planting too where a line has
// several.
func seriesOf(s *forecast.Season) []series {
	count := map[string]int{}
	for _, p := range s.Plantings {
		count[p.Line]++
	}
	out := make([]series, len(s.Plantings))
	for i, p := range s.Plantings {
		out[i] = series{name: rowName(p.Line, p.Planting, count[p.Line] > 1), days: p.Days}
		for _, n := range p.Notes {
			if n.Trait == "leaf_mass" && finite(n.Value) {
				out[i].notes = append(out[i].notes, n)
			}
		}
	}
	return out
}

// rowName gives the name that charts print for a planting.
func rowName(line, planting string, several bool) string {
	line, planting = isolated(plain(line)), isolated(plain(planting))
	switch {
	case line == "" && planting == "":
		return "(no name)"
	case line == "":
		return planting
	case several && planting != "":
		return line + " (" + planting + ")"
	}
	return line
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// onePanel lays out one panel with the lines' names at their ends.
func (c *Chart) onePanel(f frame, all []series) {
	const (
		height vg.Length = 452
		leftW  vg.Length = 48
		rightW vg.Length = 200
	)
	c.height = height
	c.draw = func(d draw.Canvas, top vg.Length) {
		r := vg.Rectangle{
			Min: vg.Point{X: leftW, Y: top - height + 108},
			Max: vg.Point{X: c.width - rightW, Y: top - 42},
		}
		write(d, smallText, vg.Point{X: margin, Y: top - 16}, left, ink, "Leaf mass, g fresh per plant")
		f.panel(d, all, r)
		f.asOfWords(d, r)
		f.endLabels(d, all, r)
	}
}

// panelGrid lays out one panel per planting in columns with shared scales.
func (c *Chart) panelGrid(f frame, all []series) {
	columns := 2
	if len(all) > 8 {
		columns = 3
	}
	if len(all) > 24 {
		columns = 4
	}
	f = f.small()
	const (
		leftW  vg.Length = 36
		rightW vg.Length = 30
		below  vg.Length = 46
		nameH  vg.Length = 14
	)
	cell := (c.width - 2*margin) / vg.Length(columns)
	data := []vg.Length{0, 0, 130, 100, 76}[columns]
	nameRows := 1
	names := make([][]string, len(all))
	for i, s := range all {
		names[i] = strongText.wrapName(s.name, cell-leftW-6)
		nameRows = max(nameRows, len(names[i]))
	}
	step := data + below + nameH*vg.Length(nameRows) + 30
	if columns == 4 {
		f.yearless = true
		step -= 12
	}
	rows := (len(all) + columns - 1) / columns
	c.height = step*vg.Length(rows) + margin + 18
	c.draw = func(d draw.Canvas, top vg.Length) {
		write(d, smallText, vg.Point{X: margin, Y: top - 14}, left, ink, "Leaf mass, g fresh per plant; below, canopy temperature of freezing events, °C")
		top -= 22
		for i := range all {
			x := margin + cell*vg.Length(i%columns)
			y := top - step*vg.Length(i/columns)
			for j, line := range names[i] {
				write(d, strongText, vg.Point{X: x + leftW, Y: y - nameH*vg.Length(nameRows-len(names[i])+j+1)}, left, ink, line)
			}
			y -= nameH * vg.Length(nameRows)
			write(d, tinyText, vg.Point{X: x + leftW, Y: y - 11}, left, soft, tinyText.cut(lowWords(f.season, all[i]), cell-leftW-4))
			y -= 18
			f.panel(d, all[i:i+1], vg.Rectangle{
				Min: vg.Point{X: x + leftW, Y: y - data},
				Max: vg.Point{X: x + cell - rightW, Y: y},
			})
		}
	}
}

// low is the day of the least leaf between a planting's autumn best and the
// end of the frost season.
type low struct {
	best, least forecast.SeasonDay
	ok          bool
}

func lowOf(s *forecast.Season, days []forecast.SeasonDay) low {
	from, to := s.Winter.FrostSeason()
	half := from + (to-from)/2
	var l low
	for _, d := range days {
		if !finite(d.LeafG) || d.Date < from || d.Date > to {
			continue
		}
		if !l.ok || d.Date <= half && d.LeafG > l.best.LeafG {
			l = low{d, d, true}
		}
		if d.LeafG < l.least.LeafG {
			l.least = d
		}
	}
	return l
}

// lowWords says where a planting's leaf is least in winter.
func lowWords(s *forecast.Season, l series) string {
	w := lowOf(s, l.days)
	if !w.ok {
		return "no day of this winter's frost season"
	}
	return fmt.Sprintf("winter low %s g, %s", number(w.least.LeafG, 1), dayMonth(w.least.Date))
}

// lastShown is the last day that leaf mass charts show: a month past the
// frost season, so that regrowth is seen to begin but does not set the scale.
func lastShown(w weather.WinterYear) weather.Date {
	_, to := w.FrostSeason()
	return to + 30
}
