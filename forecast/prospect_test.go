package forecast

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"wintertop/canopy"
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
	lifting := canopy.NewLifting(place.Site.Canopy)
	book := l.grid.dayBook(place, crops[0], lifting.Table(), lifting.Wanted(place.Site.Params.WantedShare), len(traces.courses))
	table := newDayTable(book, rows, []ground{g}, len(traces.courses), false)
	dates := surveyDates(n.goal)
	due := dueDays(traces, dates, n.goal.To)
	for _, r := range rows {
		r.picks = &pickRow{table: table}
		r.survey = l.grid.newSurvey(place.Site.Canopy, &r.stake, dates, due)
	}
	stage := newStage(l.grid.wholly(), l.params, crops[0], traces)
	stage.season = true
	err = stage.play(ctx, func(f *field) error {
		if f.date < n.goal.AsOf {
			return nil
		}
		book.f = f
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
		answers[i] = p.arrays[p.oldArray[i]]
	}
	for _, n := range notes {
		if one, ok := p.addend(n, c); ok {
			all, answers = append(all, one.reading), append(answers, c.answers[one.answer])
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
				lean.SetVec(a, p.survey.product(values[a], p.whole.values))
				for b := range a + 1 {
					whole.SetSym(a, b, scatter.At(a, b)+p.survey.product(values[a], values[b]))
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

// told draws truths, weather and notes of every row and decides by the exact
// odds after the notes: the mean squared error of the odds, and the loss of
// leaving or lifting wrongly, over the whole window.
func (c *chooser) told(rng *rand.Rand, sets [][]noteAt, draws int) (squares, loss float64) {
	for i, p := range c.prospects {
		for range draws {
			course := rng.IntN(len(p.courses))
			values, scatter := p.dense(course, sets[i])
			truth, at := rng.Float64(), 0
			for at < len(p.survey.points)-1 && truth > p.survey.points[at].weight {
				truth -= p.survey.points[at].weight
				at++
			}
			weights := make([]float64, len(p.survey.points))
			if k := len(values); k > 0 {
				var factor mat.Cholesky
				factor.Factorize(scatter)
				var lower mat.TriDense
				factor.LTo(&lower)
				z := mat.NewVecDense(k, nil)
				for j := range k {
					z.SetVec(j, rng.NormFloat64())
				}
				z.MulVec(&lower, z)
				r, solved := mat.NewVecDense(k, nil), mat.NewVecDense(k, nil)
				for q := range weights {
					for j := range k {
						r.SetVec(j, values[j][at]+z.AtVec(j)-values[j][q])
					}
					_ = factor.SolveVecTo(solved, r)
					weights[q] = math.Log(p.survey.points[q].weight) - 0.5*mat.Dot(r, solved)
				}
				relative(weights)
			} else {
				for q, point := range p.survey.points {
					weights[q] = point.weight
				}
			}
			believed := 0.0
			for q, w := range weights {
				believed += w * p.whole.values[q]
			}
			true := p.whole.values[at]
			n := float64(draws * len(c.prospects))
			squares += square(believed-true) / n
			if gap := true + p.whole.mean - c.assurance; (gap >= 0) != (believed+p.whole.mean >= c.assurance) {
				loss += math.Abs(gap) / n
			}
		}
	}
	return squares, loss
}

// Five recommended notes against five at random and five leaf masses on the
// customary walk, decided by the exact odds after drawn notes. The small size of
// what TestRecommendedNotesNarrowMore does with learning and truths of its own.
func (c *chooser) tellsMore(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const five, draws = 5, 250
	best := make([][]noteAt, len(c.prospects))
	for range five {
		row, note, gain := 0, noteAt{}, -1.0
		for i := range c.prospects {
			if n, g := c.best(i); g > gain {
				row, note, gain = i, n, g
			}
		}
		best[row] = append(best[row], note)
		c.take(row, note)
	}
	none := make([][]noteAt, len(c.prospects))
	random, customary := slices.Clone(none), slices.Clone(none)
	for k := range five {
		i := rng.IntN(len(c.prospects))
		all := c.prospects[i].candidates()
		random[i] = append(random[i], all[rng.IntN(len(all))])
		i = k % len(c.prospects)
		customary[i] = append(customary[i], noteAt{0, k / len(c.prospects), 1, plantsAtFirst}) // leaf mass, then height
	}
	bestSquares, bestLoss := c.told(rng, best, draws)
	for name, set := range map[string][][]noteAt{"none": none, "at random": random, "customary": customary} {
		squares, loss := c.told(rng, set, draws)
		t.Logf("%-10s error of the odds %.4f, loss %.4f; recommended %.4f, %.4f", name, math.Sqrt(squares), loss, math.Sqrt(bestSquares), bestLoss)
		if loss <= bestLoss {
			t.Errorf("%s: loss %.4f, recommended %.4f", name, loss, bestLoss)
		}
	}
}
