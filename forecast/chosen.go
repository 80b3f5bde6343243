package forecast

import "math"

// chosen is a set of notes of one row along one course, by date, as a triangular
// factor: notes that come in time for a stake are the first ones.
type chosen struct {
	notes  []addend
	dates  []int
	factor [][]float64 // lower triangle
	solved [][]float64 // by stake, the whole last: factor⁻¹ × leans
	cut    []float64   // by stake: variance taken away by the notes in time
}

// choose lays out a set of notes, sorted by date, along one course.
func (p *prospect) choose(c *prospectCourse, notes []noteAt) chosen {
	n, most := len(p.stakes)+1, len(notes)
	k := chosen{
		notes: make([]addend, 0, most), dates: make([]int, 0, most), factor: make([][]float64, 0, most),
		solved: make([][]float64, n), cut: make([]float64, n),
	}
	for s := range k.solved {
		k.solved[s] = make([]float64, 0, most)
	}
	for _, note := range notes {
		one, ok := p.addend(note, c)
		if !ok {
			continue
		}
		row, rest := k.row(p, c, &one)
		row = append(row, math.Sqrt(rest))
		for s := range n {
			x := p.lean(c, &one, s)
			for i, y := range k.solved[s] {
				x -= row[i] * y
			}
			k.solved[s] = append(k.solved[s], x/row[len(row)-1])
			if p.inTime(s, note.date) {
				k.cut[s] += square(k.solved[s][len(row)-1])
			}
		}
		k.notes, k.dates, k.factor = append(k.notes, one), append(k.dates, note.date), append(k.factor, row)
	}
	return k
}

// row gives the next row of the factor, without its last, and what the notes
// before leave of the variance.
func (k *chosen) row(p *prospect, c *prospectCourse, one *addend) (row []float64, rest float64) {
	row, rest = make([]float64, 0, len(k.notes)+1), p.covariance(c, one, one, true)
	for i := range k.notes {
		x := p.covariance(c, one, &k.notes[i], false)
		for j, y := range row {
			x -= k.factor[i][j] * y
		}
		row = append(row, x/k.factor[i][i])
		rest -= square(row[i])
	}
	return row, max(rest, 1e-12)
}

// inTime says whether a note of a date comes in time for a stake.
func (p *prospect) inTime(stake, date int) bool {
	return stake == len(p.stakes) || date <= p.stakes[stake].last
}

// with gives the variance taken away of each stake, the whole last, with one
// note more.
func (k *chosen) with(p *prospect, c *prospectCourse, note noteAt, cut []float64) []float64 {
	cut = append(cut[:0], k.cut...)
	one, ok := p.addend(note, c)
	if !ok {
		return cut
	}
	row, _ := k.row(p, c, &one)
	whole := p.covariance(c, &one, &one, true)
	for s := range cut {
		if !p.inTime(s, note.date) {
			continue
		}
		x, rest := p.lean(c, &one, s), whole
		for i, y := range row {
			if p.inTime(s, k.dates[i]) {
				x -= y * k.solved[s][i]
				rest -= square(y)
			}
		}
		cut[s] += square(x) / max(rest, 1e-12)
	}
	return cut
}
