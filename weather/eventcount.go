package weather

import (
	"math"
	"time"
)

// EventsByMidwinter gives the mean number of freeze–thaw events that open and
// close from the first day of a winter to 31 January, in the south to 31 July,
// over the complete winters of a filled record; NaN without any.
func EventsByMidwinter(r Record, site Site) (mean float64, winters int) {
	if len(r.Days) == 0 {
		return math.NaN(), 0
	}
	south := site.South()
	complete := map[WinterYear]bool{}
	for w := WinterOf(r.First(), south); w.First() <= r.Last(); w = w.Next() {
		complete[w] = r.Complete(w)
		if complete[w] {
			winters++
		}
	}
	n := 0
	for _, e := range Events(r, site) {
		if complete[e.Winter] && !e.Open && r.Days[e.CloseDay].Date <= e.Winter.midwinter() {
			n++
		}
	}
	if winters == 0 {
		return math.NaN(), 0
	}
	return float64(n) / float64(winters), winters
}

// EventCount counts the freeze–thaw events that open and close at a site, day after
// day: Winter.Events without when and how hard, at a small part of the cost.
type EventCount struct {
	site          Site
	held          bool
	yesterdayMaxC float64
	Closed        int
}

// CountEvents begins a count at 0.
func CountEvents(site Site) EventCount { return EventCount{site: site, yesterdayMaxC: math.NaN()} }

// Over gives the count after more days, consecutive ones that follow those counted.
func (c EventCount) Over(days []Day) EventCount {
	for _, d := range days {
		minC, maxC := c.site.extremesC(d)
		if math.IsNaN(c.yesterdayMaxC) {
			c.yesterdayMaxC = maxC
		}
		var closes bool
		if c.held, closes = c.site.Params.freezes(c.held, minC-c.site.Params.CanopyDropC(c.yesterdayMaxC, minC), maxC); closes {
			c.Closed++
			c.held = false
		}
		c.yesterdayMaxC = maxC
	}
	return c
}

// midwinter gives the day by which a winter's events are counted.
func (w WinterYear) midwinter() Date {
	if w.South {
		return NewDate(w.Year, time.July, 31)
	}
	return NewDate(w.Year+1, time.January, 31)
}
