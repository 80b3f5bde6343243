package plots

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/weather"
)

// Frosts is the freezing of the canopy at one place over the winters of its
// record, up to the as-of day.
type Frosts struct {
	Place  string
	Winter weather.WinterYear // shown large, against all others
	AsOf   weather.Date
	Counts []weather.WinterCount
	Events []weather.Event // of all winters
}

// Events draws how hard the winters were on the leaves: the asked winter large,
// below it every other winter as a row, hardest first, its freezing events
// hanging as deep as their coldest canopy, with frost hours, events, coldest
// canopy, first and last event printed. Where the asked winter is in progress,
// the as-of day runs through all rows, so that like is compared with like. Of
// more than 90 winters the latest are shown.
func Events(f Frosts) Chart {
	const most = 90
	return f.layout(most).chart(f.Place)
}

// phoneEvents is the same chart for a narrow screen, without a heading and with
// the latest 30 winters.
func phoneEvents(f Frosts) Chart {
	const most = 30
	g := f.layout(most)
	g.narrow, g.bare, g.width, g.lane0, g.lane = true, true, 360, 72, 240
	return g.chart(f.Place)
}

// winterRow is one winter of an events chart.
type winterRow struct {
	whole    weather.Severity
	begun    weather.Severity // by the as-of day's calendar day; whole where no winter is in progress
	events   []weather.Event
	complete bool
}

// frostLayout is what an events chart shows, and where.
type frostLayout struct {
	rows       []winterRow // complete winters by rank, then the others; without the asked one unless it is complete
	asked      winterRow
	known      bool // the asked winter is in the record
	inProgress bool
	asOf       weather.Date
	complete   int // complete winters of the record
	left       int // winters left out, being older
	from, to   int // days shown, counted from the frost season's first day
	depthC     float64
	topHours   float64 // upper end of the scale of frost hours

	step, deep vg.Length // height of a row, and of the deepest event in it

	narrow      bool
	bare        bool
	width       vg.Length
	lane0, lane vg.Length // where the lanes begin, and their width
}

// layout gathers the rows; at most most are kept, the latest winters.
func (f Frosts) layout(most int) frostLayout {
	g := frostLayout{asOf: f.AsOf, depthC: -10, width: 900, lane0: 100, lane: 474}
	whole := weather.Severities(f.Counts, f.Events)
	var own *weather.WinterCount
	for i := range f.Counts {
		if f.Counts[i].Winter == f.Winter {
			own = &f.Counts[i]
		}
		if f.Counts[i].Complete {
			g.complete++
		}
	}
	g.inProgress = own != nil && !own.Complete && f.AsOf >= f.Winter.First() && f.AsOf <= f.Winter.Last()
	begun := whole
	if g.inProgress {
		begun = weather.Severities(f.Counts, weather.BegunBy(f.Events, f.AsOf))
	}
	of := map[weather.WinterYear][]weather.Event{}
	for _, e := range f.Events {
		of[e.Winter] = append(of[e.Winter], e)
	}
	for i, c := range f.Counts {
		r := winterRow{whole[i], begun[i], of[c.Winter], c.Complete}
		if c.Winter == f.Winter {
			g.asked, g.known = r, true
			if !c.Complete {
				continue
			}
		}
		g.rows = append(g.rows, r)
	}
	if g.left = max(0, len(g.rows)-most); g.left > 0 {
		g.rows = g.rows[g.left:]
	}
	slices.SortStableFunc(g.rows, func(a, b winterRow) int {
		rankA, rankB := a.whole.Rank, b.whole.Rank
		switch {
		case a.complete != b.complete:
			if a.complete {
				return -1
			}
			return 1
		case rankA != rankB:
			return rankA - rankB
		}
		return b.whole.Winter.Year - a.whole.Winter.Year
	})
	g.scales(f)
	g.step, g.deep = 19, 16
	if len(g.rows) > 40 {
		g.step, g.deep = 15, 12
	}
	return g
}

// scales sets the days and the depth that all rows share.
func (g *frostLayout) scales(f Frosts) {
	start, end := f.Winter.FrostSeason()
	g.to = int(end - start)
	for _, r := range append([]winterRow{g.asked}, g.rows...) {
		g.topHours = math.Max(g.topHours, r.whole.FreezingDegreeHours)
		for _, e := range r.events {
			first, _ := e.Winter.FrostSeason()
			g.from = min(g.from, int(e.Start.Date-first))
			g.to = max(g.to, int(e.Start.Date-first)+1)
			if !e.Open {
				g.to = max(g.to, int(e.End.Date-first)+1)
			}
			if finite(e.MinCanopyC) && e.MinCanopyC < g.depthC {
				g.depthC = 5 * math.Floor(e.MinCanopyC/5)
			}
		}
	}
	g.from = max(g.from, int(f.Winter.First()-start))
	g.to = min(g.to, int(f.Winter.Last()-start))
}

// x places days counted from the frost season's first.
func (g frostLayout) x(days float64) vg.Length {
	t := (days - float64(g.from)) / float64(g.to-g.from+1)
	return g.lane0 + vg.Length(t)*g.lane
}

// asOfX is the as-of day's end in all lanes.
func (g frostLayout) asOfX() vg.Length {
	start, _ := g.asked.whole.Winter.FrostSeason()
	return min(max(g.x(float64(g.asOf-start)+1), g.lane0), g.lane0+g.lane)
}

// hang draws events from y down, the deepest of the scale deep: those begun
// after the as-of day paler, the coldest darkest.
func (g frostLayout) hang(d draw.Canvas, r winterRow, y, deep vg.Length) {
	var before, after, coldest vg.Path
	marked := false
	for _, e := range r.events {
		into := &before
		switch {
		case e.MinCanopyC == r.whole.MinCanopyC && !marked:
			into, marked = &coldest, true
		case g.inProgress && e.Start.Date > e.Winter.SameDay(g.asOf):
			into = &after
		}
		g.trace(into, e, y, deep)
	}
	for _, p := range []struct {
		path vg.Path
		tone tone
	}{{after, pale}, {before, frost}, {coldest, ink}} {
		d.SetColor(p.tone.paper)
		d.Fill(p.path)
	}
}

// trace adds the outline of an event that hangs from y.
func (g frostLayout) trace(p *vg.Path, e weather.Event, y, deep vg.Length) {
	if !finite(e.MinCanopyC) {
		return
	}
	x0, x1 := g.span(e)
	low := y - vg.Length(math.Min(0, e.MinCanopyC)/g.depthC)*deep
	p.Move(vg.Point{X: x0, Y: y})
	p.Line(vg.Point{X: x1, Y: y})
	p.Line(vg.Point{X: x1, Y: low})
	p.Line(vg.Point{X: x0, Y: low})
	p.Close()
}

// behind lays the other complete winters over one another behind the large
// one.
func (g frostLayout) behind(d draw.Canvas, y, deep vg.Length) {
	n := 0
	for _, r := range g.rows {
		if r.complete {
			n++
		}
	}
	opacity := math.Min(0.2, math.Max(0.02, 2/float64(max(1, n))))
	d.SetColor(frost.alpha(uint8(math.Round(255 * opacity))))
	for _, r := range g.rows {
		if !r.complete || r.whole.Winter == g.asked.whole.Winter {
			continue
		}
		var p vg.Path
		for _, e := range r.events {
			g.trace(&p, e, y, deep)
		}
		d.Fill(p)
	}
}

// span gives where an event begins and ends; it is at least wide enough to be
// seen.
func (g frostLayout) span(e weather.Event) (x0, x1 vg.Length) {
	start, _ := e.Winter.FrostSeason()
	at := func(h weather.Hour) vg.Length {
		return min(max(g.x(float64(h.Date-start)+float64(h.Hour)/24), g.lane0), g.lane0+g.lane)
	}
	x0 = at(e.Start)
	x1 = x0
	if !e.Open {
		x1 = at(e.End)
	} else if e.Winter == g.asked.whole.Winter {
		x1 = g.asOfX()
	}
	const least = 1.4
	if x1 < x0+least {
		x1 = min(x0+least, g.lane0+g.lane)
		x0 = min(x0, x1-least)
	}
	return x0, x1
}
