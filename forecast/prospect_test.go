package forecast

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

func TestWorthOfANote(t *testing.T) {
	// Unit normal loss integral at 0, 0.5, 1, 2 (Raiffa & Schlaifer 1961, tables;
	// from memory, recomputed): .3989 .1978 .08332 .008491.
	for u, want := range map[float64]float64{0: 0.3989, 0.5: 0.1978, 1: 0.08332, 2: 0.008491} {
		if got := worth(3*u, 9) / 3; math.Abs(got-want) > 5e-5 {
			t.Errorf("unit normal loss at %g: %.5f, want %.5f", u, got, want)
		}
	}
	if worth(1, 0) != 0 {
		t.Error("a note that takes nothing away is worth something")
	}
}

// prospects lays out the rows of a trial's winter in progress as Look does.
func (n *nowTrial) prospects(t testing.TB) *chooser {
	t.Helper()
	ctx := context.Background()
	cut, l := n.known(t)
	place := cut.Places[0]
	rows, crops, err := l.rowsOf(ctx, cut, place, n.goal.Winter)
	if err != nil {
		t.Fatal(err)
	}
	traces, _, err := tracesOf(place, place.winters(n.goal.Winter), n.sown, n.goal.AsOf, n.goal.To, nil)
	if err != nil {
		t.Fatal(err)
	}
	g, err := groundOf(ctx, traces, n.goal, 0)
	if err != nil {
		t.Fatal(err)
	}
	book := l.grid.dayBook(place, crops[0], l.grid.whole(), rows, len(traces.courses))
	table := newDayTable(book, []ground{g}, len(traces.courses), false)
	dates := surveyDates(n.goal)
	due := dueDays(traces, dates, n.goal.To)
	for _, r := range rows {
		r.picks = &pickRow{table: table}
		r.survey = l.grid.newSurvey(place.Site.Canopy, &r.stake, dates, due)
	}
	stage := newStage(l.grid.whole(), l.params, crops[0], traces)
	stage.season = true
	err = stage.play(ctx, func(f *field) error {
		if f.date < n.goal.AsOf {
			return nil
		}
		book.f = f
		if err := book.prepare(ctx, false); err != nil {
			return err
		}
		if err := table.add(ctx, n.goal); err != nil {
			return err
		}
		for _, r := range rows {
			r.survey.add(book, r, n.goal)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	c := &chooser{picked: make([][]noteAt, len(rows)), kept: make([][]chosen, len(rows))}
	for i, r := range rows {
		c.prospects = append(c.prospects, l.prospect(r, place, n.goal))
		c.lay(i)
	}
	c.assurance = c.prospects[0].whole.mean + 0.05 // so that the first row is in question
	return c
}

// dense lays out some notes of a course together with the old ones in whole
// matrices: what the new notes add to the old, at each point, and its scatter.
func (p *prospect) dense(course int, notes []noteAt) (values [][]float64, scatter *mat.SymDense) {
	c := &p.courses[course]
	all := slices.Clone(p.old)
	answers := make([][]float64, len(all))
	for i := range all {
		answers[i] = numbersOf(p.arrays[p.oldArray[i]])
	}
	for _, n := range notes {
		if one, ok := p.addend(n, c); ok {
			all, answers = append(all, one.reading), append(answers, numbersOf(c.answers[one.answer]))
		}
	}
	m, k := len(p.old), len(all)-len(p.old)
	if k == 0 {
		return nil, nil
	}
	noise := mat.NewSymDense(len(all), nil)
	for i, a := range all {
		for j, b := range all[:i+1] {
			x := 0.0
			if a.group == b.group {
				plot, trial := p.doubts(a.group)
				x = a.shared(b, plot, trial)
			}
			if i == j {
				x += a.variance
			}
			noise.SetSym(i, j, x)
		}
	}
	var keep mat.Dense // weights of the old notes in what they let expect of the new
	keep.Solve(noise.SliceSym(0, m), mat.DenseCopyOf(noise).Slice(0, m, m, m+k))
	scatter = mat.NewSymDense(k, nil)
	for i := range k {
		x := slices.Clone(answers[m+i])
		for o := range m {
			for at := range x {
				x[at] -= keep.At(o, i) * answers[o][at]
			}
		}
		values = append(values, x)
		for j := range i + 1 {
			s := noise.At(m+i, m+j)
			for o := range m {
				s -= keep.At(o, i) * noise.At(o, m+j)
			}
			scatter.SetSym(i, j, s)
		}
	}
	return values, scatter
}

func TestNotesToTake(t *testing.T) {
	c := newNowTrial(4, 3, 5).prospects(t)
	t.Run("take away what the matrices say", c.takesAwayWhatTheMatricesSay)
	t.Run("of as few plants as will do", c.needsFewPlants)
	t.Run("tell more than others", c.tellsMore)
}

// What notes take away, worked out a note at a time with the old notes of the
// plot, must be what the whole matrices say: cᵀC⁻¹c.
func (c *chooser) takesAwayWhatTheMatricesSay(t *testing.T) {
	for i, p := range c.prospects {
		notes := []noteAt{{0, 0, 0, 10}, {0, 1, 0, 20}, {0, 0, 2, 5}, {0, 4, 2, 10}, {0, 5, 3, 20}}
		for course := range p.courses {
			k := p.choose(&p.courses[course], notes[:4])
			cut := k.with(p, &p.courses[course], notes[4], nil)
			values, scatter := p.dense(course, notes)
			whole := mat.NewSymDense(len(values), nil)
			lean := mat.NewVecDense(len(values), nil)
			for a := range values {
				lean.SetVec(a, floats.Dot(values[a], numbersOf(p.whole.values)))
				for b := range a + 1 {
					whole.SetSym(a, b, scatter.At(a, b)+floats.Dot(values[a], values[b]))
				}
			}
			var solved mat.VecDense
			solved.MulVec(inverse(whole), lean)
			want := mat.Dot(lean, &solved)
			if got := cut[len(cut)-1]; math.Abs(got-want) > 1e-9*(1+want) || got > p.whole.variance*(1+1e-9) {
				t.Errorf("row %d, course %d: %g taken away of %g, want %g", i, course, got, p.whole.variance, want)
			}
		}
	}
}

// numbersOf gives numbers in double precision.
func numbersOf(x []float32) []float64 {
	wide := make([]float64, len(x))
	for i, y := range x {
		wide[i] = float64(y)
	}
	return wide
}

// whitened turns what notes add, by point, into independent readings of
// variance 1.
func whitened(values [][]float64, scatter *mat.SymDense) [][]float64 {
	var factor mat.Cholesky
	if len(values) == 0 || !factor.Factorize(scatter) {
		return nil
	}
	var lower mat.TriDense
	factor.LTo(&lower)
	white := make([][]float64, len(values))
	for i, own := range values {
		white[i] = slices.Clone(own)
		for j := range i {
			for q := range own {
				white[i][q] -= lower.At(i, j) * white[j][q]
			}
		}
		for q := range own {
			white[i][q] /= lower.At(i, i)
		}
	}
	return white
}

// told draws truths, weather and notes of one row and decides, for each stretch
// of the window, by the exact odds after the notes that come before it: the mean
// loss of leaving or lifting wrongly. The same draws meet every set of notes.
func (c *chooser) told(row int, notes func(draw int) []noteAt, draws int) (loss float64) {
	p := c.prospects[row]
	for draw := range draws {
		rng := rand.New(rand.NewPCG(uint64(draw), 8))
		course, at, part := rng.IntN(len(p.courses)), 0, rng.Float64()
		for at < len(p.survey.points)-1 && part > p.survey.points[at].weight {
			part -= p.survey.points[at].weight
			at++
		}
		set := slices.DeleteFunc(notes(draw), func(n noteAt) bool { return p.courses[course].answers[n.date*len(surveyed)+n.trait] == nil })
		slices.SortStableFunc(set, func(a, b noteAt) int { return a.date - b.date })
		values, scatter := p.dense(course, set)
		for _, x := range values {
			floats.Div(x, p.survey.root)
		}
		weights, white, used := make([]float64, len(p.survey.points)), whitened(values, scatter), 0
		for q, point := range p.survey.points {
			weights[q] = math.Log(point.weight)
		}
		for s, stake := range p.stakes {
			for ; used < len(white) && p.inTime(s, set[used].date); used++ {
				seen := white[used][at] + rng.NormFloat64()
				for q, x := range white[used] {
					weights[q] -= 0.5 * square(seen-x)
				}
			}
			now := slices.Clone(weights)
			relative(now)
			believed, values := stake.mean, numbersOf(stake.values)
			floats.Div(values, p.survey.root)
			for q, w := range now {
				believed += w * values[q]
			}
			if true := stake.mean + values[at]; (true >= c.assurance) != (believed >= c.assurance) {
				loss += stake.share * math.Abs(true-c.assurance) / float64(draws)
			}
		}
	}
	return loss
}

// Five recommended notes against five at random and five on the customary walks,
// decided by the exact odds after drawn notes: the small size of what
// TestRecommendedNotesNarrowMore does with learning and truths of its own. All
// notes are of the row in question, so that only their kind and date tell.
func (c *chooser) tellsMore(t *testing.T) {
	const five, draws = 5, 1000
	var best []noteAt
	for range five {
		note, _ := c.best(0)
		best = append(best, note)
		c.take(0, note)
	}
	all := c.prospects[0].candidates()
	loss := map[string]float64{}
	for name, notes := range map[string]func(draw int) []noteAt{
		"recommended": func(int) []noteAt { return slices.Clone(best) },
		"none":        func(int) []noteAt { return nil },
		"at random": func(draw int) (set []noteAt) {
			for _, k := range rand.New(rand.NewPCG(uint64(draw), 9)).Perm(len(all))[:five] {
				set = append(set, all[k])
			}
			return set
		},
		"customary": func(int) []noteAt { // leaf mass on the first dates
			return []noteAt{{0, 0, 0, 10}, {0, 0, 1, 10}, {0, 0, 2, 10}, {0, 1, 1, 10}, {0, 1, 2, 10}}
		},
	} {
		loss[name] = c.told(0, notes, draws)
	}
	t.Logf("loss of leaving or lifting wrongly: %v", loss)
	for _, name := range []string{"none", "at random", "customary"} {
		if loss[name] <= loss["recommended"] {
			t.Errorf("%s: loss %.4f, recommended %.4f", name, loss[name], loss["recommended"])
		}
	}
}
