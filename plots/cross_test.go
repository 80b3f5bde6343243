package plots

import (
	"math"
	"strings"
	"testing"

	"wintertop/forecast"
)

// crosses invents the pairs of n lines.
func crosses(n int) *forecast.Crosses {
	x := &forecast.Crosses{Select: 0.1, Intensity: 1.755, Heritable: 0.5, Winters: 30}
	for i, l := range learned(n) {
		x.Parents = append(x.Parents, forecast.Parent{Learned: l, Holds: 0.5 + 0.4*math.Sin(float64(i))})
	}
	for a := range n {
		for b := a + 1; b < n; b++ {
			pa, pb := x.Parents[a], x.Parents[b]
			c := forecast.Cross{A: a, B: b, Chosen: 0.9 - 0.8*float64(len(x.Pairs))/float64(n*n)}
			c.ChosenLo, c.ChosenHi = c.Chosen-0.08, c.Chosen+0.06
			c.TopLengthCM = forecast.Bred{Value: (pa.TopLengthCM + pb.TopLengthCM) / 2, Spread: 4, Doubt: 1, Response: 3}
			c.HardinessC = forecast.Bred{Value: (pa.HardinessC + pb.HardinessC) / 2, Spread: 0.8, Doubt: 0.2, Response: -1.1}
			if (a+b)%3 == 0 {
				c.Related = "one parent in common: " + lineName(n)
			}
			x.Pairs = append(x.Pairs, c)
		}
	}
	return x
}

func TestCrossOfAnyNumberOfLines(t *testing.T) {
	for _, n := range []int{0, 1, 2, 8, 60} {
		x := crosses(n)
		for _, hostileNames := range []bool{false, true} {
			if hostileNames {
				for i := range x.Parents {
					x.Parents[i].Line = hostile[i%len(hostile)]
				}
			}
			d := mustDraw(t, Cross(x), nil)
			mustDraw(t, phoneCross(x), nil)
			if n > 1 {
				best := x.Pairs[0]
				d.names(t, []string{x.Parents[best.A].Line, x.Parents[best.B].Line})
			}
		}
	}
}

func TestCrossWithoutAPastWinter(t *testing.T) {
	x := crosses(4)
	x.Winters = 0
	if d := mustDraw(t, Cross(x), nil); !strings.Contains(d.desc, "no past winter") {
		t.Errorf("desc %q", d.desc)
	}
}
