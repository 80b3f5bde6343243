package forecast

import (
	"context"
	"math"
	"sync"

	"gonum.org/v1/gonum/blas/blas32"
	"gonum.org/v1/gonum/integrate/quad"
)

// contest compares the rows of one place in the same weather: in each course
// every line draws its traits on its own, and the row with the largest mean
// lift share over the window is best. Equal values share equally. Rows of one
// line have the same draw.
type contest struct {
	rows      []contestant
	lines     [][]int // rows of each line
	courses   int
	few, many interval // rules for the sharing of one step
	// Of each row, course by course: its weight by coarse step of the mean lift share.
	weight [][]float32
}

// contestant is one row of a contest.
type contestant struct {
	line      int
	plantings int       // that share its value
	weight    []float64 // of its draws; sums to 1
	// steps fills dst with the step of the mean lift share of each draw in one
	// course, 0 to contestSteps.
	steps func(course int, dst []int16)
}

// Steps of the mean lift share within which values count as equal; coarseSteps
// of them do where only the chance to be larger is asked for. A step that the
// best of all lines falls short of with less than outclassed is not looked at.
const (
	contestSteps = 500
	coarseSteps  = 10
	coarseSum    = contestSteps/coarseSteps + 1
	outclassed   = 1e-10
)

// coarse gives the coarse step of a step, and edge the first step of a coarse one.
func coarse(step int16) int { return (int(step) + coarseSteps/2) / coarseSteps }
func edge(coarse int) int   { return max(0, coarse*coarseSteps-coarseSteps/2) }

func newContest(rows []contestant, courses int) *contest {
	c := &contest{rows: rows, courses: courses, few: intervalOf(8), many: intervalOf(32)}
	at := map[int]int{}
	for i, r := range rows {
		k, known := at[r.line]
		if !known {
			k = len(c.lines)
			at[r.line] = k
			c.lines = append(c.lines, nil)
		}
		c.lines[k] = append(c.lines[k], i)
	}
	return c
}

// chances gives, for one planting of each row, the chance that it is best. The
// sum over all plantings is 1. The error is ctx's.
func (c *contest) chances(ctx context.Context) ([]float64, error) {
	c.weight = make([][]float32, len(c.rows))
	for i := range c.rows {
		c.weight[i] = make([]float32, c.courses*coarseSum)
	}
	byCourse := make([][]float64, c.courses)
	rooms := sync.Pool{New: func() any { return c.newRound() }}
	err := inParallel(ctx, c.courses, func(course int) error {
		round := rooms.Get().(*round)
		defer rooms.Put(round)
		byCourse[course] = round.shares(course)
		return nil
	})
	chance := make([]float64, len(c.rows))
	for _, of := range byCourse {
		for i, x := range of {
			chance[i] += x / float64(c.courses)
		}
	}
	return chance, err
}

// interval is a Gauss–Legendre rule on 0…1.
type interval struct{ t, weight []float64 }

func intervalOf(nodes int) interval {
	of := interval{make([]float64, nodes), make([]float64, nodes)}
	quad.Legendre{}.FixedLocations(of.t, of.weight, 0, 1)
	return of
}

// nodesFor gives the rule to integrate the product of below + in·t over lines by,
// where in/below sums to so much: it grows no faster than exp(equal·t), which
// few nodes integrate within 1e-9 up to 4.
func (c *contest) nodesFor(equal float64) interval {
	if equal <= 4 {
		return c.few
	}
	return c.many
}

// reached fills dst, course by course, with a row's weight below each coarse step
// and half of that in it.
func (c *contest) reached(row int, dst []float32) {
	for course := range c.courses {
		below, dst := float32(0), dst[course*coarseSum:][:coarseSum]
		for step, w := range c.weight[row][course*coarseSum:][:coarseSum] {
			dst[step] = below + 0.5*w
			below += w
		}
	}
}

// alike says whether neither of two rows has the larger mean lift share in the same
// weather with at least the odds, given what b has reached; equal values count
// half. Courses that can change nothing any more are not looked at. chances must have
// been asked for before.
func (c *contest) alike(a, b int, reached []float32, odds float64) bool {
	if c.rows[a].line == c.rows[b].line {
		won := c.beatsSameLine(a, b)
		return math.Max(won, 1-won) < odds
	}
	enough := odds * float64(c.courses)
	won, lost := 0.0, 0.0
	for from := 0; from < c.courses; from += courseBlock {
		n := min(courseBlock, c.courses-from)
		at, length := from*coarseSum, n*coarseSum
		some := float64(blas32.Dot(blas32.Vector{N: length, Inc: 1, Data: c.weight[a][at:]}, blas32.Vector{N: length, Inc: 1, Data: reached[at:]}))
		won, lost = won+some, lost+float64(n)-some
		left := float64(c.courses - from - n)
		if max(won, lost) >= enough || max(won, lost)+left < enough {
			break
		}
	}
	return max(won, lost) < enough
}

// courseBlock is how many courses are taken together before a comparison may end.
const courseBlock = 8

func (c *contest) beatsSameLine(a, b int) float64 {
	won := 0.0
	stepsA, stepsB := make([]int16, len(c.rows[a].weight)), make([]int16, len(c.rows[b].weight))
	for course := range c.courses {
		c.rows[a].steps(course, stepsA)
		c.rows[b].steps(course, stepsB)
		for i, w := range c.rows[a].weight {
			switch x, y := stepsA[i], stepsB[i]; {
			case x > y:
				won += w
			case x == y:
				won += 0.5 * w
			}
		}
	}
	return won / float64(c.courses)
}

// tied gives, for each row, the others that it cannot be told apart from, by the
// odds.
func (c *contest) tied(ctx context.Context, odds float64) ([][]bool, error) {
	tied := make([][]bool, len(c.rows))
	for i := range tied {
		tied[i] = make([]bool, len(c.rows))
	}
	blocks := (len(c.rows) + tiedBlock - 1) / tiedBlock
	rooms := sync.Pool{New: func() any { return &[tiedBlock][]float32{} }}
	err := inParallel(ctx, blocks, func(block int) error {
		first, beyond := block*tiedBlock, min((block+1)*tiedBlock, len(c.rows))
		reached := rooms.Get().(*[tiedBlock][]float32)
		defer rooms.Put(reached)
		for b := first; b < beyond; b++ {
			reached[b-first] = resized(reached[b-first], c.courses*coarseSum)
			c.reached(b, reached[b-first])
		}
		for a := first + 1; a < len(c.rows); a++ {
			for b := first; b < min(a, beyond); b++ {
				tied[b][a] = c.alike(a, b, reached[b-first], odds)
			}
		}
		return nil
	})
	for a := range tied {
		for b := range a {
			tied[a][b] = tied[b][a]
		}
	}
	return tied, err
}

// tiedBlock is how many rows are compared with each other row in turn, so that
// what is at hand is used more than once.
const tiedBlock = 16
