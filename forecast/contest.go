package forecast

import (
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
)

// contest compares the rows of one place in the same weather: in each course
// every line draws its traits on its own, and the row with the largest mean
// lift share over the window is best. Equal values share equally. Rows of one
// line have the same draw.
type contest struct {
	rows    []*row
	lines   [][]int // rows of each line
	courses int
	steps   [][]float64 // [row*courses + course]: weight by step of the mean lift share
}

// Steps of the mean lift share within which values count as equal.
const contestSteps = 500

func newContest(rows []*row, courses int) *contest {
	c := &contest{rows: rows, courses: courses}
	at := map[int]int{}
	for i, r := range rows {
		k, known := at[r.line]
		if !known {
			k = len(c.lines)
			at[r.line] = k
			c.lines = append(c.lines, nil)
		}
		c.lines[k] = append(c.lines[k], i)
		for course := range courses {
			c.steps = append(c.steps, r.stepWeights(course))
		}
	}
	return c
}

// best is the distribution of one line's best row in one course: weight by
// step and by how many of its plantings share the best value.
type best struct {
	byCount []map[int]float64 // per step: weight by number of plantings that tie
	below   []float64         // per step: weight strictly below
	row     []map[int][]float64
}

// stepAt gives the step of the mean lift share of one row at one draw.
func (r *row) stepAt(course, i, q int) int {
	if r.picks.days == 0 {
		return 0
	}
	mean := r.picks.window[(course*len(r.stake.nodes)+i)*lengthPoints+q] / float64(r.picks.days)
	return min(int(mean*contestSteps+0.5), contestSteps)
}

// chances gives, for one planting of each row, the chance that it is best. The
// sum over all plantings is 1.
func (c *contest) chances() []float64 {
	chance := make([]float64, len(c.rows))
	total := 0
	for _, r := range c.rows {
		total += len(r.plantings)
	}
	// The chance of sharing with k others is an integral of t^k: exact with
	// enough nodes for the number of plantings.
	nodes := min(total/2+1, 24)
	t, weight := make([]float64, nodes), make([]float64, nodes)
	quad.Legendre{}.FixedLocations(t, weight, 0, 1)
	for course := range c.courses {
		bests := make([]best, len(c.lines))
		for k := range c.lines {
			bests[k] = c.bestOf(k, course)
		}
		for step := range contestSteps + 1 {
			c.share(bests, step, t, weight, chance)
		}
	}
	for i := range chance {
		chance[i] /= float64(c.courses)
	}
	return chance
}

// bestOf gives the distribution of one line's best row in one course.
func (c *contest) bestOf(line, course int) best {
	rows := c.lines[line]
	b := best{byCount: make([]map[int]float64, contestSteps+1), below: make([]float64, contestSteps+1), row: make([]map[int][]float64, contestSteps+1)}
	// Rows of one line share the stake: one line × winter deviation per place.
	stake := &c.rows[rows[0]].stake
	for i := range stake.nodes {
		for q := range lengthPoints {
			top := -1
			var at []int
			for k, r := range rows {
				switch step := c.rows[r].stepAt(course, i, q); {
				case step > top:
					top, at = step, append(at[:0], k)
				case step == top:
					at = append(at, k)
				}
			}
			count := 0
			for _, k := range at {
				count += len(c.rows[rows[k]].plantings)
			}
			w := stake.weight[i] / lengthPoints
			if b.byCount[top] == nil {
				b.byCount[top] = map[int]float64{}
				b.row[top] = map[int][]float64{}
			}
			if b.row[top][count] == nil {
				b.row[top][count] = make([]float64, len(rows))
			}
			b.byCount[top][count] += w
			for _, k := range at {
				b.row[top][count][k] += w
			}
		}
	}
	sum := 0.0
	for step := range b.below {
		b.below[step] = sum
		for _, count := range counts(b.byCount[step]) {
			sum += b.byCount[step][count]
		}
	}
	return b
}

func counts(m map[int]float64) []int {
	keys := make([]int, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// share adds, for one step, each row's chance of being best in it: n plantings
// that tie get 1/n each, which is the integral of t^(n-1) over 0…1.
func (c *contest) share(bests []best, step int, t, weight, chance []float64) {
	busy := false
	for k := range bests {
		busy = busy || len(bests[k].byCount[step]) > 0
	}
	if !busy {
		return
	}
	power := func(x float64, n int) float64 {
		p := 1.0
		for range n {
			p *= x
		}
		return p
	}
	factor := make([]float64, len(bests))
	for i := range t {
		for k, b := range bests {
			factor[k] = b.below[step]
			for _, n := range counts(b.byCount[step]) {
				factor[k] += b.byCount[step][n] * power(t[i], n)
			}
		}
		for k, b := range bests {
			others := weight[i]
			for j, f := range factor {
				if j != k {
					others *= f
				}
			}
			for _, n := range counts(b.byCount[step]) {
				for r, w := range b.row[step][n] {
					chance[c.lines[k][r]] += others * w * power(t[i], n-1)
				}
			}
		}
	}
}

// beats gives the chance that row a has the larger mean lift share than row b
// in the same weather; equal values count half.
func (c *contest) beats(a, b int) float64 {
	if c.rows[a].line == c.rows[b].line {
		return c.beatsSameLine(a, b)
	}
	won := 0.0
	for course := range c.courses {
		da, db := c.steps[a*c.courses+course], c.steps[b*c.courses+course]
		below := 0.0
		for step, w := range da {
			won += w * (below + 0.5*db[step])
			below += db[step]
		}
	}
	return won / float64(c.courses)
}

// stepWeights gives the distribution of the row's mean lift share in one
// course.
func (r *row) stepWeights(course int) []float64 {
	d := make([]float64, contestSteps+1)
	for i, w := range r.stake.weight {
		for q := range lengthPoints {
			d[r.stepAt(course, i, q)] += w / lengthPoints
		}
	}
	return d
}

func (c *contest) beatsSameLine(a, b int) float64 {
	won := 0.0
	for course := range c.courses {
		for i, w := range c.rows[a].stake.weight {
			for q := range lengthPoints {
				switch x, y := c.rows[a].stepAt(course, i, q), c.rows[b].stepAt(course, i, q); {
				case x > y:
					won += w / lengthPoints
				case x == y:
					won += 0.5 * w / lengthPoints
				}
			}
		}
	}
	return won / float64(c.courses)
}
