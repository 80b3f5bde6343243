package weather

import (
	"errors"
	"fmt"
	"math"
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
	if len(days) == 0 {
		return nil, errors.New("a winter without days")
	}
	for i, d := range days {
		if want := days[0].Date + Date(i); d.Date != want {
			return nil, fmt.Errorf("%s stands where %s should follow", d.Date, want)
		}
		if d.lacksExtremes() {
			return nil, fmt.Errorf("no temperature on %s", d.Date)
		}
	}
	w := follow(days, site)
	w.light()
	return w, nil
}

// lacksExtremes says whether the day cannot be followed.
func (d Day) lacksExtremes() bool {
	return d.State == Missing || math.IsNaN(d.MinC) || math.IsNaN(d.MaxC)
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

// follow computes a Winter from consecutive days of which some may be
// missing: their values are NaN, and hardening is carried over them. The light is
// not in it.
func follow(days []Day, site Site) *Winter {
	n := len(days)
	all := make([]float64, 7*n)
	take := func() []float64 { s := all[:n:n]; all = all[n:]; return s }
	w := &Winter{
		Site: site, Days: days,
		MinC: take(), MaxC: take(), MeanC: take(), DayC: take(),
		CanopyMinC: take(), Hardening: take(), SnowCM: take(),
		Closing: make([]int32, n),
	}
	if n == 0 {
		return w
	}
	w.First = days[0].Date
	p := site.Params
	yesterdayMaxC, index := math.NaN(), 0.0
	for i, d := range days {
		minC, maxC := site.extremesC(d)
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
	w.findEvents()
	return w
}

// light fills in what light there is for leaves.
func (w *Winter) light() {
	p, aboveMJ, kRs := w.Site.Params, extraterrestrialOver(w.Site.LatitudeDeg), w.Site.radiation()
	w.PARMJ = make([]float64, len(w.Days))
	for i, d := range w.Days {
		w.PARMJ[i] = p.PARShare * p.GlobalMJ(aboveMJ[d.Date.DayOfYear()], d.MinC, d.MaxC, kRs)
	}
}
