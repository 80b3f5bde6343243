package forecast

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"wintertop/weather/table"
)

// agreement says how the notes of one line of one season agree with what all
// other notes say of it.
type agreement struct {
	season season
	chance float64 // of notes at least as far off, by chi-square; NaN without notes
	far    []farNote
}

// farNote is a note far from what all others say, in SDs of what was expected.
type farNote struct {
	note Note
	z    float64
}

// expectation is what is expected of the readings of one line and season, and
// how they scatter about it together, plots, plants and trial included.
type expectation struct {
	readings []reading
	mean     []float64
	cov      *mat.SymDense
}

// compare puts the notes of each line and season to what all its other notes
// let expect.
func (l *Learning) compare(ctx context.Context) error {
	if err := l.tellApart(ctx); err != nil {
		return err
	}
	return inParallel(ctx, len(l.lines), func(i int) error {
		if len(l.seen[i]) == 0 {
			return nil
		}
		checks, within := l.agreements(i, around(l.settled[i].cells))
		if !within {
			checks, _ = l.agreements(i, wholeGrid())
		}
		l.checks[i] = checks
		return nil
	})
}

// agreements puts each season of a line to the others, looking at a part of the
// grid only; within is false where what the others say reaches its edge.
func (l *Learning) agreements(line int, in box) (checks []agreement, within bool) {
	room := l.rooms.take()
	defer l.rooms.leave(room)
	seasons, cells := sortedSeasons(l.seen[line]), in.cells()
	logs, total := make([][]float64, len(seasons)), make([]float64, len(cells))
	for s, at := range seasons {
		value := l.layer(at, l.seen[line][at], l.pop, in, room).value
		logs[s] = make([]float64, len(cells))
		for i, c := range cells {
			logs[s][i] = math.Log(value[c] + tiny)
			total[i] += logs[s][i]
		}
	}
	for s, at := range seasons {
		others := make([]float64, len(cells))
		for i, x := range total {
			others[i] = x - logs[s][i]
		}
		l.grid.addPrior(others, cells, l.priors[line])
		relative(others)
		w, carrying := room.log, []int32{}
		clear(w)
		for i, c := range cells {
			if w[c] = others[i]; w[c] > 1e-6 {
				carrying = append(carrying, c)
			}
		}
		if boxOf(carrying).touches(in) {
			return nil, false
		}
		l.inDoubt(line, at).toWinter(w, room.work)
		w.normalise()
		e := l.expect(l.seen[line][at], at, w)
		checks = append(checks, agreement{at, e.chance(), e.far(l.params.FarZ)})
	}
	return checks, true
}

// inDoubt gives the deviations of a line in a season, the doubt of what all
// lines share in them.
func (l *Learning) inDoubt(line int, s season) kernel {
	wide, doubt := l.params, l.surer[line]
	frost, frostSD := l.effect(l.frostEffect(s), 0)
	wide.LineWinterSizeSD = math.Hypot(wide.LineWinterSizeSD, doubt[sizeTrait])
	wide.LineWinterHardSDC = math.Hypot(wide.LineWinterHardSDC, math.Hypot(doubt[hardTrait], frostSD))
	wide.LineWinterLengthSD = math.Hypot(wide.LineWinterLengthSD, doubt[lengthTrait])
	return l.grid.kernelOf(wide, frost+l.shiftC(s.place))
}

// expect gives what a density of the traits in a season lets expect of its
// readings.
func (l *Learning) expect(e *evidence, s season, w weights) expectation {
	arrays, of := distinct(e.readings)
	mean, cov, _ := l.grid.answersUnder(w, arrays)
	x := expectation{readings: e.readings, mean: make([]float64, len(of)), cov: l.scatter(e, s)}
	effect, _ := l.trialOf(s)
	for i, a := range of {
		x.mean[i] = mean[a]
		if e.readings[i].group == massGroup {
			x.mean[i] += effect * e.readings[i].share
		}
		for j, b := range of[:i+1] {
			x.cov.SetSym(i, j, x.cov.At(i, j)+cov.At(a, b))
		}
	}
	return x
}

// scatter gives the covariance of all readings of a season about what the
// line's traits let expect: groups are independent, the trial's deviation of
// mass is as far in doubt as it is after all notes.
func (l *Learning) scatter(e *evidence, s season) *mat.SymDense {
	c := mat.NewSymDense(len(e.readings), nil)
	for i, a := range e.readings {
		plot, trial := a.group.doubts(l.params)
		if a.group == massGroup {
			_, sd := l.trialOf(s)
			trial = square(sd)
		}
		for j, b := range e.readings[:i+1] {
			if a.group != b.group {
				continue
			}
			x := a.shared(b, plot, trial)
			if i == j {
				x += a.variance
			}
			c.SetSym(i, j, x)
		}
	}
	return c
}

// answersUnder gives mean and covariance of the model's answers under a density
// of the traits in a season, and the covariance of the traits with them: of the
// cells at every second top length, along which the answers are smooth and the
// density as wide as the deviations of a season make it.
func (g *Grid) answersUnder(w weights, arrays [][]float64) (mean []float64, cov *mat.SymDense, cross *mat.Dense) {
	n := len(arrays)
	most := slices.Max(w)
	x, mean := make([]float64, traits+n), make([]float64, traits+n)
	at := func(c int) {
		t := g.traitsAt(c)
		copy(x, t[:])
		for a, array := range arrays {
			if len(array) == gridNodes {
				x[traits+a] = array[c/gridLengths]
			} else {
				x[traits+a] = array[c]
			}
		}
	}
	total := 0.0
	var cells []int
	for node := range gridNodes {
		for c := node * gridLengths; c < (node+1)*gridLengths; c += 2 {
			p := w[c]
			if p < 1e-6*most {
				continue
			}
			cells = append(cells, c)
			total += p
			at(c)
			for a, y := range x {
				mean[a] += p * y
			}
		}
	}
	for a := range mean {
		mean[a] /= total
	}
	cov, cross = mat.NewSymDense(n, nil), mat.NewDense(traits, n, nil)
	sums := make([]float64, len(x)*len(x))
	for _, c := range cells {
		at(c)
		for a := range x {
			x[a] -= mean[a]
		}
		for a, y := range x {
			row, py := sums[a*len(x):], w[c]/total*y
			for b := max(a, traits); b < len(x); b++ {
				row[b] += py * x[b]
			}
		}
	}
	for a := range n {
		for t := range traits {
			cross.Set(t, a, sums[t*len(x)+traits+a])
		}
		for b := a; b < n; b++ {
			cov.SetSym(a, b, sums[(traits+a)*len(x)+traits+b])
		}
	}
	return mean[traits:], cov, cross
}

// residuals gives what was seen less what was expected.
func (e expectation) residuals() *mat.VecDense {
	r := mat.NewVecDense(len(e.mean), nil)
	for i, m := range e.mean {
		r.SetVec(i, e.readings[i].seen-m)
	}
	return r
}

// chance gives the chance of residuals at least as large, by the chi-square of
// the residuals standardised together.
func (e expectation) chance() float64 {
	r := e.residuals()
	var solved mat.VecDense
	solved.MulVec(inverse(e.cov), r)
	return distuv.ChiSquared{K: float64(r.Len())}.Survival(mat.Dot(r, &solved))
}

// far gives the notes that lie more than limit SDs from what all others let
// expect: the farthest is named and set aside, and the rest is looked at anew,
// so that a wrong note does not accuse its neighbours.
func (e expectation) far(limit float64) []farNote {
	left := make([]int, len(e.mean))
	for i := range left {
		left[i] = i
	}
	r := e.residuals()
	var found []farNote
	for len(left) > 0 {
		cov, own := mat.NewSymDense(len(left), nil), mat.NewVecDense(len(left), nil)
		for i, a := range left {
			own.SetVec(i, r.AtVec(a))
			for j, b := range left[:i+1] {
				cov.SetSym(i, j, e.cov.At(a, b))
			}
		}
		omega := inverse(cov)
		var solved mat.VecDense
		solved.MulVec(omega, own)
		worst, z := 0, 0.0
		for i := range left {
			if x := solved.AtVec(i) / math.Sqrt(omega.At(i, i)); math.Abs(x) > math.Abs(z) {
				worst, z = i, x
			}
		}
		if !(math.Abs(z) > limit) {
			break
		}
		found = append(found, farNote{e.readings[left[worst]].note, z})
		left = slices.Delete(left, worst, worst+1)
	}
	slices.SortFunc(found, func(a, b farNote) int {
		return cmp.Or(a.note.FileLine-b.note.FileLine, cmp.Compare(a.note.Trait, b.note.Trait))
	})
	return found
}

// disagreements names the notes that lie far from the rest, and the winters
// whose notes as a whole do. All of them are used all the same.
func (l *Learning) disagreements(trial *Trial) table.Findings {
	var findings table.Findings
	for i, checks := range l.checks {
		for _, c := range checks {
			for _, f := range c.far {
				side := "above"
				if f.z < 0 {
					side = "below"
				}
				findings = append(findings, table.Finding{File: trial.notesFile(), Line: f.note.FileLine, Date: f.note.Date.String(), Column: string(f.note.Trait), Severity: table.Warning, TreatedAs: "used",
					Value: fmt.Sprintf("%g", f.note.Value),
					What:  fmt.Sprintf("%s of %s on %s lies %.1f standard deviations %s what all other notes let expect", f.note.Trait, f.note.Planting, f.note.Date, math.Abs(f.z), side),
					Hint:  "it is used as it stands: check value, unit, planting and date, or whether the tops were frozen"})
			}
			if c.chance < l.params.DisagreeChance {
				findings = append(findings, table.Finding{File: trial.notesFile(), Severity: table.Warning, TreatedAs: "used",
					What: fmt.Sprintf("the notes of %s in %s%s disagree with its other winters: chance of notes so far off %.2g", l.lines[i].Name, c.season.winter, atPlace(c.season.place), c.chance),
					Hint: "they are used all the same, and the winter's deviation in loss-split.csv shows it"})
			}
		}
	}
	return findings
}

func atPlace(p *Place) string {
	if p.Name == "" {
		return ""
	}
	return " at " + p.Name
}
