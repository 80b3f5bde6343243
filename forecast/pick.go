package forecast

import (
	"cmp"
	"context"
	"math"
	"slices"

	"wintertop/weather"
)

// pickRow collects what the pick needs of one row, day by day.
type pickRow struct {
	ground int // which of the day table's
	table  *dayTable
	dates  []PickDate
	endG   float64 // median leaf mass on the window's last day, g dry
	// liftShare is the mean lift share per course and day from as-of on; empty
	// where no order is wanted.
	liftShare [][]float64
}

// add weighs the table's day. Lift share rises with top length, so the chance
// that it reaches the wanted share is the chance of a length above the least one.
func (p *pickRow) add(r *row, goal Goal) {
	t := p.table
	date := t.book.f.date
	day := PickDate{Date: date, RootNoFrost: t.clear[p.ground], FitDaysLeft: t.grounds[p.ground].fitLeft[date-t.grounds[p.ground].asOf]}
	var leaf, shaded, lift, all, share float64
	ofGround := t.all[p.ground]
	for i, at := range r.at {
		node := int(at)
		leaf += r.stake.weight[i] * t.leaf[node]
		shaded += r.stake.weight[i] * t.shaded[node]
		from, lengths := r.stake.byLength.at(i)
		lifts, joint := t.lift[node*gridLengths+from:][:len(lengths)], ofGround[node*gridLengths+from:][:len(lengths)]
		var a, b, c float32 // of the node: sums that wait for no other node's
		for k, w := range lengths {
			a += w * lifts[k]
			b += w * joint[k]
		}
		from, thin := r.stake.byShare.at(i)
		shares := t.share[node*shareLengths+from:][:len(thin)]
		for k, w := range thin {
			c += w * shares[k]
		}
		lift, all, share = lift+float64(a), all+float64(b), share+float64(c)
	}
	day.Leaf, day.Shaded, day.Lift, day.All, day.LiftShareMean = leaf, shaded, lift, all, share
	for _, odds := range []*float64{&day.All, &day.Lift, &day.Leaf, &day.Shaded, &day.RootNoFrost, &day.LiftShareMean} {
		// To the digits that are printed, so that what is said of the odds can
		// be read off them.
		*odds = math.Round(*odds*1000) / 1000
	}
	if date == goal.To {
		p.endG = t.book.medianG(r)
	}
	if t.today != nil {
		p.addShares(r)
	}
	p.dates = append(p.dates, day)
}

// addShares adds the day's mean lift share of each course.
func (p *pickRow) addShares(r *row) {
	if p.liftShare == nil {
		p.liftShare = make([][]float64, p.table.courses)
	}
	for course := range p.liftShare {
		mean := 0.0
		for i, node := range r.at {
			from, thin := r.stake.byShare.at(i)
			today, own := p.table.of(p.table.today, course, int(node))[from:][:len(thin)], float32(0)
			for k, w := range thin {
				own += w * today[k]
			}
			mean += float64(own)
		}
		p.liftShare[course] = append(p.liftShare[course], mean)
	}
}

// medianG gives a row's median leaf mass on the book's day, g dry per plant, as
// the season has it.
func (d *dayBook) medianG(r *row) float64 {
	mass, stake := spreadOfLeafG(), &r.stake
	for course := range d.f.courses {
		for k, i := range stake.core {
			at := course*d.f.nodes + int(r.at[i])
			mass.addAt(mass.stepOn(d.massLn[at]), d.f.leafG[at], stake.inCore[k])
		}
	}
	return mass.quantile(0.5)
}

// contestant gives the row's part in the contest: its mean lift share over the
// window at each node in use and each of a pair of lengths.
func (r *row) contestant() contestant {
	t := r.picks.table
	c := contestant{line: r.line, plantings: len(r.plantings), weight: make([]float64, 0, 2*len(r.stake.nodes))}
	draws := make([]cubic, 0, 2*len(r.stake.nodes)) // of each, where it is read from a course's sums
	for i, w := range r.stake.weight {
		for _, lengthLn := range r.stake.pair(i) {
			draw := cubicAt((lengthLn - t.book.grid.LengthLn[0]) / t.book.grid.lengthStep())
			draw.from += r.at[i] * shareLengths
			c.weight, draws = append(c.weight, w/2), append(draws, draw)
		}
	}
	perShare := contestSteps / float32(t.days)
	c.steps = func(course int, dst []int16) {
		sums := t.window[course*t.book.nodes*shareLengths:]
		for k := range draws {
			dst[k] = int16(min(max(draws[k].of(sums)*perShare+0.5, 0), contestSteps))
		}
	}
	return c
}

// picksOf ranks the rows of a place and gives each its verdict. The error is
// ctx's.
func (p *Place) picksOf(ctx context.Context, rows []*row, t traces, goal Goal, params Params) (*Picks, error) {
	played := len(t.played)
	if t.courses[0].First+weather.Date(t.common) >= goal.To {
		played = 0 // all of the window is observed
	}
	out := &Picks{
		Place: p.Name, Winter: goal.Winter, AsOf: goal.AsOf, From: goal.From, To: goal.To, Traces: played,
		Assurance: p.Site.Params.Assurance, WantedShare: p.Site.Params.WantedShare,
		LeftOutYears: t.left,
	}
	if !rows[0].picks.table.grounds[0].rainKnown() {
		out.NotKnown = append(out.NotKnown, "fit days (the record has no rain, or too many days without)")
	}
	var contestants []contestant
	for i, r := range rows {
		c := r.contestant()
		if r.noted {
			c.line = -1 - i // a draw of its own: the plot's deviation is in it
		}
		contestants = append(contestants, c)
	}
	contest := newContest(contestants, len(t.courses))
	chances, err := contest.chances(ctx)
	if err != nil {
		return nil, err
	}
	same, err := contest.tied(ctx, params.TieOdds)
	if err != nil {
		return nil, err
	}
	type place struct {
		pick      Pick
		row       int
		all, lift float64 // means over the window
	}
	var places []place
	for i, r := range rows {
		dates := r.picks.dates
		pick := Pick{
			Kind: r.kind, Winters: played, LeafEndG: r.picks.endG / p.Site.Canopy.DryShare,
			Notes: r.notes, Basis: r.basis, Dates: dates, ChanceBest: chances[i],
			Verdict: verdict(dates, goal, out.Assurance, r.notes),
		}
		pick.HoldsFrom, pick.HoldsUntil, pick.HasHold = firstRun(dates, out.Assurance, func(d PickDate) float64 { return d.All })
		_, pick.ShadedUntil, pick.HasShaded = firstRun(dates, out.Assurance, func(d PickDate) float64 { return d.Shaded })
		pick.Reason = reason(pick, out.Assurance)
		all, lift := windowMeans(dates, goal)
		for _, planting := range r.plantings {
			pick.Line, pick.Planting = planting.Line, planting.Name
			places = append(places, place{pick, i, all, lift})
		}
	}
	slices.SortStableFunc(places, func(a, b place) int {
		return -cmp.Or(cmp.Compare(a.all, b.all), cmp.Compare(a.lift, b.lift))
	})
	for i := range places {
		places[i].pick.Rank = i + 1
	}
	var tied Ranks
	for i, a := range places {
		tied = tied[:0]
		for j, b := range places {
			if i != j && (a.row == b.row || same[a.row][b.row]) {
				tied = append(tied, j+1)
			}
		}
		places[i].pick.Tied = slices.Clone(tied)
		out.Rows = append(out.Rows, places[i].pick)
	}
	return out, nil
}

// windowMeans gives the mean joint odds and the mean lift share over the days
// of the window from as-of on: the order of the rows.
func windowMeans(dates []PickDate, goal Goal) (all, lift float64) {
	days := 0.0
	for _, d := range dates {
		if d.Date >= goal.From {
			all, lift, days = all+d.All, lift+d.LiftShareMean, days+1
		}
	}
	return all / days, lift / days
}

// verdict says what to do with a row: whether the joint odds reach the
// assurance on every day of the window from the as-of day on, on any day at
// all, or never.
func verdict(dates []PickDate, goal Goal, assurance float64, notes int) Verdict {
	if notes == 0 {
		return NotKnownYet
	}
	every, some := true, false
	for _, d := range dates {
		good := d.All >= assurance
		some = some || good
		if d.Date >= goal.From {
			every = every && good
		}
	}
	switch {
	case every:
		return Hold
	case some:
		return LiftEarly
	}
	return TooWeak
}

// firstRun gives the first unbroken run of days on which the odds reach the
// assurance.
func firstRun(dates []PickDate, assurance float64, odds func(PickDate) float64) (from, until weather.Date, ok bool) {
	for _, d := range dates {
		good := odds(d) >= assurance
		switch {
		case good && !ok:
			from, until, ok = d.Date, d.Date, true
		case good:
			until = d.Date
		case ok:
			return from, until, true
		}
	}
	return from, until, ok
}
