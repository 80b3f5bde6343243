package forecast

// shareLengths is the number of top lengths at which the lift share is worked
// out: every second one of the grid. Between them it is smooth: the stand's own
// spread of ln height is wider than two of their steps, and a cubic through
// four of them is right within 0.001.
const shareLengths = (gridLengths + 1) / 2

// between gives the four lengths and weights of the cubic that stands for a
// length half way between the k-th and the next.
func between(k int) (from int, weight [4]float64) {
	switch from = min(max(k-1, 0), shareLengths-4); k - from {
	case 0:
		return from, [4]float64{5. / 16, 15. / 16, -5. / 16, 1. / 16}
	case 2:
		return from, [4]float64{1. / 16, -5. / 16, 15. / 16, 5. / 16}
	}
	return from, [4]float64{-1. / 16, 9. / 16, 9. / 16, -1. / 16}
}

// thinned turns weights of the grid's lengths into weights of those at which
// shares are worked out, for the mean of a share.
func thinned(thin, w []float64) {
	clear(thin)
	for k, x := range w {
		if k%2 == 0 {
			thin[k/2] += x
			continue
		}
		from, weight := between(k / 2)
		for j, part := range weight {
			thin[from+j] += part * x
		}
	}
}

// cubic reads a share off its values at four of the shareLengths, by a cubic
// through them.
type cubic struct {
	from   int32
	weight [4]float32
}

// cubicAt is for a length that lies at steps of the grid from the first.
func cubicAt(at float64) cubic {
	at = min(max(at/2, 0), shareLengths-1)
	from := min(max(int(at)-1, 0), shareLengths-4)
	x := at - float64(from) // in 0…3
	a, b, c, d := x, x-1, x-2, x-3
	return cubic{int32(from), [4]float32{float32(-b * c * d / 6), float32(a * c * d / 2), float32(-a * b * d / 2), float32(a * b * c / 6)}}
}

func (c *cubic) of(values []float32) float32 {
	v, w := values[c.from:][:4], &c.weight
	return w[0]*v[0] + w[1]*v[1] + w[2]*v[2] + w[3]*v[3]
}
