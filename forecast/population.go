package forecast

import (
	"slices"

	"gonum.org/v1/gonum/mat"
)

// population is what all lines share, as believed at present: the mean of the
// traits over lines, their covariance between lines, and the effects that bear
// on every line alike: the deviation of each trial, the coldness of each place.
//
// Where all is linear and normal, settle solves the mixed-model equations
// (Henderson) in one step and widen is one step of EM towards REML.
type population struct {
	mean    []float64     // of the traits
	spread  *mat.SymDense // covariance of the traits between lines
	effects []float64
	doubt   *mat.SymDense // covariance of what is believed of mean and effects, in this order
}

// populationPrior is the population before any note. lines says for how many
// lines the prior covariance counts.
type populationPrior struct {
	mean, meanSD []float64
	spread       *mat.SymDense
	lines        float64
	effectSD     []float64 // the effects' mean is 0
}

// start gives the population as it is before any note.
func (p populationPrior) start() *population {
	pop := &population{mean: append([]float64(nil), p.mean...), spread: mat.NewSymDense(len(p.mean), nil), effects: make([]float64, len(p.effectSD))}
	pop.spread.CopySym(p.spread)
	pop.doubt = mat.NewSymDense(len(p.mean)+len(p.effectSD), nil)
	for i, sd := range p.sds() {
		pop.doubt.SetSym(i, i, square(sd))
	}
	return pop
}

// clone gives a copy of the belief about mean, spread and effects.
func (pop *population) clone() *population {
	c := &population{mean: slices.Clone(pop.mean), spread: mat.NewSymDense(len(pop.mean), nil), effects: slices.Clone(pop.effects), doubt: pop.doubt}
	c.spread.CopySym(pop.spread)
	return c
}

// sds gives the prior SDs of mean and effects.
func (p populationPrior) sds() []float64 {
	return append(append([]float64(nil), p.meanSD...), p.effectSD...)
}

// testimony is what one line's notes say at the present belief. Slopes are
// derivatives of the line's log likelihood by the effects.
type testimony struct {
	mean  []float64     // of the line's traits, given population and notes
	cov   *mat.SymDense // of the line's traits
	slope []float64     // mean slope by each effect
	cross *mat.Dense    // covariance of traits and slopes, traits × effects
	turn  *mat.SymDense // minus the second derivative of the log evidence by the effects; nil where it was not asked for
	// known marks a line with a prior of its own: it says nothing of the
	// population's mean and covariance, and does not hang on them.
	known bool
}

// follows gives how the line's mean moves with mean and effects of the
// population, traits × (traits + effects).
func (t *testimony) follows(precision *mat.SymDense) *mat.Dense {
	k, n := len(t.mean), len(t.slope)
	f := mat.NewDense(k, k+n, nil)
	if !t.known {
		f.Slice(0, k, 0, k).(*mat.Dense).Mul(t.cov, precision)
	}
	if n > 0 {
		f.Slice(0, k, k, k+n).(*mat.Dense).Copy(t.cross)
	}
	return f
}

// curvature gives minus the second derivative of the line's log evidence by
// mean and effects, without the directions in which it curves up.
func (t *testimony) curvature(precision *mat.SymDense) *mat.SymDense {
	k, n := len(t.mean), len(t.slope)
	c := mat.NewSymDense(k+n, nil)
	follows := t.follows(precision)
	if !t.known {
		var lean mat.Dense // S⁻¹ × how the mean follows
		lean.Mul(precision, follows)
		for i := range k {
			for j := i; j < k; j++ {
				c.SetSym(i, j, precision.At(i, j)-(lean.At(i, j)+lean.At(j, i))/2)
			}
			for j := k; j < k+n; j++ {
				c.SetSym(i, j, -lean.At(i, j))
			}
		}
	}
	for i := range n {
		for j := i; j < n; j++ {
			c.SetSym(k+i, k+j, t.turn.At(i, j))
		}
	}
	return withoutNegative(c)
}

// withoutNegative drops the negative eigenvalues of a symmetric matrix.
func withoutNegative(c *mat.SymDense) *mat.SymDense {
	var eigen mat.EigenSym
	if !eigen.Factorize(c, true) {
		panic("forecast: a matrix without eigenvalues")
	}
	values := eigen.Values(nil)
	if values[0] >= 0 {
		return c
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	n := len(values)
	kept := mat.NewSymDense(n, nil)
	for v, x := range values {
		if x > 0 {
			kept.SymRankOne(kept, x, vectors.ColView(v))
		}
	}
	return kept
}

// settle moves mean and effects to where prior and testimonies together put
// them (one Newton step) and sets their doubt.
func (pop *population) settle(prior populationPrior, said []*testimony) {
	k := len(pop.mean)
	at := append(append([]float64(nil), pop.mean...), pop.effects...)
	precision := inverse(pop.spread)
	total, slope := mat.NewSymDense(len(at), nil), mat.NewVecDense(len(at), nil)
	sds := prior.sds()
	for i, sd := range sds {
		centre := 0.0
		if i < k {
			centre = prior.mean[i]
		}
		total.SetSym(i, i, 1/square(sd))
		slope.SetVec(i, (centre-at[i])/square(sd))
	}
	for _, t := range said {
		total.AddSym(total, t.curvature(precision))
		if !t.known {
			away := mat.NewVecDense(k, nil)
			for i, m := range t.mean {
				away.SetVec(i, m-pop.mean[i])
			}
			away.MulVec(precision, away)
			for i := range k {
				slope.SetVec(i, slope.AtVec(i)+away.AtVec(i))
			}
		}
		for i, s := range t.slope {
			slope.SetVec(k+i, slope.AtVec(k+i)+s)
		}
	}
	pop.doubt = inverse(total)
	var step mat.VecDense
	step.MulVec(pop.doubt, slope)
	for i := range at {
		at[i] += step.AtVec(i)
	}
	copy(pop.mean, at[:k])
	copy(pop.effects, at[k:])
}

// deviation gives the second moment of a line's traits about the population's
// mean, the doubt of both included.
func (pop *population) deviation(t *testimony, precision *mat.SymDense) *mat.SymDense {
	k := len(pop.mean)
	apart := t.follows(precision)
	away := mat.NewVecDense(k, nil)
	for i := range k {
		apart.Set(i, i, apart.At(i, i)-1)
		away.SetVec(i, t.mean[i]-pop.mean[i])
	}
	d := carried(apart, pop.doubt)
	d.AddSym(d, t.cov)
	d.SymRankOne(d, 1, away)
	return d
}

// widen estimates the covariance between lines anew: the mean deviation of the
// lines, with the prior covariance counted for its lines. REML, not plain
// maximum likelihood: the doubt of the mean is in the deviations.
func (pop *population) widen(prior populationPrior, said []*testimony) {
	precision := inverse(pop.spread)
	k := len(pop.mean)
	sum, n := mat.NewSymDense(k, nil), prior.lines
	sum.ScaleSym(prior.lines, prior.spread)
	for _, t := range said {
		if !t.known {
			sum.AddSym(sum, pop.deviation(t, precision))
			n++
		}
	}
	if n > 0 {
		pop.spread.ScaleSym(1/n, sum)
	}
}

// carried gives the covariance f·c·fᵀ of what follows by f something whose
// covariance is c.
func carried(f mat.Matrix, c *mat.SymDense) *mat.SymDense {
	var fc, whole mat.Dense
	fc.Mul(f, c)
	whole.Mul(&fc, f.T())
	k, _ := whole.Dims()
	s := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			s.SetSym(i, j, (whole.At(i, j)+whole.At(j, i))/2)
		}
	}
	return s
}

// inverse inverts a positive definite matrix.
func inverse(s *mat.SymDense) *mat.SymDense {
	var factor mat.Cholesky
	if !factor.Factorize(s) {
		panic("forecast: a covariance that is not positive definite")
	}
	var inv mat.SymDense
	_ = factor.InverseTo(&inv) // the error warns of bad conditioning only
	return &inv
}
