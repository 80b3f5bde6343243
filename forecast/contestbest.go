package forecast

import "slices"

// round works out one course of a contest, in work space that serves for
// others after it.
type round struct {
	*contest
	bests []best
	steps [][]int16 // of each row's draws
	over  []float64 // of each row: weight from a step on

	others         []int // lines that can reach a step
	factor, before []float64
}

func (c *contest) newRound() *round {
	r := &round{contest: c, bests: make([]best, len(c.lines)), steps: make([][]int16, len(c.rows)), over: make([]float64, len(c.rows))}
	for i, row := range c.rows {
		r.steps[i] = make([]int16, len(row.weight))
	}
	return r
}

// shares gives each row's chance of being best in one course.
func (r *round) shares(course int) []float64 {
	r.take(course)
	cut, top := r.cut(course), 0
	for k := range r.lines {
		r.look(k, cut)
		top = max(top, r.bests[k].top)
	}
	chance, left := make([]float64, len(r.rows)), 1.0
	for step := top; step >= cut && left > outclassed; step-- {
		left = r.shareStep(step, chance)
	}
	return chance
}

// take works out the steps of all draws in one course, and takes them into the
// coarse steps of their rows.
func (r *round) take(course int) {
	for i, row := range r.rows {
		own, weight := r.steps[i], r.weight[i][course*coarseSum:][:coarseSum]
		row.steps(course, own)
		var half [2][coarseSum]float32 // by turns, for neighbours often fall on one step
		for k, w := range row.weight {
			half[k%2][coarse(own[k])] += float32(w)
		}
		for step := range weight {
			weight[step] = half[0][step] + half[1][step]
		}
	}
}

// cut gives a step that the best of all lines falls short of with less than
// outclassed in one course: none below it needs a look. A line falls short of a
// step no oftener than each of its rows.
func (r *round) cut(course int) int {
	clear(r.over)
	for step := coarseSum - 1; step > 0; step-- {
		left := 1.0
		for _, rows := range r.lines {
			most := 0.0
			for _, row := range rows {
				r.over[row] += float64(r.weight[row][course*coarseSum+step])
				most = max(most, r.over[row])
			}
			left *= max(0, 1-most)
		}
		if left < outclassed {
			return edge(step)
		}
	}
	return 0
}

// best is the distribution of one line's best row in one course, by step.
type best struct {
	// ties lists the ways in which plantings of the line can share the best
	// value: for most lines one.
	ties  []tie
	below []float64 // weight strictly below each step from low to top
	// Lowest and highest step with weight, of those looked at; top is -1 where there
	// is none.
	low, top int
}

// tie is one number of plantings that share the best value.
type tie struct {
	plantings int
	weight    []float64   // by step
	row       [][]float64 // per row of the line: weight by step with that row among the best
}

// look lays out the distribution of one line's best row from a step on.
func (r *round) look(line, from int) {
	rows, b := r.lines[line], &r.bests[line]
	b.clear()
	under := 0.0 // the weight of draws below from
	if len(rows) == 1 {
		row, steps := r.rows[rows[0]], r.steps[rows[0]]
		for i, w := range row.weight {
			if step := int(steps[i]); step >= from {
				b.add(b.tieOf(row.plantings, 1), step, w)
			} else {
				under += w
			}
		}
	} else {
		under = r.lookAtSome(b, rows, from)
	}
	if b.top < 0 {
		return
	}
	if b.below == nil {
		b.below = make([]float64, contestSteps+1)
	}
	if under > 0 {
		b.low = from
	}
	for step := b.low; step <= b.top; step++ {
		b.below[step] = under
		for _, one := range b.ties {
			under += one.weight[step]
		}
	}
}

// lookAtSome lays out which of several rows of a line is best, and gives the
// weight of draws in which none reaches a step.
func (r *round) lookAtSome(b *best, rows []int, from int) (under float64) {
	var at []int
	for i, w := range r.rows[rows[0]].weight {
		top, plantings := -1, 0
		for k, row := range rows {
			switch step, own := int(r.steps[row][i]), r.rows[row].plantings; {
			case step > top:
				top, plantings, at = step, own, append(at[:0], k)
			case step == top:
				plantings, at = plantings+own, append(at, k)
			}
		}
		if top < from {
			under += w
			continue
		}
		one := b.tieOf(plantings, len(rows))
		b.add(one, top, w)
		for _, k := range at {
			one.row[k][top] += w
		}
	}
	return under
}

// add counts a draw of so much weight at a step.
func (b *best) add(one *tie, step int, w float64) {
	b.low, b.top = min(b.low, step), max(b.top, step)
	one.weight[step] += w
}

// clear makes room for another course.
func (b *best) clear() {
	if b.low <= b.top {
		for _, one := range b.ties {
			clear(one.weight[b.low : b.top+1])
			for _, byStep := range one.row {
				clear(byStep[b.low : b.top+1])
			}
		}
	}
	b.low, b.top = contestSteps, -1
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
