package forecast

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// offspring is what is expected of the lines bred out of one cross: additive
// traits, normal among them. What is not known of the parents is common to all
// of them, so that no choice among them gains from it.
type offspring struct {
	mean  []float64     // of the lines: the mean of the parents
	among *mat.SymDense // covariance of the traits among the lines
	doubt *mat.SymDense // of the mean
}

// cut is a truncated normal: the best of those that a trial shows.
type cut struct {
	intensity float64 // mean of the chosen, in SDs of what is seen: i = φ(x)/p (Falconer & Mackay 1996, ch. 11)
	narrowed  float64 // i·(i − x), the share of that variance that goes (Cochran 1951)
}

// cutAt gives the selection of the best share of very many, 0 < share ≤ 1.
func cutAt(share float64) cut {
	if share >= 1 {
		return cut{}
	}
	x := distuv.UnitNormal.Quantile(1 - share)
	i := distuv.UnitNormal.Prob(x) / share
	return cut{i, i * (i - x)}
}

// total gives the covariance of one line's traits, doubt included.
func (o offspring) total() *mat.SymDense {
	sum := mat.NewSymDense(traits, nil)
	sum.AddSym(o.among, o.doubt)
	return sum
}

// chosen gives the lines that are left of an offspring when the best are
// chosen by an index of the traits, and the response: index × among is its
// direction. heritable is the share of the variance seen that breeds true, the
// same for every trait, so that the response is i·√heritable SDs of what is
// bred (Falconer & Mackay 1996, eq. 11.3).
func (o offspring) chosen(index []float64, c cut, heritable float64) (best offspring, response []float64) {
	toward := mat.NewVecDense(traits, nil)
	toward.MulVec(o.among, mat.NewVecDense(traits, index))
	sd := math.Sqrt(mat.Dot(toward, mat.NewVecDense(traits, index)))
	response = make([]float64, traits)
	if !(sd > 0) {
		return o, response // no trait tells who holds
	}
	best = offspring{mean: make([]float64, traits), among: mat.NewSymDense(traits, nil), doubt: o.doubt}
	for t := range traits {
		response[t] = c.intensity * math.Sqrt(heritable) * toward.AtVec(t) / sd
		best.mean[t] = o.mean[t] + response[t]
	}
	best.among.SymRankOne(o.among, -heritable*c.narrowed/square(sd), toward)
	return best, response
}

// moved gives the offspring with the parents' mean k SDs of its doubt along an
// index off what is expected, and that doubt gone.
func (o offspring) moved(index []float64, k float64) offspring {
	toward := mat.NewVecDense(traits, nil)
	toward.MulVec(o.doubt, mat.NewVecDense(traits, index))
	sd := math.Sqrt(mat.Dot(toward, mat.NewVecDense(traits, index)))
	if !(sd > 0) {
		return o
	}
	m := offspring{mean: make([]float64, traits), among: o.among, doubt: mat.NewSymDense(traits, nil)}
	for t := range traits {
		m.mean[t] = o.mean[t] + k*toward.AtVec(t)/sd
	}
	m.doubt.SymRankOne(o.doubt, -1/square(sd), toward)
	return m
}

// lessPassedOn gives the offspring where only a share of what sets the lines
// apart is passed on: parents' mean and all variances draw near the lines' mean.
func (o offspring) lessPassedOn(share float64, lines []float64) offspring {
	less := offspring{mean: make([]float64, traits), among: mat.NewSymDense(traits, nil), doubt: mat.NewSymDense(traits, nil)}
	for t := range traits {
		less.mean[t] = lines[t] + share*(o.mean[t]-lines[t])
	}
	less.among.ScaleSym(share, o.among)
	less.doubt.ScaleSym(square(share), o.doubt)
	return less
}

// expected gives the chance that a line of the offspring holds, and its slopes by
// the traits: by Stein 1981 the covariance with the traits over theirs.
func (h *holding) expected(o offspring) (chance float64, slope []float64) {
	cov := o.total()
	var factor mat.Cholesky
	if !factor.Factorize(cov) { // nothing segregates where a line was crossed with itself
		for t := range traits {
			cov.SetSym(t, t, cov.At(t, t)+flat)
		}
		if !factor.Factorize(cov) {
			panic("forecast: a covariance that is not positive definite")
		}
	}
	var root mat.TriDense
	factor.LTo(&root)
	with := make([]float64, traits) // covariance of holding with the standard normals
	var x [traits]float64
	for _, a := range h.nodes {
		for _, b := range h.nodes {
			for _, c := range h.nodes {
				z := [traits]float64{a.at, b.at, c.at}
				for t := range traits {
					x[t] = o.mean[t]
					for u := range t + 1 {
						x[t] += root.At(t, u) * z[u]
					}
				}
				holds := a.weight * b.weight * c.weight * h.at(x)
				chance += holds
				for t := range traits {
					with[t] += holds * z[t]
				}
			}
		}
	}
	// E[z·hold] = Lᵀ·slope.
	var by mat.VecDense
	if err := by.SolveVec(root.T(), mat.NewVecDense(traits, with)); err != nil {
		panic("forecast: " + err.Error())
	}
	return chance, by.RawVector().Data
}

// flat is the variance that is added to a covariance without depth, on the
// logarithm or in °C²: a thousandth of what is printed of a trait.
const flat = 1e-10

// normalNode is one point of a Gauss–Hermite rule for a standard normal.
type normalNode struct{ at, weight float64 }

// normalNodes gives the rule of n points.
func normalNodes(n int) []normalNode {
	x, w := make([]float64, n), make([]float64, n)
	quad.Hermite{}.FixedLocations(x, w, math.Inf(-1), math.Inf(1))
	nodes := make([]normalNode, n)
	for i := range nodes {
		nodes[i] = normalNode{x[i] * math.Sqrt2, w[i] / math.Sqrt(math.Pi)} // the rule's weight is exp(-x²)
	}
	return nodes
}
