package forecast

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The logarithm against the library's.
func TestLn(t *testing.T) {
	check := func(t interface{ Fatalf(string, ...any) }, x float64) {
		if got, want := ln(x), math.Log(x); !(math.Abs(got-want) <= 3e-16*(1+math.Abs(want))) {
			t.Fatalf("ln(%v) = %v, want %v", x, got, want)
		}
	}
	for k := range 4 * lnCuts { // at the ends of the parts and beside them
		edge := 0.5 * (1 + float64(k)/lnCuts)
		check(t, edge)
		check(t, math.Nextafter(edge, 0))
	}
	check(t, 1.1e-307)
	check(t, math.MaxFloat64)
	rapid.Check(t, func(t *rapid.T) { check(t, math.Exp(rapid.Float64Range(-700, 700).Draw(t, "ln"))) })
	if got := ln(5e-324); !(got < -708) {
		t.Errorf("ln of the least number above 0 is %v", got)
	}
}

func BenchmarkLn(b *testing.B) {
	sum := 0.0
	for i := 0; b.Loop(); i++ {
		sum += ln(0.1 + float64(i%64))
	}
	if math.IsNaN(sum) {
		b.Fatal(sum)
	}
}
