package forecast

import (
	"context"
	"fmt"

	"gonum.org/v1/gonum/mat"
)

// tellApart works out how far the notes of each season tell lines apart in
// hardiness: the reduction of its variance between lines by the best linear
// estimate from notes on those days, so at least so much.
func (l *Learning) tellApart(ctx context.Context) error {
	for i := range l.apart {
		l.apart[i] = map[season]float64{}
	}
	seasons := l.seasons
	results := make([][]float64, len(seasons))
	err := inParallel(ctx, len(seasons), func(k int) error {
		s := seasons[k]
		mean, cov := l.anyLine()
		w := l.grid.normal(traitPrior{mean: mean, cov: cov})
		l.spread(w, l.kernels[s])
		inWinter := l.grid.momentsOf(w).cov
		var shrink mat.Dense // from a winter's traits to those in general
		shrink.Mul(cov, inverse(inWinter))
		known := map[string]*mat.SymDense{}
		crosses := map[string]*mat.Dense{}
		results[k] = make([]float64, len(l.lines))
		for i := range l.lines {
			readings := l.seen[i][s]
			if readings == nil {
				continue
			}
			arrays, of := distinct(readings)
			key := ""
			for _, a := range arrays {
				key += fmt.Sprintf("%p ", &a[0])
			}
			if known[key] == nil {
				_, known[key], crosses[key] = l.grid.answersUnder(w, arrays)
			}
			var cross mat.Dense
			cross.Mul(&shrink, crosses[key])
			total, lean := l.scatter(readings, s), mat.NewVecDense(len(of), nil)
			for r, a := range of {
				lean.SetVec(r, cross.At(hardTrait, a))
				for q, b := range of[:r+1] {
					total.SetSym(r, q, total.At(r, q)+known[key].At(a, b))
				}
			}
			var solved mat.VecDense
			solved.MulVec(inverse(total), lean)
			results[k][i] = min(1, mat.Dot(lean, &solved)/cov.At(hardTrait, hardTrait))
		}
		return nil
	})
	for k, s := range seasons {
		for i, x := range results[k] {
			if l.seen[i][s] != nil {
				l.apart[i][s] = x
			}
		}
	}
	return err
}
