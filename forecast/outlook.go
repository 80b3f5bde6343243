package forecast

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"wintertop/canopy"
	"wintertop/weather"
	"wintertop/weather/table"
)

// fewWinters is the number of complete past winters below which the odds of an
// outlook deserve a warning.
const fewWinters = 10

// traces are the courses of weather that a place's winter may take: what was
// observed, and each past winter after it.
type traces struct {
	courses []*weather.Winter    // one where everything was observed
	played  []weather.WinterYear // past winters, parallel to courses; nil where everything was observed
	left    []string             // past winters that could not be played, with the reason
	common  int                  // index of the last day that all courses share
}

// winters gives the winters of a place's record from its first on, up to but
// not including one.
func (p *Place) winters(before weather.WinterYear) []weather.WinterYear {
	var winters []weather.WinterYear
	for w := weather.WinterOf(p.Record.First(), before.South); w.Year < before.Year; w = w.Next() {
		winters = append(winters, w)
	}
	return winters
}

// complete gives those of some winters that are complete.
func (p *Place) complete(winters []weather.WinterYear) []weather.WinterYear {
	return slices.DeleteFunc(slices.Clone(winters), func(w weather.WinterYear) bool { return !p.Record.Complete(w) })
}

// tracesOf lays out the courses of one place from a first day, by which every
// crop is sown, to a last one. Days after asOf, and observed days that are
// missing, come from each complete one of the past winters in turn, moved by
// warmingC where it is given. The error is a *table.InputError where there is
// none.
func tracesOf(p *Place, past []weather.WinterYear, first, asOf, last weather.Date, warmingC func(weather.WinterYear) float64) (traces, table.Findings, error) {
	observed := p.Filled.Slice(first, min(asOf, last))
	t := traces{common: weather.Known(observed) - 1}
	if first+weather.Date(t.common) == last {
		w, err := weather.NewWinter(observed, p.Site.Weather)
		if err != nil {
			return traces{}, nil, err
		}
		t.courses = []*weather.Winter{w}
		return t, nil, nil
	}
	seen := &weather.Winter{Site: p.Site.Weather}
	if t.common >= 0 {
		var err error
		if seen, err = weather.NewWinter(observed[:t.common+1], p.Site.Weather); err != nil {
			return traces{}, nil, err
		}
	}
	for _, past := range past {
		if !p.Record.Complete(past) {
			t.left = append(t.left, fmt.Sprintf("%s (not complete%s)", past, coldest(p.Record, past)))
			continue
		}
		run := p.Filled.Slice(max(p.Filled.First(), past.First()-400), past.Last())
		if warmingC != nil {
			run = warmed(run, warmingC(past))
		}
		days, err := weather.Splice(nil, observed, p.Ahead, run, past, asOf, last)
		if err != nil {
			t.left = append(t.left, fmt.Sprintf("%s (%v)", past, err))
			continue
		}
		w, err := seen.Continue(days)
		if err != nil {
			return traces{}, nil, err
		}
		t.courses = append(t.courses, w)
		t.played = append(t.played, past)
	}
	return t, append(t.findings(p), t.gapFinding(p, first, min(asOf, last))...), t.err(p)
}

// coldest says how cold an incomplete winter got, as far as it was read.
func coldest(r weather.Record, w weather.WinterYear) string {
	for _, c := range r.CountWinters(w.South) {
		if c.Winter == w && c.Missing < c.Days {
			return fmt.Sprintf(", coldest reading %.1f °C", c.ColdestC)
		}
	}
	return ""
}

func (t traces) findings(p *Place) table.Findings {
	var findings table.Findings
	if len(t.left) > 0 {
		findings = append(findings, table.Finding{File: p.Record.File, Severity: table.Note, TreatedAs: "left out of the outlook",
			What: "past winters not played forward: " + strings.Join(t.left, "; ")})
	}
	if n := len(t.played); n > 0 && n < fewWinters {
		findings = append(findings, table.Finding{File: p.Record.File, Severity: table.Warning, TreatedAs: "used",
			What: fmt.Sprintf("only %d complete past winters: the odds move in steps of %.0f %%, and a winter harder than all of them is not among them", n, 100/float64(n)),
			Hint: "a longer record of a station nearby makes the odds better"})
	}
	return findings
}

// gapFinding says that days already past had to be played from past winters.
func (t traces) gapFinding(p *Place, first, asOf weather.Date) table.Findings {
	missing := first + weather.Date(t.common) + 1
	if missing > asOf {
		return nil
	}
	return table.Findings{{File: p.Record.File, Date: missing.String(), Severity: table.Warning, TreatedAs: "played from past winters",
		What: fmt.Sprintf("days from %s on are missing: until the record goes on they are played from each past winter, and events may be missing", missing)}}
}

func (t traces) err(p *Place) error {
	if len(t.courses) > 0 {
		return nil
	}
	return &table.InputError{Faults: table.Findings{{File: p.Record.File, Severity: table.Fault, TreatedAs: "refused",
		What: "no complete past winter for an outlook", Hint: "the record must hold at least one earlier winter with October to March (south: April to September) nearly complete; " + strings.Join(t.left, "; ")}}}
}

// field is one crop on one day: every course of weather by the grid nodes that rows need.
type field struct {
	date     weather.Date
	observed bool // one course, all weather seen
	courses  int

	nodes int // that rows need
	// [course*nodes + k], of the k-th of these: dry g, relative to top length, leaves,
	// share, °C.
	leafG, height, liveLeaves, weedCover, lt50C []float64

	emerged bool // in most courses
}

// stage simulates one crop along the traces, day by day, all courses abreast.
type stage struct {
	draws  drawn
	params Params
	crop   crop
	traces traces
	trial  float64 // factor on leaf mass: what the notes say of the season's trial
	season bool    // every quantity of a season is wanted, not only leaf mass and height
	now    field
	work   [][]float64 // per course, by draw
}

func newStage(d drawn, p Params, c crop, t traces) *stage {
	courses := len(t.courses)
	s := &stage{draws: d, params: p, crop: c, traces: t, trial: 1, work: make([][]float64, courses)}
	n := courses * len(d.nodes)
	s.now = field{
		nodes: len(d.nodes),
		leafG: make([]float64, n), height: make([]float64, n), liveLeaves: make([]float64, n), weedCover: make([]float64, n), lt50C: make([]float64, n),
	}
	for i := range s.work {
		s.work[i] = make([]float64, len(d.at))
	}
	return s
}

// play runs the crop from sowing to the courses' last day and shows each day
// to see. The observed days are run once; each past winter goes on from a copy
// of the stand. The error is see's or ctx's.
func (s *stage) play(ctx context.Context, see func(*field) error) error {
	lead := s.traces.courses[0]
	sown := lead.Index(s.crop.sown)
	stand := s.crop.sow(s.draws.traits())
	var failed error
	stand.Grow(lead, sown, s.traces.common, func(day int, st *canopy.Stand) {
		if failed != nil {
			return
		}
		if failed = ctx.Err(); failed != nil {
			return
		}
		s.read(st, 0)
		failed = s.show(lead.First+weather.Date(day), true, 1, st.Emerged(), see)
	})
	if failed != nil {
		return failed
	}
	stands := make([]*canopy.Stand, len(s.traces.courses))
	for i := range stands {
		stands[i] = stand.Clone()
	}
	for day := max(s.traces.common+1, sown); day < len(lead.Days); day++ {
		err := inParallel(ctx, len(stands), func(i int) error {
			stands[i].Grow(s.traces.courses[i], day, day, nil)
			s.read(stands[i], i)
			return nil
		})
		if err != nil {
			return err
		}
		up := 0
		for _, st := range stands {
			if st.Emerged() {
				up++
			}
		}
		if err := s.show(lead.First+weather.Date(day), false, len(stands), 2*up > len(stands), see); err != nil {
			return err
		}
	}
	return nil
}

// read takes a stand's day into the field of one course.
func (s *stage) read(st *canopy.Stand, course int) {
	n := s.now.nodes
	run, own := s.work[course], func(quantity []float64) []float64 { return quantity[course*n:][:n] }
	leafG := own(s.now.leafG)
	s.draws.refineLog(leafG, st.LeafG(run), s.params.MassOffsetG)
	for k := range leafG {
		leafG[k] *= s.trial
	}
	s.draws.refine(own(s.now.height), st.RelativeHeight(run))
	if !s.season {
		return
	}
	s.draws.refine(own(s.now.liveLeaves), st.LiveLeaves(run))
	s.draws.refine(own(s.now.weedCover), st.WeedCover(run))
	s.draws.refine(own(s.now.lt50C), st.LT50C(run))
}

func (s *stage) show(date weather.Date, observed bool, courses int, emerged bool, see func(*field) error) error {
	s.now.date, s.now.observed, s.now.courses, s.now.emerged = date, observed, courses, emerged
	return see(&s.now)
}
