package canopy

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestExpAgainstTheLibrary(t *testing.T) {
	check := func(t interface{ Fatalf(string, ...any) }, x float64) {
		if got, want := exp(x), math.Exp(x); !(math.Abs(got-want) <= 3e-16*(2+math.Abs(x))*want) {
			t.Fatalf("exp(%v) = %v, want %v", x, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) { check(t, rapid.Float64Range(-700, 700).Draw(t, "x")) })
	for k := range 4 * expCuts { // between and beside the cuts
		check(t, float64(k)*math.Ln2/(4*expCuts))
	}
	if got := exp(0); got != 1 {
		t.Errorf("exp(0) = %v", got)
	}
}

func BenchmarkExp(b *testing.B) {
	sum := 0.0
	for i := 0; b.Loop(); i++ {
		sum += exp(-float64(i%64) / 16)
	}
	_ = sum
}

func BenchmarkLibraryExp(b *testing.B) {
	sum := 0.0
	for i := 0; b.Loop(); i++ {
		sum += math.Exp(-float64(i%64) / 16)
	}
	_ = sum
}
