package weather

import "math"

// WinterCount holds the day counts of one winter, from station values as
// reported, observed days only. Days counts the winter's days within the record
// and Missing those of them that lack an extreme. ColdestC is the lowest
// reported minimum in °C and RainMM the sum of the reported rain in mm; each is
// NaN where the winter has none.
type WinterCount struct {
	Winter                                                   WinterYear
	Days, Missing                                            int
	FrostDays, IceDays, FreezeThawDays, SevereFreezeThawDays int
	ColdestC, RainMM                                         float64
	Complete                                                 bool
}

const (
	frostC        = 0    // ETCCDI FD: minimum < 0; ID: maximum < 0
	severeFreezeC = -2.2 // Schmidlin et al. 1987: minimum <= -2.2 with a maximum >= 0
)

// CountWinters counts the days of every winter that the record touches, in
// order; south takes the calendar year as the winter. The record is to be as
// observed, not filled.
func (r Record) CountWinters(south bool) []WinterCount {
	var counts []WinterCount
	if len(r.Days) == 0 {
		return nil
	}
	for w := WinterOf(r.First(), south); w.First() <= r.Last(); w = w.Next() {
		c := WinterCount{Winter: w, ColdestC: math.NaN(), RainMM: math.NaN(), Complete: r.Complete(w)}
		for _, day := range r.Slice(w.First(), w.Last()) {
			c.add(day)
		}
		counts = append(counts, c)
	}
	return counts
}

func (c *WinterCount) add(day Day) {
	c.Days++
	if !math.IsNaN(day.RainMM) {
		c.RainMM = orElse(c.RainMM, 0) + day.RainMM
	}
	if day.State != Filled && !(day.MinC >= c.ColdestC) && !math.IsNaN(day.MinC) {
		c.ColdestC = day.MinC
	}
	if day.State != Observed {
		c.Missing++
		return
	}
	frost, ice := day.MinC < frostC, day.MaxC < frostC // ETCCDI FD, ID
	if frost {
		c.FrostDays++
	}
	if ice {
		c.IceDays++
	}
	if frost && !ice {
		c.FreezeThawDays++
	}
	if day.MinC <= severeFreezeC && !ice { // Schmidlin et al. 1987
		c.SevereFreezeThawDays++
	}
}
