package forecast

// box is a part of the grid: steps from the first to before the last of each
// trait.
type box struct{ from, to [traits]int }

func wholeGrid() box { return box{to: [traits]int{gridSizes, gridHards, gridLengths}} }

// boxOf gives the smallest box that holds some cells.
func boxOf(cells []int32) box {
	b := box{from: [traits]int{gridSizes, gridHards, gridLengths}}
	for _, c := range cells {
		node := int(c) / gridLengths
		for t, at := range [traits]int{sizeTrait: node / gridHards, hardTrait: node % gridHards, lengthTrait: int(c) % gridLengths} {
			b.from[t], b.to[t] = min(b.from[t], at), max(b.to[t], at+1)
		}
	}
	return b
}

// around gives what stands about some cells: what a season more or less may
// add to them.
func around(cells []int32) box { return boxOf(cells).wider(3, wholeGrid()) }

// wider adds steps on every side, within another box.
func (b box) wider(steps int, in box) box {
	for t := range traits {
		b.from[t], b.to[t] = max(b.from[t]-steps, in.from[t]), min(b.to[t]+steps, in.to[t])
	}
	return b
}

// touches says whether a box reaches the edge of a wider one anywhere but at the
// grid's own.
func (b box) touches(wider box) bool {
	whole := wholeGrid()
	for t := range traits {
		if b.from[t] <= wider.from[t] && wider.from[t] > whole.from[t] || b.to[t] >= wider.to[t] && wider.to[t] < whole.to[t] {
			return true
		}
	}
	return false
}

// rows calls do for each run of cells in the box, by their first and the one
// after their last.
func (b box) rows(do func(from, to int)) {
	for s := b.from[sizeTrait]; s < b.to[sizeTrait]; s++ {
		for h := b.from[hardTrait]; h < b.to[hardTrait]; h++ {
			node := (s*gridHards + h) * gridLengths
			do(node+b.from[lengthTrait], node+b.to[lengthTrait])
		}
	}
}

// nodes calls do for each grid node of the box.
func (b box) nodes(do func(node int)) {
	for s := b.from[sizeTrait]; s < b.to[sizeTrait]; s++ {
		for h := b.from[hardTrait]; h < b.to[hardTrait]; h++ {
			do(s*gridHards + h)
		}
	}
}

// cells gives all cells in the box, in order.
func (b box) cells() []int32 {
	count := 1
	for t := range traits {
		count *= max(0, b.to[t]-b.from[t])
	}
	cells := make([]int32, 0, count)
	b.rows(func(from, to int) {
		for c := from; c < to; c++ {
			cells = append(cells, int32(c))
		}
	})
	return cells
}
