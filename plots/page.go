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
// outside address, for a phone, a screen or paper. What is nil or empty gets no
// section.
type Page struct {
	Title   string // heading; "" for a plain one
	Version string // of the program
	Station string // name of the station as the record gives it, or of its file
	Seasons []*forecast.Season
	Picks   []*forecast.Picks
	Orders  []*forecast.Order // what to lift this week, a place each; those of which nothing stands are passed over
	Frosts  []Frosts          // the winter of the seasons among all others, a place each
	Lines   []forecast.Learned
	Crosses *forecast.Crosses // nil, or without pairs: no section
	// How good past forecasts would have been, a place each; where it is empty the
	// page says how to find out.
	Verifications []forecast.Verification
	Next          []*forecast.Advice    // for the pick, a place each
	Plans         []*forecast.TrialPlan // a place each
	Winters       *table.Table          // winters.csv
	Constants     *table.Table          // constants.csv; its column lift_share_moves says which matter most
	Findings      table.Findings        // of the station file
	Sowing        *forecast.SowPlan
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
	if err == nil {
		_, err = t.Parse(nextTemplate)
	}
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
	Style     template.CSS
	Title     string
	Facts     [][2]string
	Answers   []answer
	Orders    []orderSection
	Canopies  []canopySection
	Frosts    []twinChart
	Winters   *resultGrid
	Lines     *twinChart
	Crosses   *crossSection
	Trust     []trustSection
	Sowing    *sowSection
	Constants *resultGrid
	Measure   []string
	Next      []nextSection
	Plans     []twinChart
	Findings  []string
	MoreSeen  int
	Version   string
}

// twinChart is a chart in two forms, of which the page shows the one that fits
// the screen.
type twinChart struct {
	Place, Finding string
	Foot           string
	Wide, Narrow   template.HTML
}

func twinOf(place, foot string, wide, narrow Chart, id string) (twinChart, error) {
	t := twinChart{Place: plain(place), Finding: wide.Finding, Foot: foot}
	var err error
	wide.bare = true
	if t.Wide, err = inline(wide, id); err != nil {
		return t, err
	}
	t.Narrow, err = inline(narrow, id+"n")
	return t, err
}

func (p Page) view() (pageView, error) {
	v := pageView{
		Style:     template.CSS(strings.Replace(classRules()+pageStyle, "/* dark charts */", darkRules(), 1)),
		Title:     plain(p.Title),
		Version:   plain(p.Version),
		Winters:   p.wintersGrid(),
		Constants: p.constantsGrid(),
		Measure:   p.measure(),
	}
	if v.Title == "" {
		v.Title = "How the tops stand this winter"
	}
	v.Facts = p.facts()
	for i, picks := range p.Picks {
		a, err := answerOf(picks, fmt.Sprintf("calendar%d", i+1))
		if err != nil {
			return v, err
		}
		v.Answers = append(v.Answers, a)
	}
	for i, o := range p.Orders {
		if len(o.Rows) == 0 {
			continue
		}
		s, err := orderSectionOf(o, i+1)
		if err != nil {
			return v, err
		}
		v.Orders = append(v.Orders, s)
	}
	for i, s := range p.Seasons {
		c, err := canopySectionOf(s, i+1)
		if err != nil {
			return v, err
		}
		v.Canopies = append(v.Canopies, c)
	}
	for i, f := range p.Frosts {
		const most = 45
		wide := f.layout(most)
		wide.bare = true
		f.Place = ""
		t, err := twinOf(p.Frosts[i].Place, wide.foot(), wide.chart(""), phoneEvents(f), fmt.Sprintf("winters%d", i+1))
		if err != nil {
			return v, err
		}
		v.Frosts = append(v.Frosts, t)
	}
	if len(p.Lines) > 0 {
		wide := traitLayoutOf(p.Lines, false)
		wide.bare = true
		t, err := twinOf("", traitFoot, wide.chart(), phoneTraits(p.Lines), "lines")
		if err != nil {
			return v, err
		}
		v.Lines = &t
	}
	if p.Sowing != nil {
		s, err := sowSectionOf(p.Sowing)
		if err != nil {
			return v, err
		}
		v.Sowing = &s
	}
	var err error
	if v.Crosses, err = p.crossSection(); err != nil {
		return v, err
	}
	for i, verified := range p.Verifications {
		t, err := trustSectionOf(verified, i+1)
		if err != nil {
			return v, err
		}
		v.Trust = append(v.Trust, t)
	}
	v.Next = p.nextSections()
	if v.Plans, err = p.planCharts(); err != nil {
		return v, err
	}
	for i, f := range p.Findings {
		if i == shownFindings {
			v.MoreSeen = len(p.Findings) - i
			break
		}
		v.Findings = append(v.Findings, plain(f.String()))
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
