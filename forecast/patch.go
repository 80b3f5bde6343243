package forecast

// patch is a part of the nodes: steps of size and of hardiness from the first to
// before the last.
type patch struct{ sizes, hards [2]int }

func wholeGrid() patch { return patch{[2]int{0, gridSizes}, [2]int{0, gridHards}} }

// patchOf gives the smallest patch that holds some cells, and so many steps of
// hardiness more on either side.
func patchOf(cells []int32, more int) patch {
	p := patch{[2]int{gridSizes, 0}, [2]int{gridHards, 0}}
	for _, c := range cells {
		node := int(c) / gridLengths
		size, hard := node/gridHards, node%gridHards
		p.sizes = [2]int{min(p.sizes[0], size), max(p.sizes[1], size+1)}
		p.hards = [2]int{min(p.hards[0], hard-more), max(p.hards[1], hard+1+more)}
	}
	p.hards = [2]int{max(p.hards[0], 0), min(p.hards[1], gridHards)}
	return p
}

// nodes calls do for each node of the patch.
func (p patch) nodes(do func(node int)) {
	for s := p.sizes[0]; s < p.sizes[1]; s++ {
		for h := p.hards[0]; h < p.hards[1]; h++ {
			do(s*gridHards + h)
		}
	}
}
