package forecast

import (
	"cmp"
	"math"
	"slices"

	"wintertop/weather"
)

// Rule is a way to put plantings in order, from what is known on the as-of day.
type Rule string

// The rules. The third and fourth are there to compare.
const (
	EarliestFirst Rule = "earliest last safe date first"
	SteepestFirst Rule = "most lost by waiting first"
	LargestFirst  Rule = "largest field first"
	BestTopFirst  Rule = "best top first"
	Moved         Rule = "the best of these with single plantings moved"
)

// RuleResult is what one rule loses over the past winters.
type RuleResult struct {
	Rule        Rule
	LostM2      float64 // mean of the past winters
	ShareLost   float64 // of the whole area
	Recommended bool
}

// schedule plays each rule's order and the best of them with lots moved, and
// puts the rows in the order that loses least, of those that lose the same in
// the digits that are printed the plainest.
func (o *Order) schedule(c *crew) {
	from := int(o.Start - o.AsOf - 1)
	rules := []Rule{EarliestFirst, SteepestFirst, LargestFirst, BestTopFirst}
	orders := make([][]int, len(rules))
	lostM2 := make([]float64, len(rules))
	least := 0
	for i, rule := range rules {
		orders[i] = o.by(rule, c, from)
		if lostM2[i] = c.play(orders[i], from).lost(); o.printed(lostM2[i]) < o.printed(lostM2[least]) {
			least = i
		}
	}
	if moved, lost := c.moveAll(orders, from); o.printed(lost) < o.printed(lostM2[least]) {
		least = len(rules)
		rules, orders, lostM2 = append(rules, Moved), append(orders, moved), append(lostM2, lost)
	}
	for i, rule := range rules {
		o.Rules = append(o.Rules, RuleResult{rule, lostM2[i], lostM2[i] / o.AreaM2, i == least})
	}
	best := orders[least]
	result, later := c.play(best, from), c.play(best, from+week)
	rows, lots := make([]Turn, 0, len(best)), make([]lot, 0, len(best))
	for _, i := range best {
		t := o.Rows[i]
		t.DaysNeeded, t.ShareLost, t.ThisWeekM2 = t.AreaM2/c.areaPerDayM2, result.lostM2[i]/t.AreaM2, result.begunM2[i]
		if t.HasHold {
			by := int(t.LastSafe - o.AsOf - 1)
			t.InTime, t.WeekLater = result.inTime(i, by), later.inTime(i, by)
		}
		t.DoneBy, t.HasDoneBy = o.doneBy(result.done[i])
		rows, lots = append(rows, t), append(lots, c.lots[i])
	}
	o.Rows, c.lots, o.crew = rows, lots, c
}

// printed gives a lost area in steps of the last digit that order-rules.csv
// prints of it: of a square metre or of a thousandth of all, whichever is less.
func (o *Order) printed(m2 float64) float64 { return math.Round(m2 / min(1, o.AreaM2/1000)) }

// farthest is how far a lot is moved along the order in one go, where there
// are more lots than that.
const farthest = 6

// worthMoving is the share of what is lost that a round of moves must save for
// another round.
const worthMoving = 1e-4

// moveAll moves single lots about in each of some orders and gives the one that
// then loses least.
func (c *crew) moveAll(orders [][]int, from int) (best []int, lostM2 float64) {
	lostM2 = math.Inf(1)
	for _, order := range orders {
		if moved, lost := c.move(order, from); lost < lostM2 {
			best, lostM2 = moved, lost
		}
	}
	return best, lostM2
}

// move takes single lots to other places in the order as long as less is lost
// in the mean of the past winters: it knows them all, but none of them as the
// one to come.
func (c *crew) move(order []int, from int) (best []int, lostM2 float64) {
	best = slices.Clone(order)
	w := c.play(best, from)
	lostM2 = w.lost()
	try := make([]int, len(best))
	for last := math.Inf(1); lostM2 < last*(1-worthMoving); {
		last = lostM2
		for i := range best {
			for to := max(0, i-farthest); to <= min(len(best)-1, i+farthest); to++ {
				if to == i {
					continue
				}
				try = append(try[:0], best...)
				lot := try[i]
				try = slices.Insert(slices.Delete(try, i, i+1), to, lot)
				if c.playInto(w, try, from); w.lost() < lostM2*(1-1e-9) {
					copy(best, try)
					lostM2 = w.lost()
				}
			}
		}
	}
	return best, lostM2
}

// doneBy gives the day by which a lot is done in the wanted share of winters.
func (o *Order) doneBy(done []int) (weather.Date, bool) {
	days := slices.Sorted(slices.Values(done))
	at := max(0, int(math.Ceil(o.Assurance*float64(len(days))-1e-9))-1)
	if days[at] == never {
		return 0, false
	}
	return o.AsOf + 1 + weather.Date(days[at]), true
}

// by gives the rows' indices in the order of a rule. Rows come by last safe
// date; what a rule holds alike stays so.
func (o *Order) by(rule Rule, c *crew, from int) []int {
	order := make([]int, len(o.Rows))
	for i := range order {
		order[i] = i
	}
	switch rule {
	case EarliestFirst, SteepestFirst:
		loss := c.lossByWaiting(from)
		slices.SortStableFunc(order, func(a, b int) int {
			steeper := cmp.Compare(loss[b], loss[a])
			if rule == SteepestFirst {
				return steeper
			}
			return cmp.Or(cmp.Compare(o.Rows[a].due(), o.Rows[b].due()), steeper)
		})
	case LargestFirst:
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(c.lots[b].areaM2, c.lots[a].areaM2) })
	case BestTopFirst:
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(o.Rows[a].Rank, o.Rows[b].Rank) })
	}
	return order
}

// lossByWaiting gives for each lot what a square metre loses if it is lifted
// when the crew may be done with everything instead of at once, mean of the
// past winters: what a day of the crew saves there.
func (c *crew) lossByWaiting(from int) []float64 {
	loss := make([]float64, len(c.lots))
	end := c.doneWithAll(from)
	for i, l := range c.lots {
		for course := range l.yield {
			days := l.yield[course]
			loss[i] += (days[min(from, len(days)-1)] - days[end]) / float64(len(l.yield))
		}
	}
	return loss
}

// doneWithAll gives the day by which the crew may expect to be done with all
// lots, at latest the last.
func (c *crew) doneWithAll(from int) int {
	needed := 0.0
	for _, l := range c.lots {
		needed += l.areaM2 / c.areaPerDayM2
	}
	last := len(c.fit[0]) - 1
	worked, usedDays := 0.0, 0.0
	for day := from; day < last; day++ {
		if day%week == 0 {
			usedDays = 0
		}
		fit := 0.0
		for _, days := range c.fit {
			if days[day] {
				fit += 1 / float64(len(c.fit))
			}
		}
		fit = min(fit, c.daysPerWeek-usedDays)
		usedDays += fit
		if worked += fit; worked >= needed {
			return day
		}
	}
	return last
}
