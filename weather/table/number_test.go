package table

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

func TestNumbers(t *testing.T) {
	for text, want := range map[string]float64{
		"0": 0, "-2.2": -2.2, " 7 ": 7, "+3": 3, "3.": 3, ".5": 0.5, "1e2": 100, "1.5E-1": 0.15, "−4": -4, "010": 10, "\u00a05": 5,
	} {
		if n := ParseNumber(text); !n.Known || n.OrNaN() != want || n.Missing() || n.Fault != "" {
			t.Errorf("%q: %+v", text, n)
		}
	}
	for _, text := range []string{"", "  ", "NA", "n/a", "NaN", "nan", "null", "-", "M", "#N/A", "."} {
		if n := ParseNumber(text); !n.Missing() || !math.IsNaN(n.OrNaN()) || n.Fault != "" {
			t.Errorf("%q: %+v", text, n)
		}
	}
	for _, text := range []string{"Inf", "-inf", "Infinity", "0x1p3", "0x10", "1e400", "-1e999", "1_000", "warm", "1,5", "1.2.3", "--1", "5°", "1e", "e5", "+", "１"} {
		var n Number
		if err := n.UnmarshalCSV(text); err != nil || n.Fault == "" || n.Missing() || !math.IsNaN(n.OrNaN()) {
			t.Errorf("%q: %+v, %v", text, n, err)
		}
	}
	if !(Number{}).Missing() {
		t.Error("the column that a file does not have is not missing")
	}
	if ParseNumber("1,5").Hint() == "" || ParseNumber("x").Hint() != "" || ParseNumber("1.5").Hint() != "" {
		t.Error("only a decimal comma has a hint")
	}
}

func TestWrittenNumbersReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64().Draw(t, "x")
		format := rapid.SampledFrom([]byte("efg")).Draw(t, "format")
		if n := ParseNumber(strconv.FormatFloat(x, format, -1, 64)); !n.Known || n.Value != x {
			t.Errorf("got %+v", n)
		}
	})
}
