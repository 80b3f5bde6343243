package weather

import (
	"errors"
	"fmt"
	"math"

	"wintertop/weather/table"
)

// DropFit is the canopy drop of one place as a logger among the leaves has it:
// a line through nightly drops (field minimum - logger minimum, °C) over the
// range from yesterday's field maximum to the field minimum, °C.
type DropFit struct {
	First, Last Date // first and last night that the line rests on
	Nights      int  // nights that it rests on
	SetAside    int  // nights so far off the line that they count for nothing

	BaseC, PerDegree     float64 // the line: drop without a range, °C, and rise per °C of range
	BaseSEC, PerDegreeSE float64 // their standard errors
	ResidualSDC          float64 // SD of single nights about the line, °C, nights set aside left out

	RangeC  float64 // mean range of all the station's winter nights, °C
	DropC   float64 // drop at that range, °C
	DropSEC float64 // its standard error, from night to night

	// OffDays is 0 where the logger fits the station day for day; -1 or 1 where
	// it fits better with its dates moved a day back or on.
	OffDays int

	sameWinter float64 // chance that two of the nights are of one winter
	params     Params
}

// FitDrop fits the drop to a logger's daily minima, of which the maxima are
// not used. Nights count from October to March, in the south from April to
// September, where the station has the day and the day before as observed and
// the logger has a minimum. The line is fitted by weights that fall to nothing
// for wild nights (a logger under snow, in the sun, carried indoors).
// The error says that the two records have too few nights in common.
func FitDrop(station, logger Record, site Site) (DropFit, error) {
	fit, err := fitDrop(station, logger, site, 0)
	if err != nil {
		return fit, err
	}
	least := fit.ResidualSDC
	for _, days := range []int{-1, 1} {
		if moved, err := fitDrop(station, logger, site, days); err == nil && moved.ResidualSDC < least {
			least, fit.OffDays = moved.ResidualSDC, days
		}
	}
	return fit, nil
}

// fitDrop fits the drop with the logger's dates moved on by some days.
func fitDrop(station, logger Record, site Site, movedDays int) (DropFit, error) {
	f := DropFit{params: site.Params}
	var nights loggerNights
	winterNights, sumC := 0, 0.0
	for i := 1; i < len(station.Days); i++ {
		d, before := station.Days[i], station.Days[i-1]
		w := WinterOf(d.Date, site.South())
		if from, to := w.FrostSeason(); d.Date < from || d.Date > to || d.State != Observed || before.State != Observed {
			continue
		}
		minC, _ := site.fieldC(d.MinC, d.MaxC)
		_, yesterdayMaxC := site.fieldC(before.MinC, before.MaxC)
		winterNights, sumC = winterNights+1, sumC+yesterdayMaxC-minC
		if l, ok := logger.Day(d.Date - Date(movedDays)); ok && l.State != Filled && !math.IsNaN(l.MinC) {
			nights.add(d.Date, w, yesterdayMaxC-minC, minC-l.MinC)
		}
	}
	if len(nights.dates) == 0 {
		return f, errors.New("the logger and the station have no winter night in common")
	}
	f.RangeC = sumC / float64(winterNights)
	return f, f.draw(nights)
}

// loggerNights are the nights on which both station and logger were read.
type loggerNights struct {
	dates         []Date
	winters       []WinterYear
	rangeC, dropC []float64
}

func (n *loggerNights) add(date Date, winter WinterYear, rangeC, dropC float64) {
	n.dates, n.winters = append(n.dates, date), append(n.winters, winter)
	n.rangeC, n.dropC = append(n.rangeC, rangeC), append(n.dropC, dropC)
}

// draw fits the line and its doubt.
func (f *DropFit) draw(nights loggerNights) error {
	const finestC = 0.05 // half the last digit of a reading
	l, weights, reachC := bisquareLine(nights.rangeC, nights.dropC, f.params.LoggerReach, finestC)
	var sum struct{ squares, slopes, pairs, products, residuals float64 }
	var perWinter []float64
	var winter WinterYear // of the night counted last
	last := math.NaN()    // ψ of the night before
	for i, w := range weights {
		if w == 0 {
			f.SetAside++
			last = math.NaN()
			continue
		}
		if f.Nights == 0 {
			f.First = nights.dates[i]
		}
		f.Last = nights.dates[i]
		f.Nights++
		if len(perWinter) == 0 || nights.winters[i] != winter {
			perWinter, winter = append(perWinter, 0), nights.winters[i]
		}
		perWinter[len(perWinter)-1]++
		residual := nights.dropC[i] - l.at(nights.rangeC[i])
		psi, u := w*residual, residual/reachC
		sum.squares += psi * psi
		sum.slopes += (1 - u*u) * (1 - 5*u*u)
		sum.residuals += residual * residual
		if !math.IsNaN(last) && nights.dates[i] == nights.dates[i-1]+1 {
			sum.pairs, sum.products = sum.pairs+1, sum.products+psi*last
		}
		last = psi
	}
	n := float64(f.Nights)
	if f.Nights < 3 || !(l.spread > 0) {
		return fmt.Errorf("%d winter nights of the logger and the station in common cannot carry a line", f.Nights+f.SetAside)
	}
	f.BaseC, f.PerDegree = l.at(0), l.slope
	f.DropC = math.Max(0, math.Min(f.params.DropMaxC, l.at(f.RangeC)))
	f.ResidualSDC = math.Sqrt(sum.residuals / (n - 2))
	meanSlope := sum.slopes / n
	variance := sum.squares / (n - 2) / (meanSlope * meanSlope) // Maronna et al. 2006
	if sum.pairs > 0 && sum.squares > 0 {
		alike := math.Max(0, math.Min(0.9, sum.products/sum.pairs*n/sum.squares))
		variance *= (1 + alike) / (1 - alike) // Wilks 2011
	}
	at := func(rangeC float64) float64 {
		off := rangeC - l.middle
		return math.Sqrt(variance * (1/n + off*off/l.spread))
	}
	f.BaseSEC, f.DropSEC, f.PerDegreeSE = at(0), at(f.RangeC), math.Sqrt(variance/l.spread)
	for _, nights := range perWinter {
		f.sameWinter += nights * nights / (n * n)
	}
	return nil
}

// PlaceSD gives what is left of the doubt about the drop of the place, °C,
// where betweenPlaceSD is that of a place without a logger: nights and winters
// differ, and a sensor among leaves is no leaf. It is the SD of the mean drop
// in years to come about the fitted line as it stands, never more than
// betweenPlaceSD.
func (f DropFit) PlaceSD(betweenPlaceSD float64) float64 {
	p := f.params
	winters := p.LoggerWinterSDC * math.Sqrt(f.sameWinter)
	return math.Min(betweenPlaceSD, math.Hypot(p.LoggerFloorSDC, math.Hypot(f.DropSEC, winters)))
}

// Few says whether the nights are fewer than a line should rest on.
func (f DropFit) Few() bool { return float64(f.Nights) < f.params.LoggerNights }

// Decimals to which a fit is written in tables and site files.
const (
	baseDecimals      = 2
	perDegreeDecimals = 3
)

// Applied gives the site with the fitted drop, as it is written in a site file.
func (f DropFit) Applied(site Site) Site {
	site.Params.DropBaseC = rounded(f.BaseC, baseDecimals)
	site.Params.DropPerDegree = rounded(f.PerDegree, perDegreeDecimals)
	return site
}

func rounded(x float64, decimals int) float64 {
	unit := math.Pow10(decimals)
	return math.Round(x*unit) / unit
}

// DropTable gives drop.csv: one row for the fit of one place.
func DropTable(f DropFit) *table.Table {
	t := table.New("drop", "first_night", "last_night", "nights", "set_aside", "drop_base_c", "drop_base_se",
		"drop_per_degree", "drop_per_degree_se", "residual_sd_c", "mean_range_c", "mean_drop_c", "mean_drop_se")
	t.Add(table.Text(f.First.String()), table.Text(f.Last.String()), table.Int(f.Nights), table.Int(f.SetAside),
		table.Num(f.BaseC, baseDecimals), table.Num(f.BaseSEC, baseDecimals),
		table.Num(f.PerDegree, perDegreeDecimals), table.Num(f.PerDegreeSE, perDegreeDecimals),
		table.Num(f.ResidualSDC, 2), table.Num(f.RangeC, 1), table.Num(f.DropC, 2), table.Num(f.DropSEC, 2))
	return t
}
