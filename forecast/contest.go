package forecast

import "gonum.org/v1/gonum/integrate/quad"

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

// best is the distribution of one line's best row in one course, by step.
type best struct {
	// ties lists the ways in which plantings of the line can share the best
	// value: for most lines one.
	ties  []tie
	below []float64 // weight strictly below each step
}

// tie is one number of plantings that share the best value.
type tie struct {
	plantings int
	weight    []float64   // by step
	row       [][]float64 // per row of the line: weight by step with that row among the best
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
	bests := make([]best, len(c.lines))
	for course := range c.courses {
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
	b := best{below: make([]float64, contestSteps+1)}
	tieOf := func(plantings int) *tie {
		for i := range b.ties {
			if b.ties[i].plantings == plantings {
				return &b.ties[i]
			}
		}
		one := tie{plantings, make([]float64, contestSteps+1), make([][]float64, len(rows))}
		for k := range rows {
			one.row[k] = make([]float64, contestSteps+1)
		}
		b.ties = append(b.ties, one)
		return &b.ties[len(b.ties)-1]
	}
	// Rows of one line share the stake: one line × winter deviation per place.
	stake := &c.rows[rows[0]].stake
	at := make([]int, 0, len(rows))
	for i, w := range stake.weight {
		for q := range lengthPoints {
			top, plantings := -1, 0
			for k, r := range rows {
				switch step := c.rows[r].stepAt(course, i, q); {
				case step > top:
					top, plantings, at = step, len(c.rows[r].plantings), append(at[:0], k)
				case step == top:
					plantings, at = plantings+len(c.rows[r].plantings), append(at, k)
				}
			}
			one := tieOf(plantings)
			one.weight[top] += w / lengthPoints
			for _, k := range at {
				one.row[k][top] += w / lengthPoints
			}
		}
	}
	sum := 0.0
	for step := range b.below {
		b.below[step] = sum
		for _, one := range b.ties {
			sum += one.weight[step]
		}
	}
	return b
}

// at gives the line's factor in the chance that no line is above a step when
// each that reaches it counts t to the number of its plantings.
func (b *best) at(step int, t float64) float64 {
	f := b.below[step]
	for _, one := range b.ties {
		f += one.weight[step] * power(t, one.plantings)
	}
	return f
}

func power(x float64, n int) float64 {
	p := 1.0
	for range n {
		p *= x
	}
	return p
}

// share adds, for one step, each row's chance of being best in it: n plantings
// that tie get 1/n each, which is the integral of t^(n-1) over 0…1.
func (c *contest) share(bests []best, step int, t, weight, chance []float64) {
	still, others := 1.0, make([]int, 0, len(bests)) // lines that cannot reach the step, and those that can
	for k := range bests {
		reaches := false
		for _, one := range bests[k].ties {
			reaches = reaches || one.weight[step] > 0
		}
		if reaches {
			others = append(others, k)
		} else {
			still *= bests[k].below[step]
		}
	}
	if still == 0 || len(others) == 0 {
		return
	}
	factor := make([]float64, len(others))
	for i := range t {
		for j, k := range others {
			factor[j] = bests[k].at(step, t[i])
		}
		for j, k := range others {
			rest := weight[i] * still
			for m, f := range factor {
				if m != j {
					rest *= f
				}
			}
			for _, one := range bests[k].ties {
				if one.weight[step] == 0 {
					continue
				}
				gain := rest * power(t[i], one.plantings-1)
				for r, byStep := range one.row {
					chance[c.lines[k][r]] += gain * byStep[step]
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
