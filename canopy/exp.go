package canopy

import "math"

// Cuts of a doubling in the table of exp.
const (
	expBits = 8
	expCuts = 1 << expBits
)

// cutsOfDoubling holds 2^(k/expCuts).
var cutsOfDoubling = func() (t [expCuts]float64) {
	for k := range t {
		t[k] = math.Exp2(float64(k) / expCuts)
	}
	return t
}()

// exp is math.Exp for -700 < x < 700, within 3e-16 × (2 + |x|) of its value, at less
// than half of the cost: a power of two, a cut of a doubling out of a table, and a series for the
// rest, which is at most ln 2/512. The model asks for it three times a day for every
// draw, and for each leaf in a frost. Its arguments stay far inside: k·LAI and
// what frost is short of a leaf's LT50, in kill spreads, do not reach 200.
func exp(x float64) float64 {
	k := int64(x*(expCuts/math.Ln2) + (1023*expCuts + 0.5)) // the sum is above 0: rounded to the nearest
	r := x - float64(k-1023*expCuts)*(math.Ln2/expCuts)
	return math.Float64frombits(uint64(k)>>expBits<<52) * cutsOfDoubling[uint64(k)%expCuts] * (1 + r*(1+r*(1./2+r*(1./6+r*(1./24)))))
}
