package forecast

import "math"

// hardinessSD gives the spread of hardiness before any note: between lines,
// and the unknown coldness of the place, which moves the same number.
func (p Params) hardinessSD() float64 { return math.Hypot(p.HardinessSDC, p.PlaceSDC) }

// prior gives the density of one line's traits before any note: the
// population, or what lines.csv says of this line.
func (g *Grid) prior(p Params, own LinePrior) weights {
	size := orElse(own.TopSize, 1)
	length := orElse(own.TopLengthCM, p.TopLengthCM)
	sizeSD := orElse(own.TopSizeSD/size, p.TopSizeSDLn)
	lengthSD := orElse(own.TopLengthSDCM/length, p.TopLengthSD)
	hardSD := math.Hypot(orElse(own.HardinessSDC, p.HardinessSDC), p.PlaceSDC)
	a := normal(g.SizeLn, math.Log(size), sizeSD)
	b := normal(g.HardC, orElse(own.HardinessC, p.HardinessC), hardSD)
	c := normal(g.LengthLn, math.Log(length), lengthSD)
	w := newWeights()
	for i, x := range a {
		for j, y := range b {
			cell := w[(i*gridHards+j)*gridLengths:][:gridLengths]
			for k, z := range c {
				cell[k] = x * y * z
			}
		}
	}
	w.normalise()
	return w
}

// normal gives a normal density at the steps, the largest scaled to 1 so that
// a narrow one off the grid still has mass at the nearest edge.
func normal(at []float64, mean, sd float64) []float64 {
	d := make([]float64, len(at))
	least := math.Inf(1)
	for i, x := range at {
		z := (x - mean) / sd
		d[i] = 0.5 * z * z
		least = min(least, d[i])
	}
	for i := range d {
		d[i] = math.Exp(least - d[i])
	}
	return d
}
