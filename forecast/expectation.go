package forecast

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// expectation is what is expected of the readings of one line and season, and
// how they scatter about it together, plots, plants and trial included.
type expectation struct {
	readings []reading
	mean     []float64
	cov      *mat.SymDense
}

// expect gives what a density of the traits in a season lets expect of its
// readings.
func (l *Learning) expect(readings []reading, s season, w density) expectation {
	arrays, of := distinct(readings)
	mean, cov, _ := l.grid.answersUnder(w, arrays)
	x := expectation{readings: readings, mean: make([]float64, len(of)), cov: l.scatter(readings, s)}
	effect, _ := l.trialOf(s)
	for i, a := range of {
		x.mean[i] = mean[a]
		if readings[i].group == massGroup {
			x.mean[i] += effect * readings[i].share
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
func (l *Learning) scatter(readings []reading, s season) *mat.SymDense {
	c := mat.NewSymDense(len(readings), nil)
	for i, a := range readings {
		plot, trial := a.group.doubts(l.params)
		if a.group == massGroup {
			_, sd := l.trialOf(s)
			trial = square(sd)
		}
		for j, b := range readings[:i+1] {
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
// of the traits in a season, and the covariance of the traits with them. Along
// length at a node an answer is taken as straight between what it is an SD below
// the mean and an SD above.
func (g *Grid) answersUnder(w density, arrays [][]float64) (mean []float64, cov *mat.SymDense, cross *mat.Dense) {
	n := len(arrays)
	size, densest := traits+n, 0
	for node := range gridNodes {
		if w[node*moments3] > w[densest*moments3] {
			densest = node
		}
	}
	least := 1e-6 * w[densest*moments3]
	// By trait and answer: what is expected at a node, less the same at the densest
	// one; and how it moves with ln length, in SDs.
	x, slope, about := make([]float64, size), make([]float64, size), make([]float64, size)
	look := func(node int, length, sd float64) {
		t := g.traitsAt(node, length)
		copy(x, t[:])
		slope[lengthTrait] = sd
		for a, answers := range arrays {
			if len(answers) == gridNodes {
				x[traits+a] = answers[node]
				continue
			}
			low, high := g.answerAt(answers, node, length-sd), g.answerAt(answers, node, length+sd)
			x[traits+a], slope[traits+a] = (low+high)/2, (high-low)/2
		}
		floats.Sub(x, about)
	}
	_, length, variance := w.at(densest)
	look(densest, length, math.Sqrt(variance))
	copy(about, x)
	total, mean, sums := 0.0, make([]float64, size), make([]float64, size*size)
	for node := range gridNodes {
		if w[node*moments3] <= least {
			continue
		}
		p, length, variance := w.at(node)
		look(node, length, math.Sqrt(variance))
		total += p
		for a, y := range x {
			mean[a] += p * y
			row, py, ps := sums[a*size:][:size], p*y, p*slope[a]
			for b := max(a, traits); b < size; b++ {
				row[b] += py*x[b] + ps*slope[b]
			}
		}
	}
	floats.Scale(1/total, mean)
	at := func(a, b int) float64 { return sums[a*size+b]/total - mean[a]*mean[b] }
	cov, cross = mat.NewSymDense(n, nil), mat.NewDense(traits, n, nil)
	for a := range n {
		for t := range traits {
			cross.Set(t, a, at(t, traits+a))
		}
		for b := a; b < n; b++ {
			cov.SetSym(a, b, at(traits+a, traits+b))
		}
	}
	floats.Add(mean, about)
	return mean[traits:], cov, cross
}

// answerAt gives what is expected of a reading at a node and a ln length less the
// grid's middle: of answers by cell straight between the steps, beyond the grid that
// of its edge.
func (g *Grid) answerAt(answers []float64, node int, length float64) float64 {
	switch len(answers) {
	case gridNodes:
		return answers[node]
	case 3 * gridNodes:
		three := answers[3*node:][:3]
		return three[1] + length*(three[2]-three[0])/(2*g.threeApart())
	}
	place := min(max((length-g.aside[0])/(g.aside[1]-g.aside[0]), 0), gridLengths-1)
	k := min(int(place), gridLengths-2)
	two := answers[node*gridLengths+k:][:2]
	return two[0] + (place-float64(k))*(two[1]-two[0])
}

// answerUnder gives the mean of what is expected of a reading under a density, along
// length that at the node's mean.
func (g *Grid) answerUnder(answers []float64, d density) float64 {
	mean := 0.0
	for node := range gridNodes {
		if x := d[node*moments3:][:moments3]; x[0] > 0 {
			mean += x[0] * g.answerAt(answers, node, x[1]/x[0])
		}
	}
	return mean
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
