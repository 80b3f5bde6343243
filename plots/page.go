package plots

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
	"wintertop/weather/table"
)

// Page is the report: one file that holds the whole answer, without script or
// outside address, for a phone, a screen or paper.
type Page struct {
	Title    string // heading; "" for a plain one
	Version  string // of the program
	Station  string // name of the station as the record gives it, or of its file
	Seasons  []*forecast.Season
	Picks    []*forecast.Picks
	Traits   *table.Table   // traits.csv; may be nil
	Winters  *table.Table   // winters.csv; may be nil
	Findings table.Findings // of the station file
}

//go:embed page.html.tmpl
var pageTemplate string

//go:embed page.css
var pageStyle string

// HTML writes the page. All text from input files is escaped.
func (p Page) HTML(w io.Writer) error {
	v, err := p.view()
	if err != nil {
		return err
	}
	t, err := template.New("page").Parse(pageTemplate)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := t.Execute(&b, v); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// pageView is the page as its template reads it.
type pageView struct {
	Style    template.CSS
	Title    string
	Facts    [][2]string
	Answers  []answer
	Canopies []leafSection
	Winters  *resultGrid
	Traits   *resultGrid
	Findings []string
	MoreSeen int
	Version  string
}

// answer is the pick of one place.
type answer struct {
	Place, WhatToDo, Finding, Odds string
	LeftOut                        []string
	Window, EndDay                 string
	Rows                           []answerRow
	Wide, Narrow                   template.HTML
}

type answerRow struct {
	Rank                                     int
	Name, Note, Verdict, Meaning, Class      string
	EndOdds, Best, Leaf, Shaded, Basis, Tied string
	EndParts                                 []string
}

// leafSection is the leaf mass of one place.
type leafSection struct {
	Place, Finding, Events string
	Keys                   []leafSign
	Panels                 []leafFigure
	Frosts                 []frostRow
	MoreFrosts             int
}

type leafSign struct {
	Sign template.HTML
	Text string
}

type leafFigure struct {
	Name, Low string
	Chart     template.HTML
}

type frostRow struct {
	Start, End, Nights, Hours, Canopy, Screen string
}

func (p Page) view() (pageView, error) {
	v := pageView{
		Style:   template.CSS(strings.Replace(pageStyle, "/* dark charts */", darkRules(), 1)),
		Title:   plain(p.Title),
		Version: plain(p.Version),
		Traits:  gridOf(p.Traits),
		Winters: p.wintersGrid(),
	}
	if v.Title == "" {
		v.Title = "How the tops stand this winter"
	}
	v.Facts = p.facts()
	for i, picks := range p.Picks {
		a, err := answerOf(picks, fmt.Sprintf("calendar%d", i+1))
		if err != nil {
			return pageView{}, err
		}
		v.Answers = append(v.Answers, a)
	}
	for i, s := range p.Seasons {
		l, err := leafSectionOf(s, fmt.Sprintf("leaf%d", i+1))
		if err != nil {
			return pageView{}, err
		}
		v.Canopies = append(v.Canopies, l)
	}
	for i, f := range p.Findings {
		if i == shownFindings {
			v.MoreSeen = len(p.Findings) - i
			break
		}
		v.Findings = append(v.Findings, f.String())
	}
	return v, nil
}

const shownFindings = 20

// facts heads the page: station, places, as-of, winter, window, version.
func (p Page) facts() [][2]string {
	facts := [][2]string{{"Station", plain(p.Station)}}
	var places []string
	for _, s := range p.Seasons {
		if s.Place != "" {
			places = append(places, plain(s.Place))
		}
	}
	facts = append(facts, [2]string{"Place", strings.Join(places, ", ")})
	switch {
	case len(p.Picks) > 0:
		k := p.Picks[0]
		facts = append(facts, [2]string{"As of", fullDate(k.AsOf)}, [2]string{"Winter", k.Winter.String()}, [2]string{"Window", windowWords(k)})
	case len(p.Seasons) > 0:
		s := p.Seasons[0]
		facts = append(facts, [2]string{"As of", fullDate(s.AsOf)}, [2]string{"Winter", s.Winter.String()})
	}
	facts = append(facts, [2]string{"Version", plain(p.Version)})
	var out [][2]string
	for _, f := range facts {
		if f[1] != "" {
			out = append(out, f)
		}
	}
	return out
}

func answerOf(p *forecast.Picks, id string) (answer, error) {
	names := pickNames(p)
	a := answer{Place: plain(p.Place), WhatToDo: whatToDo(p, names), Finding: pickFinding(p, names), Odds: oddsWords(p),
		Window: windowWords(p), EndDay: dayMonth(p.To)}
	for _, year := range p.LeftOutYears {
		a.LeftOut = append(a.LeftOut, plain(year))
	}
	for i, r := range p.Rows {
		a.Rows = append(a.Rows, answerRowOf(p, r, names[i]))
	}
	wide, err := wideCalendar(p)
	if err != nil {
		return a, err
	}
	wide.bare = true
	if a.Wide, err = inline(wide.chart(), id); err != nil {
		return a, err
	}
	a.Narrow, err = inline(phoneCalendar(p), id+"n")
	return a, err
}

func answerRowOf(p *forecast.Picks, r forecast.Pick, name string) answerRow {
	verdict, meaning := verdictWords(p, r)
	row := answerRow{Rank: r.Rank, Name: name, Note: rowNote(r), Verdict: verdict, Meaning: meaning,
		Class: strings.ReplaceAll(verdict, " ", "-"), Best: number(100*r.ChanceBest, 0) + " %", Basis: plain(r.Basis), Tied: plain(r.Tied)}
	if finite(r.LeafEndG) {
		row.Leaf = number(r.LeafEndG, 1) + " g"
	}
	if r.HasShaded {
		row.Shaded = dayMonth(r.ShadedUntil)
	}
	if r.Basis != "assumed" {
		row.Basis = fmt.Sprintf("%d values", r.Notes)
	}
	if n := len(r.Dates); n > 0 {
		end := r.Dates[n-1]
		row.EndOdds = percent(end.All) + " %"
		row.EndParts = []string{"belts " + percent(end.Lift) + " %,", "shade " + percent(end.Shaded) + " %"}
	}
	return row
}

func leafSectionOf(s *forecast.Season, id string) (leafSection, error) {
	c, f, all := leafChart(s)
	l := leafSection{Place: plain(s.Place), Finding: c.Finding, Events: eventSentence(s)}
	for _, k := range f.small().keys(all) {
		l.Keys = append(l.Keys, leafSign{k.sign(), k.text})
	}
	for i := range all {
		chart, err := inline(leafPanel(s, i), fmt.Sprintf("%s-%d", id, i+1))
		if err != nil {
			return l, err
		}
		l.Panels = append(l.Panels, leafFigure{all[i].name, lowWords(s, all[i]), chart})
	}
	const shown = 8
	l.MoreFrosts = max(0, len(s.Events)-shown)
	for _, e := range s.Events[l.MoreFrosts:] {
		row := frostRow{Start: fullDate(e.Start.Date), End: "still frozen", Nights: number(float64(e.Nights), 0),
			Hours: number(e.HoursFrozen, 0), Canopy: number(e.MinCanopyC, 1), Screen: number(e.MinScreenC, 1)}
		if !e.Open {
			row.End = dayMonth(e.End.Date)
		}
		l.Frosts = append(l.Frosts, row)
	}
	return l, nil
}

// sign gives a key's swatch as an element of the page; its text stands beside
// it.
func (k key) sign() template.HTML {
	const height vg.Length = 16
	s := newSheet(height)
	k.swatch(draw.NewCanvas(s, k.width+2, height), 1, 4)
	w := tenths((k.width + 2).Points())
	return template.HTML(fmt.Sprintf(`<svg aria-hidden="true" viewBox="0 0 %s 16" width="%[1]s" height="16">%s</svg>`, w, s.body.String()))
}

// inline gives a chart as an element of the page.
func inline(c Chart, id string) (template.HTML, error) {
	var b strings.Builder
	err := c.element(&b, id)
	return template.HTML(b.String()), err
}
