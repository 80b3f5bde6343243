package forecast

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// value is one observation of a line in a trial (−1: none) in the linear case:
// trait + effect of the trial + normal noise.
type value struct {
	line, trial int
	y           float64
}

// testify is the exact testimony of a line in the linear normal case. It stands
// in for the trait grid; everything else in these tests is the product's.
func testify(pop *population, values []value, line int, noise float64, known bool) *testimony {
	n := len(pop.effects)
	t := &testimony{known: known, slope: make([]float64, n), cross: mat.NewDense(1, max(n, 1), nil), turn: mat.NewSymDense(max(n, 1), nil)}
	count, sum, total := make([]float64, n), make([]float64, n), 0.0
	precision, pull := 1/pop.spread.At(0, 0), pop.mean[0]/pop.spread.At(0, 0)
	for _, v := range values {
		if v.line != line {
			continue
		}
		y := v.y
		if v.trial >= 0 {
			y -= pop.effects[v.trial]
			count[v.trial]++
			sum[v.trial] += y
		}
		total++
		precision += 1 / noise
		pull += y / noise
	}
	t.mean = []float64{pull / precision}
	t.cov = mat.NewSymDense(1, []float64{1 / precision})
	for a := range n {
		t.slope[a] = (sum[a] - count[a]*t.mean[0]) / noise
		t.cross.Set(0, a, -count[a]/noise/precision)
		for b := range n {
			x := -count[a] * count[b] / (noise * noise * precision)
			if a == b {
				x += count[a] / noise
			}
			t.turn.SetSym(a, b, x)
		}
	}
	return t
}

func testifyAll(pop *population, values []value, lines int, noise float64, known bool) []*testimony {
	said := make([]*testimony, lines)
	for i := range said {
		said[i] = testify(pop, values, i, noise, known)
	}
	return said
}

const loose = 1e4 // SD that leaves a mean or an effect to the data, as a fixed effect

func published(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.5f, published %g", what, got, want)
	}
}

// Dyestuff: Davies O.L. 1947, Statistical methods in research and production;
// yields of five samples from each of six batches. REML: between variance
// 1764.05, residual 2451.25, mean 1527.5, shrinkage .78253 and the predictions
// below, as every text on mixed models gives them (from memory; recomputed
// independently). The residual is the mean square within batches, as the product
// takes its noise as known; the between variance is the product's own estimate.
func TestDyestuff(t *testing.T) {
	yields := [][]float64{{1545, 1440, 1440, 1520, 1580}, {1540, 1555, 1490, 1560, 1495}, {1595, 1550, 1605, 1510, 1560},
		{1445, 1440, 1595, 1465, 1545}, {1595, 1630, 1515, 1635, 1625}, {1520, 1455, 1450, 1480, 1445}}
	var values []value
	scatter := 0.0
	for i, batch := range yields {
		mean := (batch[0] + batch[1] + batch[2] + batch[3] + batch[4]) / 5
		for _, y := range batch {
			values = append(values, value{i, -1, y})
			scatter += square(y - mean)
		}
	}
	residual := scatter / 24
	published(t, "residual", residual, 2451.25, 0.005)
	prior := populationPrior{mean: []float64{1500}, meanSD: []float64{1e7}, spread: mat.NewSymDense(1, []float64{500})}
	pop := prior.start()
	for range 200 {
		said := testifyAll(pop, values, 6, residual, false)
		pop.settle(prior, said)
		pop.widen(prior, testifyAll(pop, values, 6, residual, false))
	}
	published(t, "mean", pop.mean[0], 1527.5, 0.05)
	published(t, "between variance", pop.spread.At(0, 0), 1764.05, 0.005)
	for i, want := range []float64{-17.607, .391, 28.562, -23.085, 56.733, -44.995} {
		said := testify(pop, values, i, residual, false)
		published(t, "batch", said.mean[0]-pop.mean[0], want, 0.0005)
		published(t, "shrinkage", 1-said.cov.At(0, 0)/pop.spread.At(0, 0), .78253, 0.000005)
	}
}

// Robinson G.K. 1991, Statistical Science 6:15–32: first-lactation yields, herds
// as fixed effects, sires random with mean 0, variance ratio 10 (from memory;
// recomputed). Here the herds are trials, the sires lines: the sire that stood in
// several herds connects them.
func TestRobinsonHerdsAndSires(t *testing.T) {
	a, b, c, d := 0, 1, 2, 3
	values := []value{{a, 0, 110}, {d, 0, 100}, {b, 1, 110}, {d, 1, 100}, {d, 1, 100}, {c, 2, 110}, {c, 2, 110}, {d, 2, 100}, {d, 2, 100}}
	prior := populationPrior{mean: []float64{0}, meanSD: []float64{1e-6}, spread: mat.NewSymDense(1, []float64{0.1}), effectSD: []float64{loose, loose, loose}}
	pop := prior.start()
	pop.settle(prior, testifyAll(pop, values, 4, 1, false))
	for i, want := range []float64{105.64, 104.28, 105.46} {
		published(t, "herd", pop.effects[i], want, 0.005)
	}
	for i, want := range []float64{.40, .52, .76, -1.67} {
		published(t, "sire", testify(pop, values, i, 1, false).mean[0], want, 0.005)
	}
}

// Robinson's case against the mixed-model equations written out, means and
// prediction error variances both, with herds random and the mean unknown.
func TestSettleIsTheMixedModelEquations(t *testing.T) {
	values := []value{{0, 0, 110}, {3, 0, 100}, {1, 1, 110}, {3, 1, 100}, {3, 1, 100}, {2, 2, 110}, {2, 2, 110}, {3, 2, 100}, {3, 2, 100}}
	const between, ofTrial, noise, meanSD = 3.0, 2.0, 5.0, 10.0
	prior := populationPrior{mean: []float64{100}, meanSD: []float64{meanSD}, spread: mat.NewSymDense(1, []float64{between}),
		effectSD: []float64{math.Sqrt(ofTrial), math.Sqrt(ofTrial), math.Sqrt(ofTrial)}}
	pop := prior.start()
	pop.settle(prior, testifyAll(pop, values, 4, noise, false))

	// Unknowns: mean, three trials, four lines (as deviations from the mean).
	whole, right := mat.NewSymDense(8, nil), mat.NewVecDense(8, nil)
	whole.SetSym(0, 0, 1/square(meanSD))
	right.SetVec(0, 100/square(meanSD))
	for i := range 3 {
		whole.SetSym(1+i, 1+i, 1/ofTrial)
	}
	for i := range 4 {
		whole.SetSym(4+i, 4+i, 1/between)
	}
	for _, v := range values {
		z := mat.NewVecDense(8, nil)
		z.SetVec(0, 1)
		z.SetVec(1+v.trial, 1)
		z.SetVec(4+v.line, 1)
		whole.SymRankOne(whole, 1/noise, z)
		right.AddScaledVec(right, v.y/noise, z)
	}
	inv := inverse(whole)
	var x mat.VecDense
	x.MulVec(inv, right)
	published(t, "mean", pop.mean[0], x.AtVec(0), 1e-9)
	for i := range 3 {
		published(t, "trial", pop.effects[i], x.AtVec(1+i), 1e-9)
	}
	for i := range 3 {
		published(t, "doubt of a trial", pop.doubt.At(1+i, 1+i), inv.At(1+i, 1+i), 1e-9)
	}
	precision := inverse(pop.spread)
	for i := range 4 {
		said := testify(pop, values, i, noise, false)
		published(t, "line", said.mean[0], x.AtVec(0)+x.AtVec(4+i), 1e-9)
		total := carried(said.follows(precision), pop.doubt).At(0, 0) + said.cov.At(0, 0)
		published(t, "doubt of a line", total, inv.At(0, 0)+2*inv.At(0, 4+i)+inv.At(4+i, 4+i), 1e-9)
		published(t, "deviation of a line", pop.deviation(said, precision).At(0, 0), square(x.AtVec(4+i))+inv.At(4+i, 4+i), 1e-9)
	}
}

// Cocksfoot heading dates, 25 varieties in 7 years, 111 of 175 cells (Piepho
// 1999, Biometrics 55:1120): variety 12.542, year 19.918, residual 1.300 by
// REML, mean 44.703 (recomputed independently). Varieties are lines, years
// trials: mean, trials, lines and the variance between lines come from the
// product's functions; the product takes the other two variances as known, so
// their EM steps are written here, on the product's exact posterior.
func TestCocksfoot(t *testing.T) {
	folder := os.Getenv("OPEN_DATA")
	if folder == "" {
		t.Skip("OPEN_DATA is not set: it names the folder with cocksfoot-heading.csv (Piepho 1999)")
	}
	f, err := os.Open(filepath.Join(folder, "cocksfoot-heading.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var varieties, years []string
	index := func(of *[]string, name string) int {
		if at := slices.Index(*of, name); at >= 0 {
			return at
		}
		*of = append(*of, name)
		return len(*of) - 1
	}
	var values []value
	for _, r := range rows[1:] {
		y, err := strconv.ParseFloat(r[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		values = append(values, value{index(&varieties, r[0]), index(&years, r[1]), y})
	}
	if len(values) != 111 || len(varieties) != 25 || len(years) != 7 {
		t.Fatalf("%d values of %d varieties in %d years", len(values), len(varieties), len(years))
	}
	prior := populationPrior{mean: []float64{45}, meanSD: []float64{loose}, spread: mat.NewSymDense(1, []float64{10}), effectSD: make([]float64, 7)}
	ofYear, noise := 10.0, 2.0
	pop := prior.start()
	for range 300 {
		for i := range prior.effectSD {
			prior.effectSD[i] = math.Sqrt(ofYear)
		}
		pop.settle(prior, testifyAll(pop, values, 25, noise, false))
		said := testifyAll(pop, values, 25, noise, false)
		precision := inverse(pop.spread)
		nextYear, nextNoise := 0.0, 0.0
		for i, e := range pop.effects {
			nextYear += (square(e) + pop.doubt.At(1+i, 1+i)) / 7
		}
		for _, v := range values {
			line := said[v.line]
			moves := line.follows(precision) // of trait + year
			moves.Set(0, 1+v.trial, moves.At(0, 1+v.trial)+1)
			doubt := line.cov.At(0, 0) + carried(moves, pop.doubt).At(0, 0)
			nextNoise += (square(v.y-line.mean[0]-pop.effects[v.trial]) + doubt) / 111
		}
		pop.widen(prior, said)
		ofYear, noise = nextYear, nextNoise
	}
	published(t, "variety", pop.spread.At(0, 0), 12.542, 0.01)
	published(t, "year", ofYear, 19.918, 0.01)
	published(t, "residual", noise, 1.300, 0.0005)
	published(t, "mean", pop.mean[0], 44.703, 0.0005)
}
