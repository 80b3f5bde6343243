package forecast

// patch is a part of the nodes: steps of size and of hardiness from the first to
// before the last.
type patch struct{ sizes, hards [2]int }

func wholeGrid() patch { return patch{[2]int{0, gridSizes}, [2]int{0, gridHards}} }

// noPatch holds no node.
func noPatch() patch { return patch{[2]int{gridSizes, 0}, [2]int{gridHards, 0}} }

// take makes the patch hold a node as well.
func (p *patch) take(node int) {
	size, hard := node/gridHards, node%gridHards
	p.sizes = [2]int{min(p.sizes[0], size), max(p.sizes[1], size+1)}
	p.hards = [2]int{min(p.hards[0], hard), max(p.hards[1], hard+1)}
}

// patchOf gives the smallest patch that holds some cells.
func patchOf(cells []int32) patch {
	p := noPatch()
	for _, c := range cells {
		p.take(int(c) / gridLengths)
	}
	return p
}

// wider adds steps of size and of hardiness on either side, within another patch.
func (p patch) wider(sizes, hards int, in patch) patch {
	return patch{
		[2]int{max(p.sizes[0]-sizes, in.sizes[0]), min(p.sizes[1]+sizes, in.sizes[1])},
		[2]int{max(p.hards[0]-hards, in.hards[0]), min(p.hards[1]+hards, in.hards[1])},
	}
}

// holds says whether a patch holds all of another.
func (p patch) holds(q patch) bool {
	return p.sizes[0] <= q.sizes[0] && p.sizes[1] >= q.sizes[1] && p.hards[0] <= q.hards[0] && p.hards[1] >= q.hards[1]
}

// around gives what stands about a patch: what a season more or less may add to it.
func (p patch) around() patch { return p.wider(3, 3, wholeGrid()) }

// fills says whether a patch reaches the edge of one that holds it anywhere but at the
// grid's own: more may lie beyond.
func (p patch) fills(wider patch) bool {
	return p.sizes[0] == wider.sizes[0] && wider.sizes[0] > 0 || p.sizes[1] == wider.sizes[1] && wider.sizes[1] < gridSizes ||
		p.hards[0] == wider.hards[0] && wider.hards[0] > 0 || p.hards[1] == wider.hards[1] && wider.hards[1] < gridHards
}

// nodes calls do for each node of the patch.
func (p patch) nodes(do func(node int)) {
	for s := p.sizes[0]; s < p.sizes[1]; s++ {
		for h := p.hards[0]; h < p.hards[1]; h++ {
			do(s*gridHards + h)
		}
	}
}
