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
	// By coarseSum step of the mean lift share, course by course, for each row: its
	// weight, and its weight below the step with half of that in it.
	weight, reached [][]float32
}

// contestant is one row of a contest.
type contestant struct {
	line      int
	plantings int       // that share its value
	weight    []float64 // of its draws; sums to 1
	// steps fills dst with the step of the mean lift share of each draw in one
	// course, 0 to contestSteps.
	steps func(course int, dst []int)
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
	c.weight, c.reached = make([][]float32, len(c.rows)), make([][]float32, len(c.rows))
	for i := range c.rows {
		c.weight[i], c.reached[i] = make([]float32, c.courses*coarseSum), make([]float32, c.courses*coarseSum)
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

// tally takes one row's weights by step in one course, from a first step on, into
// its coarseSum steps.
func (c *contest) tally(row, course int, own []float64, first int) {
	weight, reached := c.weight[row][course*coarseSum:][:coarseSum], c.reached[row][course*coarseSum:][:coarseSum]
	for i, w := range own {
		weight[(first+i+coarseSteps/2)/coarseSteps] += float32(w)
	}
	below := float32(0)
	for step, w := range weight {
		reached[step] = below + 0.5*w
		below += w
	}
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

// beats gives the chance that row a has the larger mean lift share than row b
// in the same weather; equal values count half. chances must have been asked
// for before.
func (c *contest) beats(a, b int) float64 {
	if c.rows[a].line == c.rows[b].line {
		return c.beatsSameLine(a, b)
	}
	n := c.courses * coarseSum
	return float64(blas32.Dot(blas32.Vector{N: n, Inc: 1, Data: c.weight[a]}, blas32.Vector{N: n, Inc: 1, Data: c.reached[b]})) / float64(c.courses)
}

func (c *contest) beatsSameLine(a, b int) float64 {
	won := 0.0
	stepsA, stepsB := make([]int, len(c.rows[a].weight)), make([]int, len(c.rows[b].weight))
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

// tied gives, for each row, the others that it cannot be told apart from: of
// two, neither is larger with at least the odds.
func (c *contest) tied(ctx context.Context, odds float64) ([][]bool, error) {
	tied := make([][]bool, len(c.rows))
	for i := range tied {
		tied[i] = make([]bool, len(c.rows))
	}
	blocks := (len(c.rows) + tiedBlock - 1) / tiedBlock
	err := inParallel(ctx, blocks, func(block int) error {
		first, beyond := block*tiedBlock, min((block+1)*tiedBlock, len(c.rows))
		for b := first + 1; b < len(c.rows); b++ {
			for a := first; a < min(b, beyond); a++ {
				won := c.beats(a, b)
				tied[a][b] = math.Max(won, 1-won) < odds
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
