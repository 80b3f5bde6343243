package forecast

import (
	"bytes"
	"context"
	"errors"
	"math"
	"slices"
	"sort"
	"strings"
	"testing"
	"testing/fstest"

	"gonum.org/v1/gonum/floats"

	"wintertop/canopy"
	"wintertop/weather"
	"wintertop/weather/table"
)

func goalOf(t testing.TB, asOf string) Goal {
	t.Helper()
	d := day(t, asOf)
	w := weather.WinterOf(d, false)
	return Goal{Want: WantSeason | WantPicks, Winter: w, AsOf: d, From: weather.NewDate(w.Year+1, 2, 1), To: weather.NewDate(w.Year+1, 3, 15)}
}

func look(t testing.TB, fsys fstest.MapFS, asOf string) (*Trial, *Learning, Outlook) {
	t.Helper()
	trial := loadAsOf(t, fsys, asOf)
	l := learn(t, trial)
	looks, _, err := Look(context.Background(), trial, l, goalOf(t, asOf))
	if err != nil {
		t.Fatal(err)
	}
	if len(looks) != 1 {
		t.Fatalf("%d places", len(looks))
	}
	return trial, l, looks[0]
}

func TestOutlookHoldsTogether(t *testing.T) {
	_, _, o := look(t, folder(t), "2014-11-15")
	p := o.Picks
	if p.Traces != 2 || len(p.Rows) != 3 {
		t.Fatalf("%d past winters, %d rows; the record holds two complete ones before 2014/15, and three plantings", p.Traces, len(p.Rows))
	}
	total := 0.0
	for i, r := range p.Rows {
		total += r.ChanceBest
		if r.Rank != i+1 {
			t.Errorf("rank %d in row %d", r.Rank, i)
		}
		if first, last := r.Dates[0].Date.String(), r.Dates[len(r.Dates)-1].Date.String(); first != "2014-11-15" || last != "2015-03-15" || len(r.Dates) != 121 {
			t.Errorf("%s: %d dates from %s to %s", r.Line, len(r.Dates), first, last)
		}
		for _, d := range r.Dates {
			for _, x := range []float64{d.All, d.Lift, d.Shaded, d.RootNoFrost} {
				if printed := math.Round(x*1000) / 1000; printed != x {
					t.Errorf("%s on %s: %v has more digits than are printed, so that the rules cannot be read off", r.Line, d.Date, x)
				}
			}
			if d.All > min(d.Lift, d.Shaded, d.RootNoFrost)+1e-12 || d.All < d.Lift+d.Shaded+d.RootNoFrost-2-0.0021 {
				t.Errorf("%s on %s: p_all %g from parts %g, %g, %g", r.Line, d.Date, d.All, d.Lift, d.Shaded, d.RootNoFrost)
			}
			if d.Lift > d.Leaf+1e-12 {
				t.Errorf("%s on %s: lifts with chance %g, has leaf enough with %g", r.Line, d.Date, d.Lift, d.Leaf)
			}
			for _, x := range []float64{d.All, d.Lift, d.Shaded, d.RootNoFrost, d.LiftShareMean} {
				if !(x >= 0 && x <= 1+1e-12) {
					t.Errorf("%s on %s: %g is no share", r.Line, d.Date, x)
				}
			}
		}
		if r.Line == "unseen" && (r.Verdict != NotKnownYet || r.Basis != Assumed) {
			t.Errorf("a line without notes is %q on basis %q", r.Verdict, r.Basis)
		}
	}
	if math.Abs(total-1) > 1e-9 {
		t.Errorf("chance_best sums to %g", total)
	}
	for _, s := range o.Season.Plantings {
		last := s.Days[len(s.Days)-1]
		if last.Date.String() != "2015-06-30" {
			t.Errorf("%s: season ends on %s", s.Planting, last.Date)
		}
		for i, d := range s.Days {
			if i > 0 && d.Date != s.Days[i-1].Date+1 {
				t.Fatalf("%s: %s follows %s", s.Planting, d.Date, s.Days[i-1].Date)
			}
			if d.Observed != (d.Date <= p.AsOf) {
				t.Errorf("%s: observed is %t on %s", s.Planting, d.Observed, d.Date)
			}
			if !(d.LeafLoG <= d.LeafG && d.LeafG <= d.LeafHiG) {
				t.Errorf("%s on %s: leaf mass %g outside %g–%g", s.Planting, d.Date, d.LeafG, d.LeafLoG, d.LeafHiG)
			}
			if math.Abs(d.LeafDryG-0.14*d.LeafG) > 1e-9 {
				t.Errorf("dry %g of fresh %g", d.LeafDryG, d.LeafG)
			}
		}
	}
}

// p_all, p_lift and p_shaded against a plain count over past winters, grid
// nodes, finely cut sizes and lengths, each stand's lift share by the integral
// itself instead of its tables: over the nodes that the row is weighed on, and
// over all of the grid, from which leaving out hardinesses may take
// the odds by 0.01 where there are only two past winters.
func TestOddsAgainstADirectCount(t *testing.T) {
	trial, l, o := look(t, folder(t), "2014-11-15")
	place := trial.Places[0]
	goal := goalOf(t, "2014-11-15")
	courses, f := l.fieldOn(t, place, trial.cropOf(&trial.Plantings[3]), goal, "2015-02-15") // of plain14
	w := l.inSeason(1, season{goal.Winter, place})
	_, hard, _ := w.marginals()
	ofRow := func(node int) bool { return (node%gridHards-gridHards/2)%apart(hard) == 0 }
	weighed := 0.0
	for n := range gridNodes {
		if ofRow(n) {
			weighed += floats.Sum(w[n*gridLengths:][:gridLengths])
		}
	}
	lifting := canopy.NewLifting(place.Site.Canopy)
	var counted, wholly [3]float64 // lift, shaded, all
	frosted := func(course int, from, to string) bool {
		w := courses.courses[course]
		return slices.Contains(w.RootFrost(0)[w.Index(day(t, from)):w.Index(day(t, to))+1], true)
	}
	step, sizeStep := l.grid.LengthLn[1]-l.grid.LengthLn[0], l.grid.SizeLn[1]-l.grid.SizeLn[0]
	const cuts, lengthCuts = 4, 2
	middle := func(cut, of int) float64 { return (float64(cut)+0.5)/float64(of) - 0.5 }
	for course := range f.courses {
		sound := !frosted(course, "2014-07-05", "2015-02-15")
		for node := range gridNodes {
			at := course*gridNodes + node
			for size := range cuts {
				leafG := f.leafG[at] * math.Exp(sizeStep*middle(size, cuts))
				dark := math.Exp(-0.55*0.016*80*leafG) <= 0.35
				least := sort.Search(lengthCuts*gridLengths, func(i int) bool { // a longer top never lifts less
					return lifting.Share(leafG, f.height[at]*math.Exp(l.grid.LengthLn[i/lengthCuts]+step*middle(i%lengthCuts, lengthCuts))) >= 0.85
				})
				for i := range lengthCuts * gridLengths {
					x := w[node*gridLengths+i/lengthCuts] / cuts / lengthCuts / float64(f.courses)
					if x < 1e-8 {
						continue
					}
					lifts := i >= least
					for _, to := range []struct {
						sums *[3]float64
						x    float64
					}{{&wholly, x}, {&counted, x / weighed}} {
						for q, is := range [3]bool{lifts, dark, lifts && dark && sound} {
							if is && (to.sums == &wholly || ofRow(node)) {
								to.sums[q] += to.x
							}
						}
					}
				}
			}
		}
	}
	for _, r := range o.Picks.Rows {
		if r.Planting != "plain14" {
			continue
		}
		for _, d := range r.Dates {
			if d.Date.String() != "2015-02-15" {
				continue
			}
			// Left out: nodes of 1e-4 weight in all, parts of cells of 1e-8.
			for _, x := range [][3]float64{{d.Lift, counted[0], wholly[0]}, {d.Shaded, counted[1], wholly[1]}, {d.All, counted[2], wholly[2]}} {
				if math.Abs(x[0]-x[1]) > 0.004 || math.Abs(x[0]-x[2]) > 0.01 {
					t.Errorf("odds %g, counted on the row's nodes %g, on all of the grid %g", x[0], x[1], x[2])
				}
			}
			if lift := counted[0]; !(lift > 0.02 && lift < 0.98) {
				t.Errorf("the chance of lifting is %g: the check tells nothing there", lift)
			}
		}
	}
}

// Weather and notes after the as-of day, cut off or made up, change no byte.
func TestFutureWeatherChangesNothing(t *testing.T) {
	text := seattle(t)
	rows := strings.SplitAfter(text, "\n")
	var false_ strings.Builder
	for _, r := range rows {
		if r <= "2014-11-16" || strings.HasPrefix(r, "date") {
			false_.WriteString(r)
		} else if r != "" {
			false_.WriteString(r[:10] + ",0,-5,-20\n")
		}
	}
	// A note and a short-range forecast of later days.
	later := map[string]string{
		"notes.csv": notesCSV + "2014-11-16,stout14,leaf_mass,1,g,10\n2015-02-01,plain14,top_height,3,cm,10\n",
		"ahead.csv": "date,tmin,tmax\n2014-12-01,-20,-5\n2014-12-02,-20,-5\n",
	}
	var outputs []string
	for i, station := range []string{text, false_.String()} {
		fsys := with(t, "station.csv", station)
		if i == 1 {
			for name, text := range later {
				fsys[name] = &fstest.MapFile{Data: []byte(text)}
			}
		}
		_, _, o := look(t, fsys, "2014-11-15")
		var b bytes.Buffer
		for _, table := range []*table.Table{PickTable([]*Picks{o.Picks}), PickDatesTable([]*Picks{o.Picks}), SeasonTable([]*Season{o.Season})} {
			if err := table.CSV(&b); err != nil {
				t.Fatal(err)
			}
		}
		outputs = append(outputs, b.String())
	}
	if outputs[1] != outputs[0] {
		t.Error("the outlook of 2014-11-15 changes with the weather after it")
	}
}

func TestAPastWinterIsFollowedByObservation(t *testing.T) {
	trial := loadAsOf(t, folder(t), "2015-12-31")
	goal := goalOf(t, "2014-02-15")
	goal.AsOf = day(t, "2015-12-31")
	looks, _, err := Look(context.Background(), trial, learn(t, trial), goal)
	if err != nil {
		t.Fatal(err)
	}
	o := looks[0]
	if o.Picks != nil || o.Season.Traces != 0 {
		t.Errorf("a winter that is over has a pick or %d past winters", o.Season.Traces)
	}
	for _, p := range o.Season.Plantings {
		for _, d := range p.Days {
			if !d.Observed {
				t.Fatalf("%s not observed on %s", p.Planting, d.Date)
			}
		}
	}
}

func TestNoPastWinterIsAnError(t *testing.T) {
	var rows []string
	for _, r := range strings.SplitAfter(seattle(t), "\n") {
		if strings.HasPrefix(r, "date") || r >= "2014-06-01" {
			rows = append(rows, r)
		}
	}
	fsys := with(t, "station.csv", strings.Join(rows, ""))
	fsys["notes.csv"] = &fstest.MapFile{Data: []byte("date,planting,trait,value\n")}
	fsys["plantings.csv"] = &fstest.MapFile{Data: []byte("planting,line,sown,plants_per_m2\nplain14,plain,2014-07-05,80\n")}
	trial := loadAsOf(t, fsys, "2014-11-15")
	_, _, err := Look(context.Background(), trial, learn(t, trial), goalOf(t, "2014-11-15"))
	var input *table.InputError
	if !errors.As(err, &input) || !strings.Contains(err.Error(), "no complete past winter for an outlook") {
		t.Errorf("error %v", err)
	}
}

func TestAHigherBeltNeverLiftsMore(t *testing.T) {
	_, _, low := look(t, folder(t), "2015-02-01")
	_, _, high := look(t, with(t, "site.csv", siteCSV+"belt_height,26,cm\n"), "2015-02-01")
	byName := func(o Outlook) map[string]Pick {
		m := map[string]Pick{}
		for _, r := range o.Picks.Rows {
			m[r.Planting] = r
		}
		return m
	}
	l, h := byName(low), byName(high)
	moved := false
	for name := range l {
		for i, d := range l[name].Dates {
			e := h[name].Dates[i]
			moved = moved || e.Lift < d.Lift-0.01
			if e.Lift > d.Lift+1e-9 || e.LiftShareMean > d.LiftShareMean+1e-3 { // the share table's error
				t.Errorf("%s on %s: lifts %g with belts at 26 cm, %g at 20", name, d.Date, e.Lift, d.Lift)
			}
		}
	}
	if !moved {
		t.Error("belts at 26 cm change nothing")
	}
}
