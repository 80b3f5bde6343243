package forecast

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// Two lines, two winters, 11 kg wanted. A gives 4 kg/m² in the mild winter and 1
// in the hard one, B gives 1 and 3. Both winters: 4a + b = 11 and a + 3b = 11 give
// a = 2, b = 3, where A alone or B alone needs 11 m²; the prices 2/11 and 3/11
// earn 1 on either line and come to 5, so no plan needs less. With one winter
// given up it is the hard one: 11/4 m² of A, against 11/3 of B.
func handSolved() *supply {
	return &supply{most: []float64{math.Inf(1)}, gives: [][][]float64{{{4. / 11, 1. / 11}, {1. / 11, 3. / 11}}}}
}

func near(t rapid.TB, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*max(1, math.Abs(want))) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func TestTwoLinesTwoWinters(t *testing.T) {
	s := handSolved()
	both := s.least(0)
	if !both.ok {
		t.Fatal("no plan")
	}
	near(t, "A", both.areaM2[0][0], 2)
	near(t, "B", both.areaM2[0][1], 3)
	near(t, "total", both.total, 5)
	near(t, "bound", both.bound, 5)
	one := s.least(1)
	near(t, "A of one winter", one.areaM2[0][0], 2.75)
	near(t, "total of one winter", one.total, 2.75)
	near(t, "bound of one winter", one.bound, 2.75)
	if met := s.met(one); !met[0] || met[1] {
		t.Errorf("served winters %v", met)
	}
	s.most[0] = 4.9
	if s.least(0).ok {
		t.Error("5 m² are lifted where the crew lifts 4.9")
	}
	if plan := s.least(1); !plan.ok || plan.total > 4.9 {
		t.Errorf("within the crew's reach: %+v", plan)
	}
}

// A winter in which nothing holds must be given up; where more such winters
// come than may be given up, no area does it.
func TestTopsThatDoNotHold(t *testing.T) {
	s := &supply{most: []float64{math.Inf(1)}, gives: [][][]float64{{{0.5, 0, 0.25}, {0.1, 0, 0.2}}}}
	if s.least(0).ok {
		t.Error("a plan serves a winter without tops")
	}
	plan := s.least(1)
	near(t, "area", plan.total, 4)
	near(t, "bound", plan.bound, 4)
	near(t, "of the one in hand", s.least(2).total, 2)
}

// corners finds the least area by trying every corner of the programme: as many
// ways as winters that just suffice.
func corners(gives [][]float64) float64 {
	ways, winters := len(gives), len(gives[0])
	best := math.Inf(1)
	for a := 1; a < 1<<ways; a++ {
		for b := 1; b < 1<<winters; b++ {
			var js, ws []int
			for j := range ways {
				if a>>j&1 == 1 {
					js = append(js, j)
				}
			}
			for w := range winters {
				if b>>w&1 == 1 {
					ws = append(ws, w)
				}
			}
			if len(js) != len(ws) {
				continue
			}
			m, one := mat.NewDense(len(ws), len(js), nil), mat.NewVecDense(len(ws), nil)
			for i, w := range ws {
				one.SetVec(i, 1)
				for k, j := range js {
					m.Set(i, k, gives[j][w])
				}
			}
			var x mat.VecDense
			if x.SolveVec(m, one) != nil {
				continue
			}
			total, good := 0.0, true
			for k := range js {
				total, good = total+x.AtVec(k), good && x.AtVec(k) >= -1e-12
			}
			for w := range winters {
				got := 0.0
				for k, j := range js {
					got += gives[j][w] * x.AtVec(k)
				}
				good = good && got >= 1-1e-9
			}
			if good {
				best = min(best, total)
			}
		}
	}
	return best
}

// shares draws what ways give in winters: steps of a twentieth, so that ties and
// zeros come often, as they do where no top is left or every top is.
func shares(ways, winters int) *rapid.Generator[[][]float64] {
	return rapid.Custom(func(t *rapid.T) [][]float64 {
		g := make([][]float64, ways)
		for j := range g {
			for range winters {
				g[j] = append(g[j], float64(rapid.IntRange(0, 20).Draw(t, "give"))/20)
			}
		}
		return g
	})
}

func TestLeastAreaIsThatOfTheBestCorner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gives := shares(rapid.IntRange(1, 4).Draw(t, "ways"), rapid.IntRange(1, 4).Draw(t, "winters")).Draw(t, "gives")
		want := corners(gives)
		areaM2, bound, ok := leastArea(gives)
		if ok != !math.IsInf(want, 1) {
			t.Fatalf("ok %v where the corners say %v", ok, want)
		}
		if !ok {
			return
		}
		total := 0.0
		for _, x := range areaM2 {
			if x < 0 {
				t.Errorf("area %v", x)
			}
			total += x
		}
		for w := range gives[0] {
			got := 0.0
			for j, x := range areaM2 {
				got += x * gives[j][w]
			}
			if got < 1-1e-9 {
				t.Errorf("winter %d gets %v of what is wanted", w, got)
			}
		}
		near(t, "total", total, want)
		near(t, "bound", bound, want)
	})
}
