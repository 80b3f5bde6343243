package forecast

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Falconer D.S., Mackay T.F.C. 1996. Introduction to quantitative genetics,
// appendix table A: intensity of selection out of very many.
func TestIntensityOfSelection(t *testing.T) {
	for share, want := range map[float64]float64{0.01: 2.665, 0.05: 2.063, 0.10: 1.755, 0.20: 1.400, 0.25: 1.271, 0.50: 0.798} {
		if got := cutAt(share).intensity; math.Abs(got-want) > 0.0005 {
			t.Errorf("best %g: i = %.4f, printed %.3f", share, got, want)
		}
	}
	if c := cutAt(1); c.intensity != 0 || c.narrowed != 0 {
		t.Errorf("all kept: %+v", c)
	}
	// A normal cut at its middle: half normal, variance 1 − 2/π.
	if got := cutAt(0.5).narrowed; math.Abs(got-2/math.Pi) > 1e-12 {
		t.Errorf("half kept: the variance narrows by %.6f, want 2/π", got)
	}
}

// A line crossed with itself: nothing segregates, and where the parents are taken
// as known along what decides, the covariance has no depth. The chance is that
// of the middle all the same: a chance that rises evenly with size is met
// exactly.
func TestOffspringOfOneLine(t *testing.T) {
	grid := NewGrid(Standard())
	h := &holding{grid: grid, chance: newWeights(), nodes: normalNodes(offspringNodes)}
	for n := range h.chance {
		h.chance[n] = 0.5 + grid.SizeLn[n/gridLengths/gridHards]/4
	}
	rng := rand.New(rand.NewPCG(7, 7))
	middle := []float64{0.1, -9.5, math.Log(40)}
	for range 50 {
		var root mat.Dense
		root.CloneFrom(mat.NewDense(traits, traits, []float64{0.05, 0, 0, 0.3 * rng.NormFloat64(), 0.3, 0, 0.02 * rng.NormFloat64(), 0.02 * rng.NormFloat64(), 0.05}))
		doubt := mat.NewSymDense(traits, nil)
		doubt.SymOuterK(1, &root)
		o := offspring{mean: middle, among: mat.NewSymDense(traits, nil), doubt: doubt}
		for _, k := range []float64{-1.645, 1.645} {
			chance, _ := h.expected(o.moved([]float64{1, 0, 0}, k))
			if want := 0.5 + (0.1+k*0.05)/4; math.Abs(chance-want) > 1e-6 {
				t.Fatalf("moved by %g SD: chance %.8f, want %.8f", k, chance, want)
			}
		}
	}
}

// genome is many unlinked loci of additive effect on the three traits; a line
// that breeds true has +1 or -1 at each.
type genome struct{ effect [][traits]float64 }

const simulatedLoci = 400

func newGenome(rng *rand.Rand) genome {
	var g genome
	for range simulatedLoci {
		// Traits of which the effects go together in part.
		a, b, c := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
		scale := 1 / math.Sqrt(simulatedLoci)
		g.effect = append(g.effect, [traits]float64{0.35 * a * scale, 1.2 * (0.6*b - 0.8*a) * scale, 0.17 * (0.8*c + 0.6*a) * scale})
	}
	return g
}

func (g genome) line(rng *rand.Rand) []int8 {
	line := make([]int8, len(g.effect))
	for i := range line {
		line[i] = int8(2*rng.IntN(2) - 1)
	}
	return line
}

// fixed gives a line that is bred true out of a cross: at each locus one of the
// parents' two.
func (g genome) fixed(rng *rand.Rand, a, b []int8) []int8 {
	line := slices.Clone(a)
	for i := range line {
		if rng.IntN(2) == 1 {
			line[i] = b[i]
		}
	}
	return line
}

func (g genome) traits(line []int8) (x [traits]float64) {
	for i, allele := range line {
		for t, e := range g.effect[i] {
			x[t] += float64(allele) * e
		}
	}
	return x
}

// between gives the covariance between lines that breed true: the sum of the
// squares of the effects, both alleles alike frequent.
func (g genome) between() *mat.SymDense {
	s := mat.NewSymDense(traits, nil)
	for _, e := range g.effect {
		s.SymRankOne(s, 1, mat.NewVecDense(traits, e[:]))
	}
	return s
}

// sample collects mean and covariance.
type sample struct {
	n    float64
	sum  [traits]float64
	both [traits][traits]float64
}

func (s *sample) add(x [traits]float64) {
	s.n++
	for i := range x {
		s.sum[i] += x[i]
		for j := range x {
			s.both[i][j] += x[i] * x[j]
		}
	}
}

func (s *sample) mean(t int) float64 { return s.sum[t] / s.n }
func (s *sample) cov(i, j int) float64 {
	return (s.both[i][j] - s.sum[i]*s.sum[j]/s.n) / (s.n - 1)
}

// Crosses of known genotypes, many loci: the progeny's mean is the parents'
// middle, their covariance on average half of that between lines less what the
// parents share by descent, and what segregates within parents that do not
// breed true comes to it.
func TestProgenyOfKnownGenotypes(t *testing.T) {
	rng := rand.New(rand.NewPCG(38, 1))
	g := newGenome(rng)
	l := &Learning{pop: &population{spread: g.between()}}
	const crosses, each = 60, 40
	for _, c := range []struct {
		what  string
		alike float64
		pair  func() (a, b []int8)
	}{
		{what: "unrelated", pair: func() (a, b []int8) { return g.line(rng), g.line(rng) }},
		{what: "one parent in common", alike: 0.25, pair: func() (a, b []int8) {
			p := g.line(rng)
			return g.fixed(rng, p, g.line(rng)), g.fixed(rng, p, g.line(rng))
		}},
		{what: "both parents in common", alike: 0.5, pair: func() (a, b []int8) {
			p, q := g.line(rng), g.line(rng)
			return g.fixed(rng, p, q), g.fixed(rng, p, q)
		}},
	} {
		var off [traits]float64
		var cov [traits][traits]float64
		for range crosses {
			a, b := c.pair()
			var s sample
			for range each {
				s.add(g.traits(g.fixed(rng, a, b)))
			}
			ta, tb := g.traits(a), g.traits(b)
			middle, _ := midParent(traitPrior{mean: ta[:], cov: mat.NewSymDense(traits, nil)}, traitPrior{mean: tb[:], cov: mat.NewSymDense(traits, nil)})
			for i := range traits {
				off[i] += (s.mean(i) - middle[i]) / crosses
				for j := range traits {
					cov[i][j] += s.cov(i, j) / crosses
				}
			}
		}
		want := l.segregating(c.alike)
		for i := range traits {
			sd := math.Sqrt(want.At(i, i))
			if limit := 4 * sd / math.Sqrt(crosses*each); math.Abs(off[i]) > limit {
				t.Errorf("%s, trait %d: mean of the progeny %.4f off the parents' middle, sampling allows %.4f", c.what, i, off[i], limit)
			}
			for j := range i + 1 {
				// A product of two normals has a variance of at most 2 of its SDs squared; what
				// the parents differ in varies by 1/√loci besides.
				scale := sd * math.Sqrt(want.At(j, j))
				limit := 4 * scale * math.Sqrt(2/float64(crosses*each)+3/float64(simulatedLoci*crosses))
				if got := cov[i][j]; math.Abs(got-want.At(i, j)) > limit {
					t.Errorf("%s, traits %d and %d: covariance %.5f, expected %.5f ± %.5f", c.what, i, j, got, want.At(i, j), limit)
				}
			}
		}
	}
}

// Parents of inbreeding F (each locus alike within a plant with chance F): lines
// bred true out of the cross spread by S·(½ + (1 − F)/F), S that between lines
// of such plants' lines (Falconer & Mackay 1996, ch. 15: 2F of the additive
// variance between, (1 − F) within).
func TestWithinLineVarianceComesOut(t *testing.T) {
	const inbreeding, crosses, each = 0.6, 150, 40
	rng := rand.New(rand.NewPCG(38, 2))
	g := newGenome(rng)
	// Between lines 2F·V of the base's V = ½ Σa²: F·Σa².
	between := g.between()
	between.ScaleSym(inbreeding, between)
	l := &Learning{pop: &population{spread: between}, params: Params{WithinLineShare: (1 - inbreeding) / inbreeding}}
	var got float64
	for range crosses {
		// A line is a pool: a locus is fixed with chance F, else both alleles are in it.
		a, b, openA, openB := g.line(rng), g.line(rng), make([]bool, simulatedLoci), make([]bool, simulatedLoci)
		for i := range openA {
			openA[i], openB[i] = rng.Float64() > inbreeding, rng.Float64() > inbreeding
		}
		var s sample
		for range each {
			plant := func(line []int8, open []bool) []int8 {
				p := slices.Clone(line)
				for i := range p {
					if open[i] {
						p[i] = int8(2*rng.IntN(2) - 1)
					}
				}
				return p
			}
			s.add(g.traits(g.fixed(rng, plant(a, openA), plant(b, openB))))
		}
		got += s.cov(hardTrait, hardTrait) / crosses
	}
	want := l.segregating(0).At(hardTrait, hardTrait)
	if limit := 4 * want * math.Sqrt(2.0/(crosses*each)+3.0/(simulatedLoci*crosses)); math.Abs(got-want) > limit {
		t.Errorf("variance %.4f, expected %.4f ± %.4f", got, want, limit)
	}
}

// Choosing the best tenth of a simulated cross by an index of what is seen, of
// which a share breeds true, gives the response and leaves the spread that
// chosen says.
func TestResponseToSelection(t *testing.T) {
	rng := rand.New(rand.NewPCG(38, 3))
	g := newGenome(rng)
	const n, share, heritable = 8000, 0.1, 0.5
	a, b := g.line(rng), g.line(rng)
	var whole sample
	lines := make([][traits]float64, n)
	for i := range lines {
		lines[i] = g.traits(g.fixed(rng, a, b))
		whole.add(lines[i])
	}
	o := offspring{mean: make([]float64, traits), among: mat.NewSymDense(traits, nil), doubt: mat.NewSymDense(traits, nil)}
	for i := range traits {
		o.mean[i] = whole.mean(i)
		for j := range i + 1 {
			o.among.SetSym(i, j, whole.cov(i, j))
		}
	}
	index := []float64{1, -0.5, 2}
	iv := mat.NewVecDense(traits, index)
	noise := math.Sqrt(mat.Inner(iv, o.among, iv) * (1 - heritable) / heritable)
	seen := make([]float64, n)
	for i, x := range lines {
		seen[i] = noise * rng.NormFloat64()
		for t := range x {
			seen[i] += index[t] * x[t]
		}
	}
	sorted := slices.Sorted(slices.Values(seen))
	least := sorted[n-int(share*n)]
	var best sample
	for i, x := range lines {
		if seen[i] >= least {
			best.add(x)
		}
	}
	want, response := o.chosen(index, cutAt(share), heritable)
	for i := range traits {
		sd := math.Sqrt(want.among.At(i, i))
		if got, limit := best.mean(i)-whole.mean(i), 4*sd/math.Sqrt(best.n); math.Abs(got-response[i]) > limit {
			t.Errorf("trait %d: response %.4f, expected %.4f ± %.4f", i, got, response[i], limit)
		}
		for j := range i + 1 {
			limit := 4 * sd * math.Sqrt(want.among.At(j, j)) * math.Sqrt(2/best.n)
			if got := best.cov(i, j); math.Abs(got-want.among.At(i, j)) > limit {
				t.Errorf("traits %d and %d of the chosen: covariance %.5f, expected %.5f ± %.5f", i, j, got, want.among.At(i, j), limit)
			}
		}
	}
}
