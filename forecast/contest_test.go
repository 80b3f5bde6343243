package forecast

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"wintertop/weather"
)

// oneDay makes a contestant with shares as steps of its mean lift share, at
// each of its draws in each course.
func oneDay(line, plantings int, weight []float64, shares ...float64) contestant {
	return contestant{line: line, plantings: plantings, weight: weight, steps: func(course int, dst []int16) {
		for i := range dst {
			dst[i] = int16(shares[course*len(weight)+i]*contestSteps + 0.5)
		}
	}}
}

func chancesOf(t interface{ Fatal(...any) }, c *contest) []float64 {
	chances, err := c.chances(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return chances
}

func TestBestOfThree(t *testing.T) {
	one := []float64{1}
	for _, c := range []struct {
		name string
		rows []contestant
		want []float64 // for one planting of each row
	}{
		{"the larger share", []contestant{oneDay(0, 1, one, 0.4), oneDay(1, 1, one, 0.9)}, []float64{0, 1}},
		{"equal values share equally", []contestant{oneDay(0, 1, one, 0), oneDay(1, 1, one, 0), oneDay(2, 1, one, 0)}, []float64{1. / 3, 1. / 3, 1. / 3}},
		{"two plots of one line and one of another", []contestant{oneDay(0, 2, one, 0.5), oneDay(1, 1, one, 0.5)}, []float64{1. / 3, 1. / 3}},
		{"two sowings of one line tie", []contestant{oneDay(0, 1, one, 0.5), oneDay(0, 1, one, 0.5), oneDay(1, 1, one, 0.2)}, []float64{0.5, 0.5, 0}},
		{"even draws", []contestant{oneDay(0, 1, []float64{0.5, 0.5}, 0.2, 0.8), oneDay(1, 1, one, 0.5)}, []float64{0.5, 0.5}},
	} {
		got := chancesOf(t, newContest(c.rows, 1))
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-12 {
				t.Errorf("%s: row %d is best with chance %g, want %g", c.name, i, got[i], c.want[i])
			}
		}
	}
}

// Against plain enumeration of every course and every pair of independent
// draws; the chances of all plantings sum to 1.
func TestChanceBestAgainstEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		courses := rapid.IntRange(1, 3).Draw(t, "courses")
		rows := make([]contestant, rapid.IntRange(1, 4).Draw(t, "rows"))
		for i := range rows {
			n := rapid.IntRange(1, 3).Draw(t, "draws")
			weight := make([]float64, n)
			for k := range weight {
				weight[k] = 1 / float64(n)
			}
			var shares []float64
			for range n * courses {
				shares = append(shares, float64(rapid.IntRange(0, 3).Draw(t, "share"))/4)
			}
			rows[i] = oneDay(i, rapid.IntRange(1, 3).Draw(t, "plots"), weight, shares...)
		}
		want := make([]float64, len(rows))
		for course := range courses {
			drawn := make([]int, len(rows))
			var walk func(i int, weight float64)
			walk = func(i int, weight float64) {
				if i < len(rows) {
					for d, w := range rows[i].weight {
						drawn[i] = d
						walk(i+1, weight*w)
					}
					return
				}
				top, tied := -1, 0
				value := func(k int) int {
					steps := make([]int16, len(rows[k].weight))
					rows[k].steps(course, steps)
					return int(steps[drawn[k]])
				}
				for k, r := range rows {
					switch v := value(k); {
					case v > top:
						top, tied = v, r.plantings
					case v == top:
						tied += r.plantings
					}
				}
				for k := range rows {
					if value(k) == top {
						want[k] += weight / float64(tied) / float64(courses)
					}
				}
			}
			walk(0, 1)
		}
		got, total := chancesOf(t, newContest(rows, courses)), 0.0
		for i := range rows {
			total += got[i] * float64(rows[i].plantings)
			if math.Abs(got[i]-want[i]) > 1e-9 {
				t.Fatalf("row %d: chance %g, by enumeration %g", i, got[i], want[i])
			}
		}
		if math.Abs(total-1) > 1e-9 {
			t.Fatalf("the chances sum to %g", total)
		}
	})
}

// Of each two rows the one is larger with at least the odds, or they are tied:
// against plain enumeration of their draws in the same weather.
func TestTiedAgainstEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		courses, n := rapid.IntRange(1, 40).Draw(t, "courses"), rapid.IntRange(2, 20).Draw(t, "rows") // more than a block of them
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 5))
		rows, values := make([]contestant, n), make([][]float64, n)
		for i := range rows {
			for range 2 * courses {
				values[i] = append(values[i], float64(rng.IntN(4+i%5))/8) // some rows are better
			}
			rows[i] = oneDay(i, 1, []float64{0.25, 0.75}, values[i]...)
		}
		c := newContest(rows, courses)
		chancesOf(t, c)
		const odds = 0.8
		tied, err := c.tied(context.Background(), odds)
		if err != nil {
			t.Fatal(err)
		}
		for a := range rows {
			for b := range rows {
				won := 0.0
				for course := range courses {
					for i, w := range rows[a].weight {
						for j, v := range rows[b].weight {
							switch x, y := values[a][2*course+i], values[b][2*course+j]; {
							case x > y:
								won += w * v / float64(courses)
							case x == y:
								won += w * v / float64(2*courses)
							}
						}
					}
				}
				if larger := math.Max(won, 1-won); a != b && math.Abs(larger-odds) > 1e-6 && tied[a][b] != (larger < odds) {
					t.Fatalf("rows %d and %d: tied %t, the one is larger with chance %g", a, b, tied[a][b], larger)
				}
			}
		}
	})
}

func TestVerdictAndFirstRun(t *testing.T) {
	goal := Goal{From: 110, To: 113, AsOf: 108}
	days := func(all ...float64) []PickDate {
		var d []PickDate
		for i, p := range all {
			d = append(d, PickDate{Date: weather.Date(108 + i), All: p})
		}
		return d
	}
	for _, c := range []struct {
		name        string
		dates       []PickDate
		notes       int
		want        Verdict
		from, until weather.Date
	}{
		{"all through the window", days(0.9, 0.7, 0.8, 0.8, 0.85, 0.9), 3, Hold, 108, 108},
		{"until the window opens", days(0.9, 0.9, 0.9, 0.7, 0.7, 0.9), 3, LiftEarly, 108, 110},
		{"never", days(0.7, 0.7, 0.7, 0.7, 0.7, 0.79), 3, TooWeak, 0, 0},
		{"without notes", days(1, 1, 1, 1, 1, 1), 0, NotKnownYet, 108, 113},
	} {
		if got := verdict(c.dates, goal, 0.8, c.notes); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		from, until, ok := firstRun(c.dates, 0.8, func(d PickDate) float64 { return d.All })
		if from != c.from || until != c.until || ok != (c.from != 0) {
			t.Errorf("%s: holds %d to %d (%t), want %d to %d", c.name, from, until, ok, c.from, c.until)
		}
	}
}
