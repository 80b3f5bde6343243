package forecast

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

// bestOf gives the distribution of one line's best row in one course, and
// takes its rows' draws into their coarse steps.
func (c *contest) bestOf(line, course int) best {
	rows := c.lines[line]
	steps := make([][]int, len(rows))
	for k, row := range rows {
		steps[k] = make([]int, len(c.rows[row].weight))
		c.rows[row].steps(course, steps[k])
		c.tally(row, course, steps[k])
	}
	b := best{below: make([]float64, contestSteps+1)}
	tieOf := func(plantings int) *tie {
		for i := range b.ties {
			if b.ties[i].plantings == plantings {
				return &b.ties[i]
			}
		}
		one := tie{plantings, make([]float64, contestSteps+1), make([][]float64, len(rows))}
		for k := range rows {
			one.row[k] = one.weight
			if len(rows) > 1 {
				one.row[k] = make([]float64, contestSteps+1)
			}
		}
		b.ties = append(b.ties, one)
		return &b.ties[len(b.ties)-1]
	}
	at := make([]int, 0, len(rows))
	for i, w := range c.rows[rows[0]].weight {
		top, plantings := -1, 0
		for k, row := range rows {
			switch step, own := steps[k][i], c.rows[row].plantings; {
			case step > top:
				top, plantings, at = step, own, append(at[:0], k)
			case step == top:
				plantings, at = plantings+own, append(at, k)
			}
		}
		one := tieOf(plantings)
		one.weight[top] += w
		if len(rows) > 1 {
			for _, k := range at {
				one.row[k][top] += w
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
