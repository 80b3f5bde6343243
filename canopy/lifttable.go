package canopy

import "math"

// Steps of the tables in SDs: the bilinear error is at most
// 0.242·step²/8 for each axis, below 5e-4 together. Where neither grip nor pull
// asks for any leaf, masses begin at leastOfPull of what resists every pull.
const (
	massStep    = 0.07
	heightStep  = 0.07
	tableReach  = 4.5
	leastOfPull = 0.01
)

// ShareTable is Lifting.Share laid out by ln mass and ln(height/belt) for
// quick looking up; it differs from Share by at most 5e-4.
type ShareTable struct {
	massLow, massStep float64 // ln g dry
	lowestLn, perLn   float64 // ln cm of the lowest height, and steps per unit of ln
	masses, heights   int
	share             []float64 // mass by mass, heights innermost
}

// Table lays out Share.
func (l *Lifting) Table() *ShareTable {
	low, high := l.massRange()
	t := &ShareTable{
		massLow: low, massStep: massStep * l.p.MassLnSD,
		lowestLn: math.Log(l.p.BeltHeightCM) - tableReach*l.p.HeightLnSD, perLn: 1 / (heightStep * l.p.HeightLnSD),
	}
	t.masses = int(math.Ceil((high-low)/t.massStep)) + 1
	t.heights = int(math.Ceil(2*tableReach/heightStep)) + 1
	t.share = make([]float64, t.masses*t.heights)
	cdf := newCDFTable()
	var z, chance [liftNodes]float64
	for i := range t.masses {
		if !l.grips(low+float64(i)*t.massStep, z[:], chance[:]) {
			continue
		}
		for j := range t.heights {
			middle, along := l.beside(-tableReach*l.p.HeightLnSD + float64(j)/t.perLn)
			for k, c := range chance {
				t.share[i*t.heights+j] += c * cdf.at(middle+along*z[k])
			}
		}
	}
	return t
}

// cdfTable holds normalCDF from -cdfReach to cdfReach.
type cdfTable [2*cdfReach*cdfCuts + 1]float64

// The reach of a cdfTable, and how many of its nodes lie in an SD.
const (
	cdfReach = 6
	cdfCuts  = 128
)

func newCDFTable() *cdfTable {
	t := &cdfTable{}
	for k := range t {
		t[k] = normalCDF(float64(k)/cdfCuts - cdfReach)
	}
	return t
}

// at is normalCDF within 2e-6: straight between the nodes, of which
// 0.242/cdfCuts²/8 is the most that it misses.
func (t *cdfTable) at(x float64) float64 {
	at := (x + cdfReach) * cdfCuts
	switch {
	case !(at > 0):
		return 0
	case at >= float64(len(t)-1):
		return 1
	}
	k := int(at)
	return t[k] + (at-float64(k))*(t[k+1]-t[k])
}

// massRange gives the mean ln masses between which the share changes.
func (l *Lifting) massRange() (low, high float64) {
	tender := (l.pullN - tableReach*l.pullSD) / l.p.StrengthNPerG // no plant below this holds
	sturdy := (l.pullN + tableReach*l.pullSD) / l.p.StrengthNPerG // most above this do
	least := max(max(l.gripG, tender), leastOfPull*sturdy)
	reach := tableReach * l.p.MassLnSD
	return math.Log(least) - reach, math.Log(max(l.gripG, sturdy)) + reach
}

// Share looks up the share of the stand that lifts; leafG g dry per plant,
// heightCM as in Lifting.Share.
func (t *ShareTable) Share(leafG, heightCM float64) float64 {
	if !(leafG > 0 && heightCM > 0) {
		return 0
	}
	return t.At(t.Mass(math.Log(leafG)), math.Log(heightCM))
}

// MassCell is where a mean leaf mass stands in a ShareTable: what Share of many
// heights has in common.
type MassCell struct {
	first int     // of the lighter row of shares; below 0 no plant lifts
	part  float64 // of the cell that lies below the mass
}

// Mass places a mean leaf mass by its natural logarithm, ln g dry per plant.
func (t *ShareTable) Mass(lnLeafG float64) MassCell {
	i, part := place((lnLeafG-t.massLow)/t.massStep, t.masses)
	return MassCell{i * t.heights, part}
}

// At is Share of a mass that Mass has placed, by the natural logarithm of the
// height in cm.
func (t *ShareTable) At(m MassCell, lnHeightCM float64) float64 {
	j, v := place((lnHeightCM-t.lowestLn)*t.perLn, t.heights)
	if m.first < 0 || j < 0 {
		return 0
	}
	light, heavy := t.share[m.first+j:][:2], t.share[m.first+t.heights+j:][:2]
	low, high := light[0]+m.part*(heavy[0]-light[0]), light[1]+m.part*(heavy[1]-light[1])
	return low + v*(high-low)
}

// Along fills share with Share of a mass that Mass has placed, at equal steps of
// the natural logarithm of the height in cm, the first at lnHeightCM; stepLn is
// positive.
func (t *ShareTable) Along(share []float32, m MassCell, lnHeightCM, stepLn float64) {
	at, step, last := (lnHeightCM-t.lowestLn)*t.perLn, stepLn*t.perLn, float64(t.heights-1)
	k := 0
	for ; k < len(share) && (m.first < 0 || !(at >= 0)); k++ {
		share[k] = 0
		at += step
	}
	if k == len(share) {
		return
	}
	light, heavy := t.share[m.first:][:t.heights], t.share[m.first+t.heights:][:t.heights]
	for ; k < len(share) && at < last; k++ {
		j := int(at)
		low, high := light[j]+m.part*(heavy[j]-light[j]), light[j+1]+m.part*(heavy[j+1]-light[j+1])
		share[k] = float32(low + (at-float64(j))*(high-low))
		at += step
	}
	for ; k < len(share); k++ {
		share[k] = float32(light[t.heights-1] + m.part*(heavy[t.heights-1]-light[t.heights-1]))
	}
}

// place gives the cell of n nodes that x lies in and the part of the cell
// before x: -1 below the first node, the end of the last cell beyond it.
func place(x float64, n int) (cell int, part float64) {
	switch {
	case !(x >= 0):
		return -1, 0
	case x >= float64(n-1):
		return n - 2, 1
	}
	cell = int(x)
	return cell, x - float64(cell)
}

// Wanted is Lifting.LeastHeightCM for one wanted share, laid out by mass for
// quick looking up. It never rises with mass.
type Wanted struct {
	beltLn   float64   // ln cm
	leastLnG float64   // no height is enough up to this mean ln mass
	over     []float64 // nodes of ln mass - leastLnG
	lnHeight []float64 // at each
}

// Nodes of a Wanted table: each doubling from 2^wantedFrom to 2^wantedTo is cut
// into wantedCuts equal parts, so that the leading bits of a number tell between
// which two it lies.
const (
	wantedFrom, wantedTo = -13, 4
	wantedBits           = 4
	wantedCuts           = 1 << wantedBits
	wantedShift          = 52 - wantedBits // of a float64's bits
	wantedFirst          = (1023 + wantedFrom) * wantedCuts
)

// Wanted lays out LeastHeightCM for one wanted share.
func (l *Lifting) Wanted(share float64) *Wanted {
	w := &Wanted{
		beltLn: math.Log(l.p.BeltHeightCM), leastLnG: l.leastLnMass(share),
	}
	if math.IsInf(w.leastLnG, 0) {
		return w
	}
	var z, chance [liftNodes]float64
	for i := range (wantedTo-wantedFrom)*wantedCuts + 1 {
		over := math.Float64frombits(uint64(wantedFirst+i) << wantedShift)
		l.grips(w.leastLnG+over, z[:], chance[:])
		w.over, w.lnHeight = append(w.over, over), append(w.lnHeight, l.leastHeight(share, z[:], chance[:]))
	}
	return w
}

// leastLnMass gives the mean ln mass above which some height is enough: +Inf
// where none is, -Inf where no share is wanted.
func (l *Lifting) leastLnMass(wanted float64) float64 {
	if wanted <= 0 {
		return math.Inf(-1)
	}
	var z, chance [liftNodes]float64
	enough := func(lnLeafG float64) bool {
		return l.grips(lnLeafG, z[:], chance[:]) && sum(chance[:]) > wanted
	}
	low, high := l.massRange()
	if !enough(high) {
		return math.Inf(1)
	}
	for high-low > liftNearest {
		middle := (low + high) / 2
		if enough(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return high
}

// LeastLnHeight looks up the natural logarithm of the least mean height, cm, at
// which the wanted share lifts, +Inf where none does, at a mean leaf mass given
// by its natural logarithm, ln g dry per plant.
func (w *Wanted) LeastLnHeight(lnLeafG float64) float64 {
	if math.IsInf(w.leastLnG, -1) {
		return math.Inf(-1)
	}
	over := lnLeafG - w.leastLnG
	if !(over > 0) {
		return math.Inf(1)
	}
	last := len(w.over) - 1
	i := int(math.Float64bits(over)>>wantedShift) - wantedFirst
	switch {
	case i < 0:
		return w.beltLn + w.lnHeight[0]
	case i >= last:
		return w.beltLn + w.lnHeight[last]
	}
	part := (over - w.over[i]) / (w.over[i+1] - w.over[i])
	return w.beltLn + (w.lnHeight[i] + part*(w.lnHeight[i+1]-w.lnHeight[i]))
}
