package plots

import (
	"fmt"
	"html/template"

	"wintertop/forecast"
	"wintertop/weather"
)

// canopySection is one place through the winter: its leaf, its shade and its
// freezing events.
type canopySection struct {
	Place, Events string
	Leaf, Shade   panelSection
	Frosts        []frostRow
	MoreFrosts    int
}

// panelSection is one quantity of a place: a small chart for each planting
// that is shown large, and a table of the rest.
type panelSection struct {
	Finding string
	Keys    []keySign
	Panels  []panelFigure
	Rest    *monthGrid
}

type keySign struct {
	Sign template.HTML
	Text string
}

type panelFigure struct {
	Name, Words string
	Chart       template.HTML
}

type frostRow struct {
	Start, End, Nights, Hours, Canopy, Screen string
}

func canopySectionOf(s *forecast.Season, number int) (canopySection, error) {
	c := canopySection{Place: plain(s.Place), Events: eventSentence(s)}
	large, rest := largest(s, seriesOf(s))
	leaf, f, all := leafChart(s)
	f = f.small()
	var err error
	c.Leaf, err = panelPlan{
		leaf.Finding, f.keys(all, true), func(l series) string { return lowWords(s, l) },
		func(i int) Chart { return leafPanel(s, i) }, leafRows(f, rest),
	}.section(large, fmt.Sprintf("leaf%d", number))
	if err != nil {
		return c, err
	}
	shade, g, _ := shadeChart(s)
	c.Shade, err = panelPlan{
		shade.Finding, g.keys(all, true), func(l series) string { return shadeWords(s, l) },
		func(i int) Chart { return shadePanel(s, i) }, lightRows(g, rest),
	}.section(large, fmt.Sprintf("shade%d", number))
	c.frosts(s.Events)
	return c, err
}

// panelPlan is what a panelSection is made of.
type panelPlan struct {
	finding string
	keys    []key
	words   func(series) string // that stand below a planting's name
	panel   func(i int) Chart   // of the season's planting i
	rest    monthRows
}

// section draws the large plantings.
func (p panelPlan) section(large []series, id string) (panelSection, error) {
	out := panelSection{Finding: p.finding, Rest: p.rest.grid()}
	for _, k := range p.keys {
		out.Keys = append(out.Keys, keySign{k.sign(), k.text})
	}
	for n, l := range large {
		chart, err := inline(p.panel(l.index), fmt.Sprintf("%s-%d", id, n+1))
		if err != nil {
			return out, err
		}
		out.Panels = append(out.Panels, panelFigure{l.name, kindBefore(l, p.words(l)), chart})
	}
	return out, nil
}

// frosts lists the last freezing events.
func (c *canopySection) frosts(events []weather.Event) {
	const shown = 8
	c.MoreFrosts = max(0, len(events)-shown)
	for _, e := range events[c.MoreFrosts:] {
		row := frostRow{
			Start: fullDate(e.Start.Date), End: "still frozen", Nights: number(float64(e.Nights), 0),
			Hours: number(e.HoursFrozen, 0), Canopy: number(e.MinCanopyC, 1), Screen: number(e.MinScreenC, 1),
		}
		if !e.Open {
			row.End = dayMonth(e.End.Date)
		}
		c.Frosts = append(c.Frosts, row)
	}
}

// monthGrid is the table of the plantings without a panel.
type monthGrid struct {
	Caption string
	Months  []string
	Rows    []monthGridRow
}

type monthGridRow struct {
	Name  string
	Check bool
	Cells []monthGridCell
}

type monthGridCell struct {
	Text  string
	Class int // of the palette; −1 where nothing is known
	First bool
}

// grid gives the rows as the page prints them; nil where there are none.
func (t monthRows) grid() *monthGrid {
	if len(t.all) == 0 {
		return nil
	}
	g := &monthGrid{Caption: t.caption()}
	dates := t.dates()
	for _, d := range dates {
		_, m, _ := d.YMD()
		g.Months = append(g.Months, m.String()[:3])
	}
	for _, l := range t.all {
		row := monthGridRow{Name: l.name, Check: l.check}
		for i, d := range dates {
			cell := monthGridCell{"–", -1, t.startsOutlook(dates, i)}
			if value, known := onDay(l.days, d, t.of); known {
				cell.Text, cell.Class = t.print(value), t.class(value)
			}
			row.Cells = append(row.Cells, cell)
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}
