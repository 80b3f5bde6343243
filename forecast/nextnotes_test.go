package forecast

import (
	"context"
	"math"
	"slices"
	"testing"
)

// standing gives, by stretch of the window between two dates of notes and by cell
// of the grid, the odds that a row can be left standing: the mean over past
// winters and the stretch's days, as of the as-of day; and the share of the
// window that is the stretch's.
func (n *nowTrial) standing(t testing.TB, l *Learning, cut *Trial) (odds [][]float64, share []float64) {
	t.Helper()
	ctx := context.Background()
	place := cut.Places[0]
	traces, _, err := tracesOf(place, place.winters(n.goal.Winter), n.sown, n.goal.AsOf, n.goal.To, nil)
	if err != nil {
		t.Fatal(err)
	}
	g, err := groundOf(ctx, traces, n.goal, 0)
	if err != nil {
		t.Fatal(err)
	}
	c := cut.cropOf(&cut.Plantings[len(cut.Plantings)-1])
	book := l.grid.dayBook(place, c, l.grid.whole(), nil, len(traces.courses))
	table := newDayTable(book, []ground{g}, len(traces.courses), false)
	dates := surveyDates(n.goal)
	share = make([]float64, len(dates))
	for range dates {
		odds = append(odds, make([]float64, gridNodes*gridLengths))
	}
	days := float64(n.goal.To-n.goal.From) + 1
	err = newStage(l.grid.whole(), l.params, c, traces).play(ctx, func(f *field) error {
		if f.date < n.goal.From {
			return nil
		}
		book.f = f
		if err := book.prepare(ctx, false); err != nil {
			return err
		}
		if err := table.add(ctx, n.goal); err != nil {
			return err
		}
		stretch, within := slices.BinarySearch(dates, f.date)
		if !within {
			stretch--
		}
		share[stretch] += 1 / days
		for c, x := range table.all[0] {
			odds[stretch][c] += float64(x)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for s := range odds {
		for i := range odds[s] {
			odds[s][i] /= max(1, math.Round(share[s]*days))
		}
	}
	return odds, share
}

// cellOf gives the cell of the grid next to some traits.
func (g *Grid) cellOf(t truth) int {
	step := func(at []float64, x float64) int {
		return min(max(int(math.Round((x-at[0])/(at[1]-at[0]))), 0), len(at)-1)
	}
	return (step(g.SizeLn, t.sizeLn)*gridHards+step(g.HardC, t.hardC))*gridLengths + step(g.LengthLn, t.lengthLn)
}

// offBy is how far decisions lie off: mean over rows of the squared error of
// the odds, and of the loss of leaving or lifting wrongly.
// left is the loss that the traits still let expect, which notes are to lower: it
// is less of a lottery than the loss against one truth.
type offBy struct{ squares, loss, left float64 }

// judge learns, for each stretch of the window, with the notes that come before
// it, and holds the odds against the truth.
func (n *nowTrial) judge(t testing.TB, odds [][]float64, share []float64, more []Note) offBy {
	t.Helper()
	var j offBy
	a, learned := n.place.Site.Params.Assurance, map[int]*Learning{}
	for s, date := range surveyDates(n.goal) {
		if share[s] == 0 {
			continue
		}
		trial := *n.trial
		for _, note := range more {
			if note.Date < date+10 { // a walk put off by frost included
				trial.Notes = append(slices.Clip(trial.Notes), note)
			}
		}
		l := learned[len(trial.Notes)]
		if l == nil {
			var err error
			if l, _, err = Learn(context.Background(), &trial); err != nil {
				t.Fatal(err)
			}
			learned[len(trial.Notes)] = l
		}
		for i, truly := range n.truly {
			believed, true := 0.0, odds[s][l.grid.cellOf(truly)]
			in := l.inSeason(i, season{n.goal.Winter, n.place})
			for c, w := range in {
				believed += w * odds[s][c]
			}
			for c, w := range in {
				if (believed >= a) != (odds[s][c] >= a) {
					j.left += share[s] / float64(len(n.truly)) * w * math.Abs(odds[s][c]-a)
				}
			}
			weight := share[s] / float64(len(n.truly))
			j.squares += weight * square(believed-true)
			if (believed >= a) != (true >= a) {
				j.loss += weight * math.Abs(true-a)
			}
		}
	}
	return j
}

// known gives what is known as of the as-of day.
func (n *nowTrial) known(t testing.TB) (*Trial, *Learning) {
	t.Helper()
	cut, _, err := n.trial.AsOf(n.goal.AsOf)
	if err != nil {
		t.Fatal(err)
	}
	l, _, err := Learn(context.Background(), cut)
	if err != nil {
		t.Fatal(err)
	}
	return cut, l
}

// Five recommended notes must narrow the decisions of an invented trial more
// than five notes at random and five on the customary dates. Full size.
func TestRecommendedNotesNarrowMore(t *testing.T) {
	needsLong(t)
	const trials, lines, years, five = 32, 12, 13, 5
	names := []string{"no more notes", "recommended", "at random", "leaf mass in mid December", "leaf mass in mid January", "leaf mass in mid February"}
	got := make([][]offBy, trials)
	err := inParallel(context.Background(), trials, func(k int) error {
		n := newNowTrial(uint64(k), lines, years)
		cut, l := n.known(t)
		looks, _, err := Look(context.Background(), cut, l, n.goal)
		if err != nil {
			return err
		}
		// The middle row is the one in question.
		var means []float64
		for _, r := range looks[0].Next.Rows {
			means = append(means, r.Mean)
		}
		slices.Sort(means)
		n.place.Site.Params.Assurance, cut.Places[0].Site.Params.Assurance = means[lines/2], means[lines/2]
		if looks, _, err = Look(context.Background(), cut, l, n.goal); err != nil {
			return err
		}
		odds, share := n.standing(t, l, cut)
		advice := looks[0].Next
		sets := make([][]Note, len(names))
		for _, take := range advice.Take[:min(five, len(advice.Take))] {
			line := slices.IndexFunc(n.trial.Lines, func(x Line) bool { return x.Name == take.Line })
			sets[1] = append(sets[1], n.note(line, take.Trait, take.From, take.Plants))
		}
		dates := surveyDates(n.goal)
		taken := map[[3]int]bool{}
		for len(sets[2]) < five {
			at := [3]int{n.rng.IntN(lines), n.rng.IntN(len(surveyed)), n.rng.IntN(len(dates))}
			if !taken[at] {
				taken[at] = true
				sets[2] = append(sets[2], n.note(at[0], surveyed[at[1]], dates[at[2]], plantsAtFirst))
			}
		}
		order := n.rng.Perm(lines)
		for i, d := range customary(n.goal.Winter)[1:] {
			for _, line := range order[:five] {
				sets[3+i] = append(sets[3+i], n.note(line, LeafMass, d, plantsAtFirst))
			}
		}
		for _, notes := range sets {
			got[k] = append(got[k], n.judge(t, odds, share, notes))
		}
		t.Logf("trial %d: %.5f", k, got[k])
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for s, name := range names {
		var squares, loss mean
		var left, apart []float64
		for _, g := range got {
			squares.add(g[s].squares)
			loss.add(g[s].loss)
			left, apart = append(left, g[s].left), append(apart, g[s].left-g[1].left)
		}
		alike := slices.Repeat([]float64{1. / trials}, trials)
		still, _ := moments(left, alike)
		m, sd := moments(apart, alike)
		t.Logf("%-26s expected loss left %.5f, worse than recommended by %.5f ± %.5f; against the truth %.5f, error of the odds %.4f", name, still, m, sd/math.Sqrt(trials), loss.value(), math.Sqrt(squares.value()))
		if s != 1 && m <= 0 {
			t.Errorf("%s: no worse than the recommended notes", name)
		}
	}
}
