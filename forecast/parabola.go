package forecast

import "math"

// parabola is how the logarithm of a likelihood runs along ln top length at one
// node of the grid: level + slope·u − ½·bend·u², u the ln length less the
// grid's middle.
//
// On the scale of its notes a height is nearly ln relative height + ln length,
// so that notes of height make very nearly a parabola; those of lifted shares
// are matched by one where the line's lengths lie. That is why all that is learned
// of length needs three numbers a node.
type parabola struct{ level, slope, bend float64 }

// apartLengths is how many steps the lengths through which a parabola is laid
// stand apart, about the grid's middle: 1.75 SD of the population.
const apartLengths = 7

// threeLengths are those lengths.
var threeLengths = [3]int{gridLengths/2 - apartLengths, gridLengths / 2, gridLengths/2 + apartLengths}

// threeApart is how far they stand apart in ln length.
func (g *Grid) threeApart() float64 { return g.aside[threeLengths[2]] }

// straight lays the values at the three lengths on a line, of the slope from the
// first to the last: a form of their squares is a parabola then.
func straight(three []float64) {
	for i := 0; i < len(three); i += 3 {
		half := (three[i+2] - three[i]) / 2
		three[i], three[i+2] = three[i+1]-half, three[i+1]+half
	}
}

// through gives the parabola through three values that stand so far apart in ln
// length; where they curve up, a straight line of the slope between the outer two.
func through(three []float64, apart float64) parabola {
	low, middle, high := three[0], three[1], three[2]
	return parabola{middle, (high - low) / (2 * apart), max(0, (2*middle-low-high)/square(apart))}
}

// matched gives the parabola that stands for a log likelihood along length, one
// value per length of the grid: put to the other notes' and to a normal density of
// lengths, it gives the same integral, mean and variance. So one that falls on one
// side only, as that of counts does, is taken as it is where the lengths lie.
func (g *Grid) matched(log []float64, others parabola, about lengthNormal) parabola {
	var before, after [gridLengths]float64
	most, mostAfter := math.Inf(-1), math.Inf(-1)
	for k, u := range g.aside {
		before[k] = others.at(u) - 0.5*square(u-about.mean)/about.variance
		after[k] = before[k] + log[k]
		most, mostAfter = max(most, before[k]), max(mostAfter, after[k])
	}
	moment := func(log *[gridLengths]float64, most float64) (total, mean, variance float64) {
		for k, u := range g.aside {
			w := math.Exp(log[k] - most)
			total, mean, variance = total+w, mean+w*u, variance+w*u*u
		}
		mean /= total
		return total, mean, variance/total - mean*mean
	}
	total, m, v := moment(&before, most)
	totalAfter, mAfter, vAfter := moment(&after, mostAfter)
	level := mostAfter - most + math.Log(totalAfter/total)
	least := square(g.lengthStep() / 2) // of one length alone, as at the grid's edge
	if v < least {
		return parabola{level: level}
	}
	vAfter = min(max(vAfter, least), v)
	return parabola{level - 0.5*(mAfter*mAfter/vAfter-m*m/v+math.Log(vAfter/v)), mAfter/vAfter - m/v, 1/vAfter - 1/v}
}

// at gives the value at a length.
func (p parabola) at(u float64) float64 { return p.level + u*(p.slope-0.5*p.bend*u) }

// peak gives the greatest value at any length; bend must be above 0.
func (p parabola) peak() float64 { return p.level + 0.5*p.slope*p.slope/p.bend }

// plus adds so many times another parabola.
func (p parabola) plus(times float64, q parabola) parabola {
	return parabola{p.level + times*q.level, p.slope + times*q.slope, p.bend + times*q.bend}
}

// times gives so many times a parabola.
func (p parabola) times(x float64) parabola { return parabola{x * p.level, x * p.slope, x * p.bend} }

// lengthNormal is a parabola put to a wide normal density of ln length about the
// grid's middle, so that one that says nothing of length has a mean and a
// variance as well: the logarithm of the integral, mean and variance.
type lengthNormal struct{ ln, mean, variance float64 }

// tilt puts a parabola to a normal density of which reach is one SD: the grid's.
// A mean beyond the grid, where nothing speaks for a length, is held at its edge.
func (p parabola) tilt(reach float64) lengthNormal {
	variance := square(reach)
	if p.bend == 0 && p.slope == 0 {
		return lengthNormal{p.level, 0, variance}
	}
	fall := 1 + p.bend*variance
	variance /= fall
	mean := min(max(p.slope*variance, -reach), reach)
	return lengthNormal{p.at(mean) - 0.5*(square(mean/reach)+ln(fall)), mean, variance}
}

// parabola is the other way round.
func (b lengthNormal) parabola(reach float64) parabola { return b.widened(1, reach, 0) }

// widened gives, as a parabola, the logarithm of so many times the likelihood's
// mean over normal deviations in ln length of so much variance.
func (b lengthNormal) widened(times, reach, variance float64) parabola {
	p := parabola{slope: b.mean / b.variance, bend: max(0, 1/b.variance-1/square(reach))}
	fall := 1 + p.bend*variance
	p.level = b.ln + ln(times*math.Sqrt((1+p.bend*square(reach))/fall)) - p.at(b.mean) +
		0.5*(square(b.mean/reach)+square(p.slope)*variance/fall)
	p.slope, p.bend = p.slope/fall, p.bend/fall
	return p
}

// addAll adds so many times some parabolas to others at the nodes of a patch.
func addAll(sum []parabola, times float64, x []parabola, in patch) {
	in.nodes(func(node int) { sum[node] = sum[node].plus(times, x[node]) })
}
