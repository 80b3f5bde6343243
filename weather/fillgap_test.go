package weather

import (
	"math"
	"testing"
)

// A value that stands inside a gap bounds what is interpolated beside it.
func TestFillingUsesValuesInsideTheGap(t *testing.T) {
	nan := math.NaN()
	first := NewDate(2012, 1, 1)
	r := Record{Days: []Day{
		{first, 1, 5, nan, nan, Observed}, {first + 1, 0, 5, nan, nan, Observed}, {first + 2, nan, 2, nan, nan, Missing},
		{first + 3, -8, nan, nan, nan, Missing}, {first + 4, 2, 8, nan, nan, Observed},
	}}
	filled, seen := r.Filled()
	if got := filled.Days[2].MinC; got != -4 {
		t.Errorf("between 0 and -8: %g", got)
	}
	if got := filled.Days[3].MaxC; got != 5 {
		t.Errorf("between 2 and 8: %g", got)
	}
	if len(seen) != 1 || seen[0].Value != "-8" {
		t.Errorf("the coldest minimum beside the gap is not named: %v", seen)
	}
}
