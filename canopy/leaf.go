package canopy

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"wintertop/weather"
)

// ring numbers the leaves now on the plant, oldest to next-1, and gives each a
// row of the stand's slices in turn. Ages are °C d since the leaf appeared.
type ring struct {
	interval, expansion, life, fading float64
	rows                              int
	oldest, next                      int
}

func newRing(p Params) ring {
	return ring{
		interval: p.LeafIntervalDegreeDays, expansion: p.ExpansionDegreeDays,
		life: p.LifeDegreeDays, fading: p.FadingDegreeDays,
		rows: int(math.Ceil((p.LifeDegreeDays+p.FadingDegreeDays)/p.LeafIntervalDegreeDays)) + 2,
	}
}

func (r ring) slots() int { return r.rows }

// age gives the age of leaf j at a thermal time since emergence.
func (r ring) age(j int, degreeDays float64) float64 { return degreeDays - float64(j)*r.interval }

// expanded gives the share of a leaf's expansion that lies before an age.
func (r ring) expanded(age float64) float64 { return clamp(age/r.expansion, 0, 1) }

// green gives the share of a leaf that has not yet faded at an age.
func (r ring) green(age float64) float64 { return clamp(1-(age-r.life)/r.fading, 0, 1) }

// row gives leaf j's part of one of the stand's slices by slot and draw.
func (s *Stand) row(of []float64, j int) []float64 {
	n := s.N()
	start := j % s.leaves.rows * n
	return of[start : start+n : start+n]
}

// open lets the leaves due by now appear.
func (s *Stand) open(after float64) {
	for s.leaves.age(s.leaves.next, after) >= 0 {
		j := s.leaves.next
		if j-s.leaves.oldest == s.leaves.rows {
			panic("canopy: more leaves than the ring holds")
		}
		clear(s.row(s.massG, j))
		clear(s.row(s.bestG, j))
		alive := s.row(s.alive, j)
		for d := range alive {
			alive[d] = 1
		}
		s.leaves.next++
	}
}

// fade takes the day's part from each leaf past its life and drops those that
// have faded away. What a leaf was at its best fades with it: age takes it bit
// by bit, and only frost makes it fall.
func (s *Stand) fade(before, after float64) {
	for j := s.leaves.oldest; j < s.leaves.next; j++ {
		was, is := s.leaves.green(s.leaves.age(j, before)), s.leaves.green(s.leaves.age(j, after))
		if was == 1 && is == 1 {
			return // younger leaves have not begun
		}
		kept, massG, bestG := is/was, s.row(s.massG, j), s.row(s.bestG, j)
		for d := range massG {
			massG[d] *= kept
			bestG[d] *= kept
		}
		if is == 0 {
			s.leaves.oldest = j + 1
		}
	}
}

// growingLeaf is one leaf that expands today, with its rows of the stand.
type growingLeaf struct {
	demandG             float64 // at top size 1, nothing lost
	massG, bestG, alive []float64
}

// daylight gives the growth that a full catch of the day's light would allow,
// g per plant at top size 1, before the share to leaves.
func (s *Stand) daylight(w *weather.Winter, day int) float64 {
	p := &s.params
	warm := clamp((w.DayC[day]-p.BaseC)/(p.FullGrowthC-p.BaseC), 0, 1)
	return p.GrowthGPerMJ * w.PARMJ[day] * warm / s.planting.PlantsPerM2
}

// expand grows the leaves: what they ask for, or what light and reserve give,
// shared by what they ask for. The top of the evening before catches the light.
func (s *Stand) expand(before, after, lightG, warmth float64) {
	p := &s.params
	growing := s.growing[:0]
	for j := s.leaves.oldest; j < s.leaves.next; j++ {
		share := s.leaves.expanded(s.leaves.age(j, after)) - s.leaves.expanded(s.leaves.age(j, before))
		if share > 0 {
			growing = append(growing, growingLeaf{p.FullLeafG * share, s.row(s.massG, j), s.row(s.bestG, j), s.row(s.alive, j)})
		}
	}
	// What the leaves ask for at top size 1, then how much of it they get.
	met := s.work
	clear(met)
	for _, g := range growing {
		floats.AddScaled(met, g.demandG, g.alive)
	}
	reserveG := p.ReserveGPerDegreeDay * warmth
	extinction := s.extinctionPerG()
	for d, demand := range met {
		if demand == 0 {
			continue
		}
		through := exp(-extinction * s.totalG[d])
		toLeaves := p.LeafShareClosed + p.LeafShareOpen*through
		supply := lightG*toLeaves*(1-through) + reserveG
		if met[d] = s.topSize[d]; supply < demand {
			met[d] *= supply / demand
		}
	}
	for _, g := range growing {
		n := len(met)
		massG, bestG, alive, largestG := g.massG[:n], g.bestG[:n], g.alive[:n], s.largestG[:n]
		for d, part := range met {
			mass := massG[d] + part*g.demandG*alive[d]
			massG[d] = mass
			if mass > bestG[d] {
				bestG[d] = mass
			}
			if mass > largestG[d] {
				largestG[d] = mass
			}
		}
	}
}

// LiveLeaves fills dst (length N, nil allocates) with the number of live
// leaves that weigh at least the least leaf counted.
func (s *Stand) LiveLeaves(dst []float64) []float64 {
	dst = s.into(dst)
	clear(dst)
	for j := s.leaves.oldest; j < s.leaves.next; j++ {
		for d, mass := range s.row(s.massG, j) {
			if mass >= s.params.CountedLeafG*s.topSize[d] {
				dst[d]++
			}
		}
	}
	return dst
}

func clamp(x, low, high float64) float64 { return max(low, min(high, x)) }
