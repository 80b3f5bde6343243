package forecast

import "math"

// Reasons that keep a row from a better verdict.
const (
	RootsFrozen  = "roots frozen"
	OpenToWeeds  = "row open to weeds"
	TopsTooShort = "tops too short"
)

// reason says in words what keeps a row from a better verdict: the part that
// fails most often on the first day on which the odds fall short after they
// held, or, where they never held, on their best day.
func reason(p Pick, assurance float64) string {
	switch p.Verdict {
	case Hold:
		return "enough top and shade"
	case NotKnownYet:
		return "no notes of this line"
	}
	return weakest(shortDay(p, assurance))
}

// shortDay gives the day that decides: the first short one after the days that
// held, else the best of those that never did.
func shortDay(p Pick, assurance float64) PickDate {
	best := p.Dates[0]
	for _, d := range p.Dates {
		if p.HasHold && d.Date > p.HoldsUntil && d.All < assurance {
			return d
		}
		if d.All > best.All {
			best = d
		}
	}
	return best
}

// weakest names the part of the joint odds that is least likely on one day. Of
// a lift that fails, too little leaf is told from tops too short by how often
// the leaf would have done with longer tops.
func weakest(d PickDate) string {
	least := math.Min(d.Lift, d.Shaded)
	switch {
	case d.RootNoFrost < least:
		return RootsFrozen
	case d.Shaded < d.Lift:
		return OpenToWeeds
	case 1-d.Leaf >= d.Leaf-d.Lift:
		return "too little leaf"
	}
	return TopsTooShort
}
