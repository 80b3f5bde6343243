package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// kernel carries densities and likelihoods between a line's traits in general
// and its traits in one winter at one place: independent normal deviations of
// the three traits, hardiness shifted by the coldness of the place.
type kernel struct {
	size, hard axis
	lengthSD   float64
}

// axis holds one trait's part of a kernel: for each step in general the chances
// of the steps in a winter, and the other way round.
type axis struct{ toWinter, toGeneral band }

// band is a matrix of which each row has weights on a run of columns only.
type band struct {
	from   []int
	weight [][]float64
	all    []float64 // the weights of all rows, one after the other
}

// kernelOf prepares the deviations of p on g, at a place whose canopy is shiftC
// colder than the others: leaves die there as if they were less hardy.
func (g *Grid) kernelOf(p Params, shiftC float64) (k kernel) {
	k.set(g, p.lineWinterSD(), shiftC)
	return k
}

// lineWinterSD gives the SDs of the line × winter deviations, by trait.
func (p *Params) lineWinterSD() [traits]float64 {
	return [traits]float64{sizeTrait: p.LineWinterSizeSD, hardTrait: p.LineWinterHardSDC, lengthTrait: p.LineWinterLengthSD}
}

// set makes k independent normal deviations of the traits with SDs sd, those of
// hardiness about shiftC, in the room of an earlier kernel.
func (k *kernel) set(g *Grid, sd [traits]float64, shiftC float64) {
	k.size.set(g.SizeLn, sd[sizeTrait], 0)
	k.hard.set(g.HardC, sd[hardTrait], shiftC)
	k.lengthSD = sd[lengthTrait]
}

// cutSD is where deviations are cut off: where their logarithm is as far below
// the middle's as the cells that are left out of a view, ½·5.3² = margin.
const cutSD = 5.3

// smoother gives an axis with normal deviations about shift, cut at the grid's
// edges and at cutSD and normalised. An SD below 0.7 of a step, which a normal
// at the steps would distort, is kept by weights on the two neighbours.
func smoother(at []float64, sd, shift float64) (a axis) {
	a.set(at, sd, shift)
	return a
}

// set makes a what smoother gives, in the room of an earlier axis.
func (a *axis) set(at []float64, sd, shift float64) {
	n, step := len(at), at[1]-at[0]
	var bells [2*gridHards - 1]float64
	var rows [gridHards]float64
	bell, row := bells[:2*n-1], rows[:n] // the former by how many steps lie between two
	if sd > 0 {
		for d := range bell {
			bell[d] = bellAt((float64(d-n+1)*step - shift) / sd)
		}
	}
	b := &a.toGeneral
	b.clear(n)
	for i := range n {
		clear(row)
		middle := min(max(at[i]+shift, at[0]), at[n-1])
		switch {
		case sd < 0.7*step && shift == 0:
			side := square(sd/step) / 2
			row[i] = 1 - 2*side
			row[max(0, i-1)] += side
			row[min(n-1, i+1)] += side
		case sd == 0:
			place := (middle - at[0]) / step
			below := min(int(place), n-2)
			part := min(max(place-float64(below), 0), 1)
			row[below], row[below+1] = 1-part, part
		case middle == at[i]+shift:
			copy(row, bell[n-1-i:])
		default:
			for j := range row {
				row[j] = bellAt((at[j] - middle) / sd)
			}
		}
		b.put(i, row)
	}
	b.turn(&a.toWinter)
}

// bellAt gives the form of a normal density, cut off at cutSD.
func bellAt(z float64) float64 {
	if math.Abs(z) > cutSD {
		return 0
	}
	return math.Exp(-0.5 * z * z)
}

// clear makes b a band of n rows that are still to be put, in the room of an earlier
// one.
func (b *band) clear(n int) {
	b.from, b.weight, b.all = resized(b.from, n), resized(b.weight, n), b.all[:0]
}

// put makes a row of weights, normalised, row i.
func (b *band) put(i int, row []float64) {
	from, to := beyond(row, 0)
	own := b.room(i, from, to-from)
	floats.ScaleTo(own, 1/floats.Sum(row[from:to]), row[from:to])
}

// room gives row i its columns, and room for their weights.
func (b *band) room(i, from, columns int) []float64 {
	b.all = slices.Grow(b.all, columns)
	own := b.all[len(b.all):][:columns:columns]
	b.all = b.all[:len(b.all)+columns]
	b.from[i], b.weight[i] = from, own
	return own
}

// turn makes t the band with rows and columns exchanged.
func (b *band) turn(t *band) {
	n := len(b.from)
	t.clear(n)
	var ends [gridHards]int
	end := ends[:n] // of each column: the row behind its last
	for i, weights := range b.weight {
		for j := b.from[i]; j < b.from[i]+len(weights); j++ {
			if end[j] == 0 {
				t.from[j] = i
			}
			end[j] = i + 1
		}
	}
	for j, end := range end {
		if end == 0 {
			t.from[j] = 0
		}
		clear(t.room(j, t.from[j], end-t.from[j]))
	}
	for i, weights := range b.weight {
		for k, w := range weights {
			j := b.from[i] + k
			t.weight[j][i-t.from[j]] = w
		}
	}
}

// toGeneral turns a quantity by a winter's traits into what it is expected to be
// by the traits in general: its mean over the deviations. w holds one value per
// cell; work is of the same length.
func (k kernel) toGeneral(g *Grid, w, work []float64) {
	smoother(g.LengthLn, k.lengthSD, 0).toGeneral.innermost(work, w)
	row := gridHards * gridLengths
	k.size.toGeneral.along(w, work, [2]int{0, gridSizes}, [2]int{0, row}, row)
	for s := range gridSizes {
		k.hard.toGeneral.along(work[s*row:(s+1)*row], w[s*row:(s+1)*row], [2]int{0, gridHards}, [2]int{0, gridLengths}, gridLengths)
	}
	copy(w, work)
}

// moments3 is how many numbers of a node are carried together.
const moments3 = 3

// across applies bands of size and of hardiness to the numbers of each node, at
// the nodes of a patch; src, of which only what reaches the patch is read, is
// destroyed.
func across(size, hard band, dst, src []float64, in patch) {
	const row = gridHards * moments3
	from := hard.reach(in.hards[0], in.hards[1])
	part := [2]int{from[0] * moments3, from[1] * moments3}
	size.along(dst, src, in.sizes, part, row)
	for s := in.sizes[0]; s < in.sizes[1]; s++ {
		own, out := src[s*row:(s+1)*row], dst[s*row:(s+1)*row]
		copy(own[part[0]:part[1]], out[part[0]:part[1]])
		for h := in.hards[0]; h < in.hards[1]; h++ {
			weights := hard.weight[h]
			at := own[hard.from[h]*moments3:][:len(weights)*moments3]
			var a, b, c float64
			for len(weights) > 1 && len(at) >= 2*moments3 { // two at once: sums wait for each other
				u, v := weights[0], weights[1]
				a += u*at[0] + v*at[3]
				b += u*at[1] + v*at[4]
				c += u*at[2] + v*at[5]
				weights, at = weights[2:], at[2*moments3:]
			}
			if len(weights) > 0 {
				a, b, c = a+weights[0]*at[0], b+weights[0]*at[1], c+weights[0]*at[2]
			}
			out[h*moments3], out[h*moments3+1], out[h*moments3+2] = a, b, c
		}
	}
}

// innermost applies b along the innermost axis. Rows of nothing are passed
// over.
func (b band) innermost(dst, src []float64) {
	n := len(b.from)
	for o := 0; o < len(src); o += n {
		from := src[o : o+n]
		if !anyOf(from) {
			clear(dst[o : o+n])
			continue
		}
		for i, weights := range b.weight {
			sum, part := 0.0, from[b.from[i]:][:len(weights)]
			for j, share := range weights {
				sum += share * part[j]
			}
			dst[o+i] = sum
		}
	}
}

// along applies b along an axis of the given stride for some of its steps and
// some of the cells that stand at each. Rows of nothing are passed over.
func (b band) along(dst, src []float64, steps, part [2]int, stride int) {
	some := make([]bool, len(b.from))
	needed := b.reach(steps[0], steps[1])
	for j := needed[0]; j < needed[1]; j++ {
		some[j] = anyOf(src[j*stride+part[0] : j*stride+part[1]])
	}
	for i := steps[0]; i < steps[1]; i++ {
		out := dst[i*stride+part[0] : i*stride+part[1]]
		clear(out)
		for j, share := range b.weight[i] {
			if j += b.from[i]; some[j] {
				floats.AddScaled(out, share, src[j*stride+part[0]:j*stride+part[1]])
			}
		}
	}
}

// reach gives the columns on which some rows have weights.
func (b band) reach(from, to int) [2]int {
	r := [2]int{len(b.from), 0}
	for i := from; i < to; i++ {
		r[0], r[1] = min(r[0], b.from[i]), max(r[1], b.from[i]+len(b.weight[i]))
	}
	return r
}

func anyOf(row []float64) bool {
	for _, x := range row {
		if x != 0 {
			return true
		}
	}
	return false
}
