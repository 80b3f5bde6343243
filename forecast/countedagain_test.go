package forecast

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats"

	"wintertop/canopy"
	"wintertop/weather"
)

// Event counts forecast again, of winters of which one lacks two days before a lead,
// against the events of each whole course of weather.
func TestEventForecastsAgainstWholeWinters(t *testing.T) {
	record := inventedWeather(rand.New(rand.NewPCG(41, 5)), 2001, 5)
	for i := range record.Days {
		if d := &record.Days[i]; d.Date.String() == "2003-12-02" || d.Date.String() == "2003-12-03" {
			d.MinC, d.MaxC, d.State = math.NaN(), math.NaN(), weather.Missing
		}
	}
	p := &Place{Record: record, Filled: record, Site: standardSite()}
	p.Site.Weather.LatitudeDeg = 52
	winters := p.completeWinters()
	if len(winters) != 5 {
		t.Fatalf("%d complete winters", len(winters))
	}
	got, err := p.verifyEvents(context.Background(), winters)
	if err != nil {
		t.Fatal(err)
	}
	closed := func(days []weather.Day) float64 {
		n := 0.
		for _, e := range weather.Events(weather.Record{Days: days}, p.Site.Weather) {
			if !e.Open {
				n++
			}
		}
		return n
	}
	for k := range leads(winters[0]) {
		var by []judged
		for _, w := range winters {
			var members []float64
			lead, end := leads(w)[k], lateEnd(w)
			for _, past := range others(winters, w) {
				days, err := weather.Splice(nil, p.Filled.Slice(w.First(), lead), nil, p.Filled.Days, past, lead, end)
				if err == nil {
					members = append(members, closed(days))
				}
			}
			by = append(by, judgeMembers(members, closed(p.Filled.Slice(w.First(), end))))
		}
		want := tallied(WhatEvents, ByForecast, got[3*k].LeadDays, by)
		if want.N == 0 || math.Abs(got[3*k].CRPS-want.CRPS) > 1e-12 || got[3*k].Cover90 != want.Cover90 {
			t.Errorf("lead %d days: CRPS %g, 90 %% hold %g; counted over whole winters %g, %g", want.LeadDays, got[3*k].CRPS, got[3*k].Cover90, want.CRPS, want.Cover90)
		}
	}
}

// A row is weighed as if its line had no other.
func TestRowsOfALineStandAlone(t *testing.T) {
	trial, l := learnedOf(t, 3, 2, 43) // two plots each
	at := l.newest()
	rows, _, err := l.rowsOf(context.Background(), trial, trial.Places[0], at.winter)
	if err != nil || len(rows) < 2*len(l.lines) {
		t.Fatalf("%d rows, error %v", len(rows), err)
	}
	for _, r := range slices.Backward(rows) {
		alone := *r
		alone.stake = stake{}
		if err := l.stakes(context.Background(), []*row{&alone}, at); err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(alone.stake.nodes, r.stake.nodes) || !slices.Equal(alone.stake.weight, r.stake.weight) || !slices.Equal(alone.stake.lengthLn, r.stake.lengthLn) {
			t.Errorf("%s: another weighting beside the other plot", r.plantings[0].Name)
		}
	}
}

// What a day's odds are does not hang on when the window begins.
func TestOddsOfADayDoNotHangOnTheWindow(t *testing.T) {
	trial := loadAsOf(t, folder(t), "2014-11-15")
	l := learn(t, trial)
	datesFrom := func(month int) [][]PickDate {
		goal := goalOf(t, "2014-11-15")
		goal.From = day(t, map[int]string{1: "2015-01-05", 3: "2015-03-05"}[month])
		looks, _, err := Look(context.Background(), trial, l, goal)
		if err != nil {
			t.Fatal(err)
		}
		rows := looks[0].Picks.Rows
		slices.SortFunc(rows, func(a, b Pick) int { return cmp.Compare(a.Planting, b.Planting) })
		var all [][]PickDate
		for _, r := range rows {
			all = append(all, r.Dates)
		}
		return all
	}
	early, late := datesFrom(1), datesFrom(3)
	for i, dates := range early {
		for k, d := range dates {
			if d != late[i][k] {
				t.Fatalf("row %d: %+v, with a later window %+v", i, d, late[i][k])
			}
		}
	}
}

// What stands for the lengths of a node has the mean and SD of the weights by step.
func TestLengthsThatStandForANode(t *testing.T) {
	_, l, _ := look(t, folder(t), "2014-11-15")
	s := l.grid.stakeOf(l.general(0), newLookRoom())
	for i := range s.nodes {
		var at, weight []float64
		from, own := s.byLength.at(i)
		for k, w := range own {
			at, weight = append(at, l.grid.LengthLn[from+k]), append(weight, float64(w))
		}
		floats.Scale(1/floats.Sum(weight), weight)
		mean, sd := moments(at, weight)
		sd = math.Sqrt(square(sd) - square(s.stepLn)/12) // within a step they are spread
		pair := s.pair(i)
		three := s.lengths(i)
		_, sdOfThree := moments(three[:], []float64{1. / 3, 1. / 3, 1. / 3})
		if m := (pair[0] + pair[1]) / 2; math.Abs(m-mean) > 0.01*sd || math.Abs((pair[1]-pair[0])/2/sd-1) > 0.01 || math.Abs(three[1]-mean) > 0.01*sd || math.Abs(sdOfThree/sd-1) > 0.01 {
			t.Fatalf("node %d: pair %v, three %v; the steps have %.4f ± %.4f", i, pair, three, mean, sd)
		}
	}
}

// weighed is a value and its weight.
type weighed struct{ x, weight float64 }

func ascending(all []weighed) {
	slices.SortFunc(all, func(a, b weighed) int { return cmp.Compare(a.x, b.x) })
}

func medianOf(all []weighed) float64 {
	ascending(all)
	total, reached := 0.0, 0.0
	for _, one := range all {
		total += one.weight
	}
	for _, one := range all {
		if reached += one.weight; reached >= total/2 {
			return one.x
		}
	}
	return math.NaN()
}

// fieldOn plays a crop on the whole grid, and gives its courses of weather and its
// field on one day.
func (l *Learning) fieldOn(t *testing.T, place *Place, c crop, goal Goal, date string) (traces, field) {
	t.Helper()
	courses, _, err := tracesOf(place, place.winters(goal.Winter), c.sown, goal.AsOf, goal.Winter.Last(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var on field
	err = newStage(l.grid.whole(), l.params, c, courses).play(context.Background(), func(f *field) error {
		if f.date.String() == date {
			on = *f
			on.leafG, on.height = slices.Clone(f.leafG), slices.Clone(f.height)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return courses, on
}

// Medians of a season against those of every course, node of the core and length; the
// same top heights, as a forecast that is judged, by their CRPS.
func TestMediansAgainstADirectCount(t *testing.T) {
	// Noted heights leave long tops where leaves are few, and short ones where they are many.
	fsys := with(t, "notes.csv", notesCSV+"2014-10-20,plain14,top_height,38,cm,20\n2014-10-20,stout14,top_height,47,cm,20\n")
	trial, l, o := look(t, fsys, "2014-11-15")
	place, goal := trial.Places[0], goalOf(t, "2014-11-15")
	rows, crops, err := l.rowsOf(context.Background(), trial, place, goal.Winter)
	if err != nil {
		t.Fatal(err)
	}
	lifting := canopy.NewLifting(place.Site.Canopy)
	const date, noted, plants = "2015-02-15", 31., 10
	for _, r := range rows {
		name := r.plantings[0].Name
		_, f := l.fieldOn(t, place, crops[r.crop], goal, date)
		var heights, shares []weighed
		for course := range f.courses {
			for k, i := range r.stake.core {
				at, w := course*gridNodes+r.stake.nodes[i], r.stake.inCore[k]
				for _, ln := range r.stake.lengths(i) {
					cm := f.height[at] * math.Exp(ln)
					heights, shares = append(heights, weighed{cm, w}), append(shares, weighed{lifting.Share(f.leafG[at], cm), w})
				}
			}
		}
		s := o.Season.Plantings[slices.IndexFunc(o.Season.Plantings, func(s PlantingSeason) bool { return s.Planting == name })]
		d := s.Days[slices.IndexFunc(s.Days, func(d SeasonDay) bool { return d.Date == f.date })]
		if want := medianOf(heights); math.Abs(d.TopHeightCM/want-1) > 0.01 {
			t.Errorf("%s: top height %.2f cm, counted %.2f", name, d.TopHeightCM, want)
		}
		if want := medianOf(shares); math.Abs(d.LiftShare-want) > 0.005 {
			t.Errorf("%s: lift share %.3f, counted %.3f", name, d.LiftShare, want)
		}
		h, err := l.hindcast(context.Background(), trial, place, goal.Winter, place.winters(goal.Winter), []outcome{{planting: name, winter: goal.Winter, date: f.date, what: WhatTopHeight, value: noted, plants: plants}})
		if err != nil {
			t.Fatal(err)
		}
		got, err := h.from(context.Background(), goal.AsOf)
		if err != nil {
			t.Fatal(err)
		}
		sd := math.Hypot(l.params.PlotHeightSDLn, place.Site.Canopy.HeightLnSD/math.Sqrt(plants))
		x, weight := blurred(heights, sd)
		if want := judgeSpread(x, weight, noted); math.Abs(got[0].crps/want.crps-1) > 0.01 {
			t.Errorf("%s: CRPS %.3f of a top height, counted %.3f", name, got[0].crps, want.crps)
		}
	}
	if len(rows) < 2 {
		t.Errorf("%d rows checked", len(rows))
	}
}

// blurred gives values, ascending, after a normal deviation of their logarithm, and
// weights that sum to 1.
func blurred(all []weighed, sd float64) (x, weight []float64) {
	var wide []weighed
	total := 0.0
	for _, one := range all {
		for z := -4.; z <= 4; z += 0.25 {
			w := one.weight * math.Exp(-0.5*z*z)
			wide, total = append(wide, weighed{one.x * math.Exp(z*sd), w}), total+w
		}
	}
	ascending(wide)
	for _, one := range wide {
		x, weight = append(x, one.x), append(weight, one.weight/total)
	}
	return x, weight
}
