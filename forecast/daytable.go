package forecast

import (
	"context"
	"math"
)

// dayTable adds up one day of one crop over all courses of weather, by grid node
// and top length. A row is then a weighting of it, so that what a line costs
// does not grow with the winters.
type dayTable struct {
	book    *dayBook
	grounds []ground // of the crop's rows
	courses int

	// Means over the courses. Per node and step of ln length: the part of the step
	// that lifts the wanted share; the same where the row is shaded as well and no
	// root of the ground has frozen.
	lift []float32
	all  [][]float32
	// Per node, as the field has them: leaf enough for the wanted share; shaded. Per
	// node and length: lift share.
	leaf, shaded []float64
	share        []float32
	clear        []float64 // per ground

	// window sums the lift share over the days of the window, per course, node and
	// length.
	window []float32
	days   int
	// today holds the lift share on the day, laid out like window; nil where no
	// order is wanted.
	today []float32
}

// newDayTable prepares for the rows of a book, ordering says whether they are to be
// put in an order.
func newDayTable(b *dayBook, grounds []ground, courses int, ordering bool) *dayTable {
	nodes := b.nodes
	t := &dayTable{
		book: b, grounds: grounds, courses: courses,
		lift: make([]float32, nodes*gridLengths), share: make([]float32, nodes*shareLengths),
		leaf: make([]float64, nodes), shaded: make([]float64, nodes), clear: make([]float64, len(grounds)),
		window: make([]float32, courses*nodes*shareLengths),
	}
	for range grounds {
		t.all = append(t.all, make([]float32, nodes*gridLengths))
	}
	if ordering {
		t.today = make([]float32, len(t.window))
	}
	return t
}

// add takes the book's day, a node after the other, courses in order. The
// error is ctx's.
func (t *dayTable) add(ctx context.Context, goal Goal) error {
	f := t.book.f
	inWindow := f.date >= goal.From
	if inWindow {
		t.days++
	}
	for g, ground := range t.grounds {
		t.clear[g] = 0
		for course := range t.courses {
			if ground.clear[course][f.date-ground.asOf] {
				t.clear[g] += 1 / float64(t.courses)
			}
		}
	}
	nodes := t.book.nodes
	return inParallel(ctx, (nodes+nodeBlock-1)/nodeBlock, func(block int) error {
		for node := block * nodeBlock; node < min((block+1)*nodeBlock, nodes); node++ {
			t.addNode(node, inWindow)
		}
		return nil
	})
}

// nodeBlock is how many nodes are added up in one go.
const nodeBlock = 32

// withinStep are the sizes that a node stands for, in steps about its own: leaf
// mass rises about as size does, and where it is just enough for belts or shade
// a node as a whole would be too much or nothing.
var withinStep = [...]float64{-0.375, -0.125, 0.125, 0.375}

// addNode adds the courses up at one node. Steps of length shorter than the
// least that lifts the wanted share count nothing, the step that holds it in
// part, all longer ones in full.
func (t *dayTable) addNode(node int, inWindow bool) {
	b, f := t.book, t.book.f
	grid := b.grid
	step := grid.lengthStep()
	edgeLn, sizeStep := grid.LengthLn[0]-step/2, grid.sizeStep()
	at := int(f.date - t.grounds[0].asOf)
	lift, share := t.lift[node*gridLengths:][:gridLengths], (*[shareLengths]float32)(t.share[node*shareLengths:])
	clear(lift)
	clear(share[:])
	for _, all := range t.all {
		clear(all[node*gridLengths:][:gridLengths])
	}
	leaf, shaded := 0, 0
	var own [shareLengths]float32
	one := &own
	for course := range t.courses {
		// On an observed day every course is the same.
		cell := min(course, f.courses-1)*f.nodes + node
		for _, within := range withinStep {
			massLn := b.massLn[cell] + within*sizeStep
			least := b.wanted.LeastLnHeight(massLn)
			if !math.IsInf(least, 1) {
				leaf++
			}
			isShaded := massLn >= b.shadeLn
			if isShaded {
				shaded++
			}
			short := (least - b.heightLn[cell] - edgeLn) / step // steps that are too short
			if !(short < gridLengths) {
				continue
			}
			addLonger(lift, short)
			for g := range t.all {
				if isShaded && t.grounds[g].clear[course][at] {
					addLonger(t.all[g][node*gridLengths:][:gridLengths], short)
				}
			}
		}
		if t.today != nil {
			one = t.of(t.today, course, node)
		}
		b.shares.Along(one[:], b.massCell[cell], b.heightLn[cell]+grid.LengthLn[0], 2*step)
		if !inWindow {
			for k, x := range one {
				share[k] += x
			}
			continue
		}
		window := t.of(t.window, course, node)
		for k, x := range one {
			share[k] += x
			window[k] += x
		}
	}
	counted := float64(t.courses * len(withinStep))
	t.leaf[node], t.shaded[node] = float64(leaf)/counted, float64(shaded)/counted
	cumulate(lift, counted)
	for _, all := range t.all {
		cumulate(all[node*gridLengths:][:gridLengths], counted)
	}
	for k := range share {
		share[k] /= float32(t.courses)
	}
}

// addLonger counts the steps beyond a number of short ones as differences from
// step to step.
func addLonger(steps []float32, short float64) {
	if short <= 0 {
		steps[0]++
		return
	}
	k := int(short)
	part := float32(short - float64(k))
	steps[k] += 1 - part
	if k+1 < len(steps) {
		steps[k+1] += part
	}
}

// cumulate turns differences into values, means over so many counts.
func cumulate(steps []float32, counted float64) {
	sum := 0.0
	for k, x := range steps {
		sum += float64(x)
		steps[k] = float32(sum / counted)
	}
}

// of gives what sums, laid out like window, hold at one node, by length.
func (t *dayTable) of(sums []float32, course, node int) *[shareLengths]float32 {
	return (*[shareLengths]float32)(sums[(course*t.book.nodes+node)*shareLengths:])
}
