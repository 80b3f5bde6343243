package forecast

import "slices"

// round works out one course of a contest, in work space that serves for
// others after it.
type round struct {
	*contest
	bests []best
	steps [][]int // of each row of a line

	others         []int // lines that can reach a step
	factor, before []float64
}

func (c *contest) newRound() *round { return &round{contest: c, bests: make([]best, len(c.lines))} }

// shares gives each row's chance of being best in one course.
func (r *round) shares(course int) []float64 {
	top := 0
	for k := range r.lines {
		r.look(k, course)
		top = max(top, r.bests[k].top)
	}
	chance, left := make([]float64, len(r.rows)), 1.0
	for step := top; step >= 0 && left > outclassed; step-- {
		left = r.shareStep(step, chance)
	}
	return chance
}

// best is the distribution of one line's best row in one course, by step.
type best struct {
	// ties lists the ways in which plantings of the line can share the best
	// value: for most lines one.
	ties  []tie
	below []float64 // weight strictly below each step from low to top
	// Lowest and highest step with weight.
	low, top int
}

// tie is one number of plantings that share the best value.
type tie struct {
	plantings int
	weight    []float64   // by step
	row       [][]float64 // per row of the line: weight by step with that row among the best
}

// look lays out the distribution of one line's best row in one course, and
// takes its rows' draws into their coarse steps.
func (r *round) look(line, course int) {
	rows, b := r.lines[line], &r.bests[line]
	for len(r.steps) < len(rows) {
		r.steps = append(r.steps, nil)
	}
	b.clear()
	for k, row := range rows {
		if n := len(r.rows[row].weight); n > cap(r.steps[k]) {
			r.steps[k] = make([]int, n)
		}
		r.steps[k] = r.steps[k][:len(r.rows[row].weight)]
		r.rows[row].steps(course, r.steps[k])
	}
	if len(rows) == 1 {
		one := b.tieOf(r.rows[rows[0]].plantings, 1)
		for i, w := range r.rows[rows[0]].weight {
			step := r.steps[0][i]
			b.low, b.top = min(b.low, step), max(b.top, step)
			one.weight[step] += w
		}
		r.tally(rows[0], course, one.weight[b.low:b.top+1], b.low)
	} else {
		r.lookAtSome(b, rows, course)
	}
	sum := 0.0
	for step := b.low; step <= b.top; step++ {
		b.below[step] = sum
		for _, one := range b.ties {
			sum += one.weight[step]
		}
	}
}

// lookAtSome lays out which of several rows of a line is best.
func (r *round) lookAtSome(b *best, rows []int, course int) {
	own := make([]float64, contestSteps+1)
	for k, row := range rows {
		clear(own)
		for i, w := range r.rows[row].weight {
			own[r.steps[k][i]] += w
		}
		r.tally(row, course, own, 0)
	}
	var at []int
	for i, w := range r.rows[rows[0]].weight {
		top, plantings := -1, 0
		for k, row := range rows {
			switch step, own := r.steps[k][i], r.rows[row].plantings; {
			case step > top:
				top, plantings, at = step, own, append(at[:0], k)
			case step == top:
				plantings, at = plantings+own, append(at, k)
			}
		}
		b.low, b.top = min(b.low, top), max(b.top, top)
		one := b.tieOf(plantings, len(rows))
		one.weight[top] += w
		for _, k := range at {
			one.row[k][top] += w
		}
	}
}

// clear makes room for another course.
func (b *best) clear() {
	if b.below == nil {
		b.below = make([]float64, contestSteps+1)
	}
	for _, one := range b.ties {
		clear(one.weight[b.low : b.top+1])
		for _, byStep := range one.row {
			clear(byStep[b.low : b.top+1])
		}
	}
	b.low, b.top = contestSteps, 0
}

// tieOf gives the tie of so many plantings of a line with so many rows.
func (b *best) tieOf(plantings, rows int) *tie {
	for i := range b.ties {
		if b.ties[i].plantings == plantings {
			return &b.ties[i]
		}
	}
	one := tie{plantings, make([]float64, contestSteps+1), make([][]float64, rows)}
	for k := range rows {
		one.row[k] = one.weight
		if rows > 1 {
			one.row[k] = make([]float64, contestSteps+1)
		}
	}
	at, _ := slices.BinarySearchFunc(b.ties, plantings, func(one tie, n int) int { return one.plantings - n }) // in one order on every run
	b.ties = slices.Insert(b.ties, at, one)
	return &b.ties[at]
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

// shareStep adds, for one step, each row's chance of being best in it: n plantings
// that tie get 1/n each, which is the integral of t^(n-1) over 0…1. It gives the
// chance that all lines are below the step.
func (r *round) shareStep(step int, chance []float64) float64 {
	still, under := 1.0, 1.0 // that all lines which cannot reach the step are below it; that the others are
	r.others = r.others[:0]
	equal := 0.0 // how many are in the step rather than below it
	for k := range r.bests {
		b := &r.bests[k]
		switch {
		case step > b.top:
			continue
		case step < b.low:
			return 0
		}
		inStep := 0.0
		for _, one := range b.ties {
			inStep += one.weight[step] * float64(one.plantings)
		}
		if inStep > 0 {
			r.others = append(r.others, k)
			equal += inStep / b.below[step]
			under *= b.below[step]
		} else {
			still *= b.below[step]
		}
	}
	if still == 0 || len(r.others) == 0 {
		return still
	}
	over := r.nodesFor(equal)
	for i, t := range over.t {
		r.factor, r.before = r.factor[:0], r.before[:0]
		before := over.weight[i] * still
		for _, k := range r.others {
			f := r.bests[k].at(step, t)
			r.factor, r.before = append(r.factor, f), append(r.before, before)
			before *= f
		}
		after := 1.0
		for j := len(r.others) - 1; j >= 0; j-- {
			k, rest := r.others[j], r.before[j]*after
			after *= r.factor[j]
			for _, one := range r.bests[k].ties {
				if one.weight[step] == 0 {
					continue
				}
				gain := rest * power(t, one.plantings-1)
				for row, byStep := range one.row {
					chance[r.lines[k][row]] += gain * byStep[step]
				}
			}
		}
	}
	return still * under
}

func power(x float64, n int) float64 {
	p := 1.0
	for range n {
		p *= x
	}
	return p
}
