package forecast

import (
	"math"
	"slices"

	"wintertop/canopy"
	"wintertop/weather"
)

// reading is one note on the scale on which it is compared with the model.
type reading struct {
	note     Note
	group    group
	plot     int // index of the planting within its line, winter and place
	seen     float64
	variance float64 // of the plants' mean, or of the eye, on that scale
	// share is how much of a deviation of plot or trial shows on that scale: of
	// hardly any leaf mass twice as much is still hardly any.
	share         float64
	logged, ofLog float64 // of onLog: the logarithm, and the variance of that of the plants' mean
	// expected holds what the model says on that scale: by node for mass,
	// leaves and weeds, by node at the three lengths of a parabola, straight along
	// them, for heights, by cell for lifting.
	expected []float64
}

// group gathers the traits that share the deviation of a plot. A note of ground
// cover joins leaf mass: on the scale ln(-ln(1 - cover)) the light index of
// the model, 1 - exp(-k·LAI), is ln mass and a constant, so that plot and trial
// move both alike.
type group int

const (
	massGroup group = iota
	heightGroup
	leavesGroup
	weedsGroup
	liftGroup
	groups
)

// doubts gives the variances of the deviations that a group's readings share:
// of the plot, and of the trial as far as it is not estimated from all lines.
func (g group) doubts(p Params) (plot, trial float64) {
	switch g {
	case massGroup:
		return square(p.PlotMassSDLn), 0
	case heightGroup:
		return square(p.PlotHeightSDLn), 0
	case leavesGroup:
		return square(p.PlotLeavesSDLn), square(p.TrialLeavesSDLn)
	case weedsGroup:
		return square(p.PlotWeedSDLogit), square(p.TrialWeedSDLogit)
	}
	return square(p.PlotLiftSDLogit), square(p.TrialLiftSDLogit)
}

// learnable says whether a note of this trait teaches anything of a line's
// traits: frosted roots come of weather, soil and hilling.
func (t Trait) learnable() bool { return t != FrostedRoots }

// readingOf puts a note on its scale, without what the model says of it.
func readingOf(n Note, plot int, p Params, stand canopy.Params) reading {
	r := reading{note: n, plot: plot, share: 1}
	switch n.Trait {
	case LeafMass, LeafDryMass:
		dry := n.Value
		if n.Trait == LeafMass {
			dry *= stand.DryShare
		}
		r.group = massGroup
		r.onLog(dry, p.MassOffsetG, square(stand.MassLnSD)/float64(n.Plants))
	case GroundCover:
		r.group, r.variance = massGroup, square(p.CoverSDLn)
		r.seen = lnLeafArea(n.Value, p.CoverLeast)
	case TopHeight, TopLength:
		r.group = heightGroup
		r.onLog(n.Value, p.HeightOffsetCM, square(stand.HeightLnSD)/float64(n.Plants))
	case LiveLeaves:
		// A leaf more or less is in doubt whatever the plants: in the model a leaf
		// falls on all of them at once.
		r.group, r.variance = leavesGroup, square(p.PlantLeavesSDLn)/float64(n.Plants)+square(p.LeafDoubt/(n.Value+p.LeavesOffset))
		r.seen = math.Log(n.Value + p.LeavesOffset)
	case WeedCover:
		r.group, r.variance = weedsGroup, square(p.WeedSDLogit)
		r.seen = logit(n.Value, p.WeedLeast)
	case LiftedShare:
		// On the empirical logit for comparing with other notes; learned from as
		// the count that it is.
		tried := float64(n.Plants)
		lifted := n.Value * tried
		r.group, r.variance = liftGroup, 1/(lifted+0.5)+1/(tried-lifted+0.5)
		r.seen = empiricalLogit(n.Value, tried)
	default:
		panic("forecast: nothing is learned from " + string(n.Trait))
	}
	return r
}

// onLog puts a value on the scale ln(value + offset). variance is that of the
// logarithm of the plants' mean.
func (r *reading) onLog(value, offset, variance float64) {
	r.logged, r.ofLog = math.Log(value+offset), variance
	r.shows(value / (value + offset))
}

// shareAt gives how much of a deviation shows where ln(value + offset) is at
// middle.
func (r *reading) shareAt(middle float64, p Params) float64 {
	offset := p.MassOffsetG
	if r.group == heightGroup {
		offset = p.HeightOffsetCM
	}
	return max(0, 1-offset/math.Exp(middle))
}

// asNoted gives readings as they were before the model said what to expect.
func asNoted(readings []reading, p Params) []reading {
	noted := slices.Clone(readings)
	for i := range noted {
		noted[i].shows(noted[i].shareAt(noted[i].logged, p))
	}
	return noted
}

// shows settles how much of a deviation shows on the scale of the reading. The
// mean of n lognormal plants: its logarithm lies half its variance below the
// logarithm of the planting's mean. A value is read to half the offset.
func (r *reading) shows(share float64) {
	if r.ofLog == 0 {
		return
	}
	r.share = share
	r.variance = r.ofLog*square(share) + square((1-share)/2)
	r.seen = r.logged + 0.5*r.ofLog*share
}

// lnLeafArea gives ln(-ln(1 - cover)), ln of the leaf area times extinction
// that covers so much ground; covers are kept least away from 0 and 1.
func lnLeafArea(cover, least float64) float64 {
	return math.Log(-math.Log1p(-min(max(cover, least), 1-least)))
}

func logit(share, least float64) float64 {
	share = min(max(share, least), 1-least)
	return math.Log(share / (1 - share))
}

// empiricalLogit puts a share of the plants tried on the logit scale, 0 and all
// of them included; shareOf leads back.
func empiricalLogit(share, tried float64) float64 {
	return ln((share*tried + 0.5) / ((1-share)*tried + 0.5))
}

func shareOf(logit, tried float64) float64 {
	odds := math.Exp(logit)
	return min(max((odds*(tried+0.5)-0.5)/(tried*(1+odds)), 0), 1)
}

// watch names what is wanted of one crop: the model's answer for a trait on a
// day.
type watch struct {
	date  weather.Date
	trait Trait
}

// like gives the watch whose answer serves for w as well.
func (w watch) like() watch {
	switch w.trait {
	case LeafDryMass:
		w.trait = LeafMass
	case TopLength:
		return watch{trait: TopLength} // whatever the day
	}
	return w
}

// predict runs one crop through its observed weather and gives the model's
// answers to the watches whose days it could follow.
func (g *Grid) predict(c crop, wanted []watch, p Params) map[watch][]float64 {
	answers := map[watch][]float64{}
	last := wanted[0].date
	for _, w := range wanted {
		last = max(last, w.date)
	}
	w := c.place.observed(c.sown, last)
	if w == nil {
		return answers
	}
	whole, run := g.whole(), make([]float64, len(g.draws))
	c.sow(g.draws).Grow(w, 0, len(w.Days)-1, func(day int, s *canopy.Stand) {
		for _, want := range wanted {
			if want.date != w.First+weather.Date(day) || answers[want.like()] != nil {
				continue
			}
			answers[want.like()] = whole.expectation(want.trait, s, run, c, p)
		}
	})
	return answers
}

// expectation gives the model's answer for one trait on the scale of its notes;
// for lifted shares the share itself. run is work space.
func (d drawn) expectation(t Trait, s *canopy.Stand, run []float64, c crop, p Params) []float64 {
	nodes := make([]float64, gridNodes)
	each := func(do func(float64) float64) []float64 {
		for i, x := range nodes {
			nodes[i] = do(x)
		}
		return nodes
	}
	mass := func() { d.refineLog(nodes, s.LeafG(run), p.MassOffsetG) }
	switch t {
	case LeafMass, LeafDryMass:
		mass()
		return each(func(leafG float64) float64 { return ln(leafG + p.MassOffsetG) })
	case GroundCover:
		mass()
		stand := c.place.Site.Canopy
		perG := stand.ExtinctionPerG(c.plantsPerM2)
		return each(func(leafG float64) float64 { return lnLeafArea(-math.Expm1(-perG*leafG), p.CoverLeast) })
	case LiveLeaves:
		d.refine(nodes, s.LiveLeaves(run))
		return each(func(leaves float64) float64 { return ln(leaves + p.LeavesOffset) })
	case WeedCover:
		d.refine(nodes, s.WeedCover(run))
		return each(func(cover float64) float64 { return logit(cover, p.WeedLeast) })
	}
	fill(nodes, 1)
	if t != TopLength {
		d.refine(nodes, s.RelativeHeight(run))
	}
	if t != LiftedShare {
		return d.grid.heightsLn(nodes, p.HeightOffsetCM)
	}
	height := slices.Clone(nodes)
	mass()
	cells, shares := newWeights(), c.place.liftShares()
	for node, leafG := range nodes {
		cell := cells[node*gridLengths:][:gridLengths]
		for k, lengthLn := range d.grid.LengthLn {
			cell[k] = shares.Share(leafG, height[node]*math.Exp(lengthLn))
		}
	}
	return cells
}

// heightsLn gives ln(cm + offset) of relative heights by node at the three lengths
// of a parabola, straight along them.
func (g *Grid) heightsLn(relative []float64, offsetCM float64) []float64 {
	three := make([]float64, 0, 3*gridNodes)
	for _, height := range relative {
		for _, k := range threeLengths {
			three = append(three, math.Log(height*math.Exp(g.LengthLn[k])+offsetCM))
		}
	}
	straight(three)
	return three
}

func fill(x []float64, value float64) {
	for i := range x {
		x[i] = value
	}
}

// together gives the readings of one group, behind those of own.
func together(own, readings []reading, g group) []reading {
	for _, r := range readings {
		if r.group == g {
			own = append(own, r)
		}
	}
	return own
}

// distinct gives the different expectations of some readings, and for each
// reading which of them is its own.
func distinct(readings []reading) (arrays [][]float64, of []int) {
	for _, r := range readings {
		at := slices.IndexFunc(arrays, func(a []float64) bool { return &a[0] == &r.expected[0] })
		if at < 0 {
			at = len(arrays)
			arrays = append(arrays, r.expected)
		}
		of = append(of, at)
	}
	return arrays, of
}
