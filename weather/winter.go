package weather

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Winter is everything that depends on weather alone, computed once for one
// run of days, often from sowing to the winter's last day. All slices have
// one value per day of Days.
type Winter struct {
	Site  Site
	First Date
	Days  []Day // station values, none missing

	MinC, MaxC []float64 // field values at screen height
	MeanC      []float64 // (minimum + maximum) / 2
	DayC       []float64 // (mean + maximum) / 2, the temperature of daylight
	PARMJ      []float64 // photosynthetically active radiation, MJ m⁻² d⁻¹
	CanopyMinC []float64 // lowest temperature of exposed leaves
	Hardening  []float64 // hardening index; day i has updated it
	SnowCM     []float64 // 0 where none is reported

	Events  []Event
	Closing []int32 // index into Events of the event that closes on day i, else -1
}

// NewWinter computes a Winter from a run of consecutive days at a site.
// Hardening starts at 0 before the first day. The error names the first day that
// is missing or out of order. days is kept, not copied.
func NewWinter(days []Day, site Site) (*Winter, error) {
	return (&Winter{Site: site}).Continue(days)
}

// Continue is NewWinter for days that begin with those of w, which are not worked
// out again: no day bears on what comes before it. It panics where they begin on
// another day or are fewer.
func (w *Winter) Continue(days []Day) (*Winter, error) {
	if len(days) == 0 {
		return nil, errors.New("a winter without days")
	}
	if n := len(w.Days); n > 0 && (len(days) < n || days[0].Date != w.First) {
		panic(fmt.Sprintf("weather: %d days from %s do not continue %d from %s", len(days), days[0].Date, n, w.First))
	}
	for i := len(w.Days); i < len(days); i++ {
		d := days[i]
		if want := days[0].Date + Date(i); d.Date != want {
			return nil, fmt.Errorf("%s stands where %s should follow", d.Date, want)
		}
		if d.lacksExtremes() {
			return nil, fmt.Errorf("no temperature on %s", d.Date)
		}
	}
	longer := w.follow(days)
	longer.light(w.PARMJ)
	return longer, nil
}

// lacksExtremes says whether the day cannot be followed.
func (d Day) lacksExtremes() bool {
	return d.State == Missing || math.IsNaN(d.MinC) || math.IsNaN(d.MaxC)
}

// Known gives how many of some days there are before the first that lacks an
// extreme.
func Known(days []Day) int {
	if n := slices.IndexFunc(days, Day.lacksExtremes); n >= 0 {
		return n
	}
	return len(days)
}

// extremesC gives the field's extremes on a day, NaN where it lacks one.
func (s Site) extremesC(d Day) (minC, maxC float64) {
	if d.lacksExtremes() {
		return math.NaN(), math.NaN()
	}
	return s.fieldC(d.MinC, d.MaxC)
}

// Index gives the position of the day d in the slices of w; it is outside
// them where d is outside the run.
func (w *Winter) Index(d Date) int { return int(d - w.First) }

// follow computes a Winter from consecutive days, the first of which are those of
// before. Some may be missing: their values are NaN, and hardening is carried over
// them. The light is not in it.
func (before *Winter) follow(days []Day) *Winter {
	n := len(days)
	all := make([]float64, 7*n)
	take := func(known []float64) []float64 {
		s := all[:n:n]
		all = all[n:]
		copy(s, known)
		return s
	}
	w := &Winter{
		Site: before.Site, Days: days,
		MinC: take(before.MinC), MaxC: take(before.MaxC), MeanC: take(before.MeanC), DayC: take(before.DayC),
		CanopyMinC: take(before.CanopyMinC), Hardening: take(before.Hardening), SnowCM: take(before.SnowCM),
		Events: slices.Clone(before.Events), Closing: make([]int32, n),
	}
	copy(w.Closing, before.Closing)
	if n == 0 {
		return w
	}
	w.First = days[0].Date
	p, known := w.Site.Params, len(before.Days)
	yesterdayMaxC, index := math.NaN(), 0.0
	if known > 0 {
		yesterdayMaxC, index = w.MaxC[known-1], w.Hardening[known-1]
	}
	for i := known; i < n; i++ {
		d := days[i]
		minC, maxC := w.Site.extremesC(d)
		if math.IsNaN(yesterdayMaxC) {
			yesterdayMaxC = maxC
		}
		w.MinC[i], w.MaxC[i] = minC, maxC
		w.MeanC[i] = (minC + maxC) / 2
		w.DayC[i] = (w.MeanC[i] + maxC) / 2
		w.CanopyMinC[i] = minC - p.CanopyDropC(yesterdayMaxC, minC)
		if !math.IsNaN(w.MeanC[i]) {
			index = p.Harden(index, w.MeanC[i])
		}
		w.Hardening[i] = index
		w.SnowCM[i] = math.Max(0, d.SnowCM)
		if math.IsNaN(d.SnowCM) {
			w.SnowCM[i] = 0
		}
		yesterdayMaxC = maxC
	}
	w.findEvents(known)
	return w
}

// light fills in what light there is for leaves, that of the first days known.
func (w *Winter) light(known []float64) {
	p, aboveMJ, kRs := w.Site.Params, extraterrestrialOver(w.Site.LatitudeDeg), w.Site.radiation()
	w.PARMJ = make([]float64, len(w.Days))
	copy(w.PARMJ, known)
	for i := len(known); i < len(w.Days); i++ {
		d := w.Days[i]
		w.PARMJ[i] = p.PARShare * p.GlobalMJ(aboveMJ[d.Date.DayOfYear()], d.MinC, d.MaxC, kRs)
	}
}
