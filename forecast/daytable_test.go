package forecast

import (
	"math"
	"testing"
)

// The step that holds the least length counts in part, all longer ones in full.
func TestStepsThatAreLongEnough(t *testing.T) {
	for _, c := range []struct {
		short float64
		want  []float32
	}{
		{-3, []float32{1, 1, 1, 1}},
		{0, []float32{1, 1, 1, 1}},
		{1.25, []float32{0, 0.75, 1, 1}},
		{3.5, []float32{0, 0, 0, 0.5}},
	} {
		steps := make([]float32, 4)
		addLonger(steps, c.short)
		addLonger(steps, c.short)
		cumulate(steps, 2)
		for k, x := range steps {
			if math.Abs(float64(x-c.want[k])) > 1e-6 {
				t.Errorf("%g steps too short: %v, want %v", c.short, steps, c.want)
				break
			}
		}
	}
}
