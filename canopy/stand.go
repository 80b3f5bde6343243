package canopy

import (
	"fmt"

	"wintertop/weather"
)

// Stand is one planting under all its trait draws at once. Leaf dates depend
// on weather and sowing only and are shared by the draws; everything else is
// kept in flat slices with the draws innermost, and no draw sees another: a
// draw alone and the same draw among thousands give the same bits.
type Stand struct {
	planting Planting
	params   Params

	begun      bool
	next       weather.Date // the day to be grown next
	degreeDays float64      // °C d since the day after sowing
	emerged    bool
	emergedOn  weather.Date
	weedy      bool    // weeds have begun
	measured   bool    // height is that of the leaves now on the plant
	hardening  float64 // of the last day grown
	leaves     ring    // the leaves now on the plant, by number

	memory []float64 // holds all the slices below

	// By draw.
	topSize, hardinessC []float64
	totalG              []float64 // live leaf mass of the plant
	largestG            []float64 // largest leaf ever, at least the least full leaf
	height              []float64 // relative to the top length, once measured
	injury              []float64 // share of top lost to frost, as far as remembered
	weedLAI             []float64
	work                []float64

	// By ring slot, then draw.
	massG []float64 // live mass
	bestG []float64 // greatest live mass, less what age has taken of it
	alive []float64 // share that frost has left; 0 once fallen

	standing [][]float64 // work space: rows of massG, oldest leaf first
	growing  []growingLeaf
}

// Sow starts a planting on its day of sowing, with as many draws as traits. It
// panics where plants per m² or a top size is not above 0.
func Sow(p Planting, traits []Traits, params Params) *Stand {
	p.check(traits)
	s := &Stand{planting: p, params: params, leaves: newRing(params)}
	s.memory = make([]float64, (rowsByDraw+rowsBySlot*s.leaves.slots())*len(traits))
	s.divide(len(traits))
	for d, t := range traits {
		s.topSize[d], s.hardinessC[d] = t.TopSize, t.HardinessC
		s.largestG[d] = params.LeastFullLeafG * t.TopSize
	}
	return s
}

// Rows of n draws that divide cuts, for the stand and for each ring slot.
const (
	rowsByDraw = 8
	rowsBySlot = 3
)

// divide cuts the stand's memory into its slices of n draws.
func (s *Stand) divide(n int) {
	rest := s.memory
	cut := func(rows int) []float64 {
		part := rest[: rows*n : rows*n]
		rest = rest[rows*n:]
		return part
	}
	s.topSize, s.hardinessC, s.totalG, s.largestG = cut(1), cut(1), cut(1), cut(1)
	s.height, s.injury, s.weedLAI, s.work = cut(1), cut(1), cut(1), cut(1)
	slots := s.leaves.slots()
	s.massG, s.bestG, s.alive = cut(slots), cut(slots), cut(slots)
	s.standing, s.growing = make([][]float64, 0, slots), make([]growingLeaf, 0, slots)
}

// Clone gives an independent copy at the same day, so that one autumn can go
// on into many winters.
func (s *Stand) Clone() *Stand { return s.CloneIn(&Stand{}) }

// CloneIn is Clone in the memory of another stand, which is lost.
func (s *Stand) CloneIn(lost *Stand) *Stand {
	c := *s
	c.memory = append(lost.memory[:0], s.memory...)
	c.divide(s.N())
	return &c
}

// Grow takes the stand through the days from..to (indices of w, both
// included) and calls see, which may be nil, after each. Days up to the sowing
// change nothing. The first call must not begin later than the day after
// sowing, and each further call with the day after the last one grown, though
// w may be another winter: everything is carried over. Grow panics otherwise.
// Nothing is allocated per day.
func (s *Stand) Grow(w *weather.Winter, from, to int, see func(day int, s *Stand)) {
	for day := from; day <= to; day++ {
		date := w.First + weather.Date(day)
		switch {
		case s.begun && date != s.next:
			panic(fmt.Sprintf("canopy: grown on %s where %s comes next", date, s.next))
		case !s.begun && date > s.planting.Sown+1:
			panic(fmt.Sprintf("canopy: sown on %s, grown only from %s", s.planting.Sown, date))
		}
		s.begun, s.next = true, date+1
		if date > s.planting.Sown {
			s.growDay(w, day, date)
		}
		if see != nil {
			see(day, s)
		}
	}
}

// growDay is one day in its order: leaves, growth, frost, fall, height, weeds.
func (s *Stand) growDay(w *weather.Winter, day int, date weather.Date) {
	p := &s.params
	warmth := weather.DegreeDays(w.MinC[day], w.MaxC[day], p.BaseC, p.UpperC)
	before := s.degreeDays - p.EmergenceDegreeDays
	s.degreeDays += warmth
	after := s.degreeDays - p.EmergenceDegreeDays
	if !s.emerged && after >= 0 {
		s.emerged, s.emergedOn = true, date
	}
	s.hardening = w.Hardening[day]
	if s.emerged {
		changed := false
		if warmth > 0 {
			s.fade(before, after)
			s.open(after)
			s.expand(before, after, s.daylight(w, day), warmth)
			s.fall(before, after, false)
			changed = true
		}
		s.forgetInjury()
		if closing := w.Closing[day]; closing >= 0 {
			s.freeze(&w.Events[closing], w.Site.Params)
			s.fall(before, after, true)
			changed = true
		}
		if changed {
			s.tally()
		}
	}
	if date >= s.planting.weedsFrom() {
		s.growWeeds(w.MinC[day], w.MaxC[day], w.PARMJ[day])
	}
}

// N gives the number of draws.
func (s *Stand) N() int { return len(s.topSize) }

// Emerged says whether the crop has come up by the last day grown. Until then
// it has no leaf, height, shade or LT50; weeds do not wait for it.
func (s *Stand) Emerged() bool { return s.emerged }

// EmergedOn gives the day of emergence, false where the crop is not up.
func (s *Stand) EmergedOn() (weather.Date, bool) { return s.emergedOn, s.emerged }

// LeafG fills dst (length N, nil allocates) with the live leaf mass, g dry per
// plant, mean of the planting; 0 before emergence.
func (s *Stand) LeafG(dst []float64) []float64 {
	dst = s.into(dst)
	copy(dst, s.totalG)
	return dst
}

// into gives dst, or a new slice of length N where it is nil; it panics on
// another length.
func (s *Stand) into(dst []float64) []float64 {
	if dst == nil {
		return make([]float64, s.N())
	}
	if len(dst) != s.N() {
		panic(fmt.Sprintf("canopy: %d values wanted for %d draws", len(dst), s.N()))
	}
	return dst
}
