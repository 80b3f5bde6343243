package forecast

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wintertop/weather"
)

// pickRow collects what the pick needs of one row, day by day.
type pickRow struct {
	ground ground
	dates  []PickDate
	endG   float64 // median leaf mass on the window's last day, g dry
	// window sums the lift share over the window's days, per course, node in
	// use and length point.
	window []float64
	days   int // of the window that were added
	// liftShare is the mean lift share per course and day from as-of on; nil
	// where no order is wanted.
	liftShare [][]float64
}

func newPickRow(courses, nodes int, g ground) *pickRow {
	return &pickRow{ground: g, window: make([]float64, courses*nodes*lengthPoints)}
}

// add counts one day: weights of the grid, each course alike. Lift share rises
// with top length, so the chance that it reaches the wanted share is the
// chance of a length above the least one.
func (p *pickRow) add(d *dayBook, r *row, goal Goal) {
	f := d.f
	courses, at := len(p.ground.clear), int(f.date-p.ground.asOf)
	day := PickDate{Date: f.date, FitDaysLeft: p.ground.fitLeft[at]}
	inWindow := f.date >= goal.From
	mass := spreadOfLeafG()
	for course := range courses {
		// On an observed day every course is the same.
		from, clear := min(course, f.courses-1)*gridNodes, p.ground.clear[course][at]
		before := day.LiftShareMean
		if clear {
			day.RootNoFrost++
		}
		for i, node := range r.stake.nodes {
			cell, w := from+node, r.stake.weight[i]
			lift := r.stake.longer(i, d.leastLn[cell])
			day.Lift += w * lift
			if d.leastLn[cell] < math.MaxFloat64 {
				day.Leaf += w
			}
			if d.shaded[cell] {
				day.Shaded += w
				if clear {
					day.All += w * lift
				}
			}
			if f.date == goal.To {
				mass.addAt(d.massStep[cell], f.leafG[cell], w)
			}
			for q, ln := range r.stake.lengths(i) {
				share := d.shares.At(d.massCell[cell], d.heightLn[cell]+ln)
				day.LiftShareMean += w / lengthPoints * share
				if inWindow {
					p.window[(course*len(r.stake.nodes)+i)*lengthPoints+q] += share
				}
			}
		}
		if p.liftShare != nil {
			p.liftShare[course] = append(p.liftShare[course], day.LiftShareMean-before)
		}
	}
	for _, sum := range []*float64{&day.All, &day.Lift, &day.Leaf, &day.Shaded, &day.RootNoFrost, &day.LiftShareMean} {
		// To the digits that are printed, so that what is said of the odds can
		// be read off them.
		*sum = math.Round(*sum/float64(courses)*1000) / 1000
	}
	if inWindow {
		p.days++
	}
	if f.date == goal.To {
		p.endG = mass.quantile(0.5)
	}
	p.dates = append(p.dates, day)
}

// picksOf ranks the rows of a place and gives each its verdict.
func (p *Place) picksOf(rows []*row, t traces, goal Goal, params Params) *Picks {
	out := &Picks{
		Place: p.Name, Winter: goal.Winter, AsOf: goal.AsOf, From: goal.From, To: goal.To, Traces: len(t.played),
		Assurance: p.Site.Params.Assurance, WantedShare: p.Site.Params.WantedShare,
		LeftOutYears: t.left,
	}
	if !rows[0].picks.ground.rainKnown() {
		out.NotKnown = append(out.NotKnown, "fit days (the record has no rain, or too many days without)")
	}
	contest := newContest(rows, len(t.courses))
	chances := contest.chances()
	type place struct {
		pick Pick
		row  int
	}
	var places []place
	for i, r := range rows {
		dates := r.picks.dates
		pick := Pick{
			Kind: r.kind, Winters: len(t.played), LeafEndG: r.picks.endG / p.Site.Canopy.DryShare,
			Notes: r.notes, Basis: r.basis, Dates: dates, ChanceBest: chances[i],
			Verdict: verdict(dates, goal, out.Assurance, r.notes),
		}
		pick.HoldsFrom, pick.HoldsUntil, pick.HasHold = firstRun(dates, out.Assurance, func(d PickDate) float64 { return d.All })
		_, pick.ShadedUntil, pick.HasShaded = firstRun(dates, out.Assurance, func(d PickDate) float64 { return d.Shaded })
		pick.Reason = reason(pick, out.Assurance)
		for _, planting := range r.plantings {
			pick.Line, pick.Planting = planting.Line, planting.Name
			places = append(places, place{pick, i})
		}
	}
	slices.SortStableFunc(places, func(a, b place) int {
		allA, liftA := windowMeans(a.pick.Dates, goal)
		allB, liftB := windowMeans(b.pick.Dates, goal)
		return -cmp.Or(cmp.Compare(allA, allB), cmp.Compare(liftA, liftB))
	})
	for i := range places {
		places[i].pick.Rank = i + 1
	}
	for i, a := range places {
		var tied []string
		for j, b := range places {
			if i != j && (a.row == b.row || max(contest.beats(a.row, b.row), contest.beats(b.row, a.row)) < params.TieOdds) {
				tied = append(tied, fmt.Sprint(j+1))
			}
		}
		places[i].pick.Tied = strings.Join(tied, " ")
		out.Rows = append(out.Rows, places[i].pick)
	}
	return out
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
