package canopy

import "wintertop/weather"

// killed gives the share of tissue that a temperature kills: a logistic curve
// through one half at lt50C with scale spreadC, all in °C.
func killed(tissueC, lt50C, spreadC float64) float64 {
	return 1 / (1 + exp((tissueC-lt50C)/spreadC))
}

// cold is what one freeze–thaw event does to leaves of a given LT50.
type cold struct {
	bareC, snowC float64 // leaf temperature outside and under the snow
	buried       float64 // share of the top under snow
	freezingC    float64
	spreadC      float64
}

// lost gives the share of a leaf lost; tissue under snow above the freezing
// point loses nothing.
func (c cold) lost(lt50C float64) float64 {
	lost := (1 - c.buried) * killed(c.bareC, lt50C, c.spreadC)
	if c.buried > 0 && c.snowC <= c.freezingC {
		lost += c.buried * killed(c.snowC, lt50C, c.spreadC)
	}
	return lost
}

// freeze takes from each leaf what an event costs, by the hardening and the
// snow of its coldest day. The rank of a leaf is the share of live mass outside
// its middle: 0 outermost, 1 innermost; outer leaves are the more tender.
//
// Of the same leaves a colder event never leaves more, nor a hardier line less.
// Over a season with growth this holds but for a trace: what frost takes from
// an outer leaf light gives to a younger, hardier one.
func (s *Stand) freeze(e *weather.Event, p weather.Params) {
	c := cold{
		bareC: e.MinCanopyC, snowC: p.TissueUnderSnowC(e.MinCanopyC, e.SnowCM), buried: p.BuriedShare(e.SnowCM),
		freezingC: p.FreezingPointC, spreadC: s.params.KillSpreadC,
	}
	s.tally()
	older := s.work // leaf mass outside the leaf in hand
	clear(older)
	for j := s.leaves.oldest; j < s.leaves.next; j++ {
		massG, alive := s.row(s.massG, j), s.row(s.alive, j)
		for d, mass := range massG {
			if alive[d] == 0 {
				continue
			}
			rank := 0.5
			if s.totalG[d] > 0 {
				rank = (older[d] + mass/2) / s.totalG[d]
			}
			older[d] += mass
			kept := 1 - c.lost(s.lt50C(d, e.Hardening)+s.params.InnerOuterC*(0.5-rank))
			massG[d] *= kept
			alive[d] *= kept
		}
	}
	s.rememberInjury()
}

// rememberInjury adds the share of the top lost since the last tally.
func (s *Stand) rememberInjury() {
	if s.params.InjuryMemory == 0 {
		return
	}
	left := s.work
	clear(left)
	for j := s.leaves.oldest; j < s.leaves.next; j++ {
		for d, mass := range s.row(s.massG, j) {
			left[d] += mass
		}
	}
	for d, total := range s.totalG {
		if total > 0 {
			s.injury[d] += 1 - min(1, left[d]/total)
		}
	}
}

// fall drops leaves of which frost has left too little. On a day without
// frost that can only be one that comes to the age before which none falls.
func (s *Stand) fall(before, after float64, frost bool) {
	p := &s.params
	for j := s.leaves.oldest; j < s.leaves.next; j++ {
		age, was := s.leaves.age(j, after), s.leaves.age(j, before)
		if age <= p.FallDegreeDays {
			return
		}
		if !frost && was > p.FallDegreeDays {
			continue
		}
		massG, bestG, alive := s.row(s.massG, j), s.row(s.bestG, j), s.row(s.alive, j)
		for d, mass := range massG {
			if mass < p.FallShare*bestG[d] {
				massG[d], alive[d] = 0, 0
			}
		}
	}
}
