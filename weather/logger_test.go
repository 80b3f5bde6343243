package weather

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// loggerOf gives a logger whose every night is as much colder than the field
// as drop says; drop NaN is no reading.
func loggerOf(station Record, site Site, drop func(i int, rangeC float64) float64) Record {
	logger := Record{Days: make([]Day, len(station.Days))}
	for i, d := range station.Days {
		logger.Days[i] = Day{Date: d.Date, MinC: math.NaN(), MaxC: math.NaN()}
		if i > 0 {
			minC, _ := site.fieldC(d.MinC, d.MaxC)
			_, yesterdayMaxC := site.fieldC(station.Days[i-1].MinC, station.Days[i-1].MaxC)
			logger.Days[i].MinC = minC - drop(i, yesterdayMaxC-minC)
		}
	}
	return logger
}

// madeStation gives some days of weather from a date on.
func madeStation(first Date, days int, random *rand.Rand) Record {
	var r Record
	for i := range days {
		minC := 8*random.Float64() - 5
		r.Days = append(r.Days, Day{Date: first + Date(i), MinC: minC, MaxC: minC + 1 + 12*random.Float64()})
	}
	return r
}

// A logger without noise gives the line back, from the field's own extremes.
func TestFitDropExactly(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	site := still()
	site.MinOffsetC, site.MaxOffsetC = -1.5, 0.5
	station := madeStation(NewDate(2012, time.October, 1), 100, random)
	f, err := FitDrop(station, loggerOf(station, site, func(_ int, rangeC float64) float64 { return 0.4 + 0.2*rangeC }), site)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "base", f.BaseC, 0.4, 1e-6)
	near(t, "per degree", f.PerDegree, 0.2, 1e-7)
	near(t, "residual SD", f.ResidualSDC, 0, 1e-6)
	near(t, "drop of the mean night", f.DropC, 0.4+0.2*f.RangeC, 1e-6)
	near(t, "standard error", f.BaseSEC, 0, 1e-6)
	if f, err = FitDrop(station, loggerOf(station, site, func(_ int, rangeC float64) float64 { return 7 + 0.2*rangeC }), site); err != nil {
		t.Fatal(err)
	}
	near(t, "drop of the mean night, at most", f.DropC, site.Params.DropMaxC, 0)
	if f.Nights != 99 || f.SetAside != 0 || f.First != station.First()+1 || f.Last != station.Last() || f.OffDays != 0 {
		t.Errorf("%+v", f)
	}
}

// Without wild nights and with all weights 1 the standard errors are those of
// ordinary least squares; the bisquare comes near them.
func TestFitDropStandardErrors(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	station := madeStation(NewDate(2012, time.October, 1), 180, random)
	logger := loggerOf(station, still(), func(_ int, rangeC float64) float64 { return 0.3 + 0.22*rangeC + random.NormFloat64() })
	f, err := FitDrop(station, logger, still())
	if err != nil {
		t.Fatal(err)
	}
	var x, y, ones []float64
	for i := 1; i < len(station.Days); i++ {
		x = append(x, station.Days[i-1].MaxC-station.Days[i].MinC)
		y = append(y, station.Days[i].MinC-logger.Days[i].MinC)
		ones = append(ones, 1)
	}
	l := weightedLine(x, y, ones)
	n, squares := float64(len(x)), 0.0
	for i := range x {
		squares += math.Pow(y[i]-l.at(x[i]), 2)
	}
	variance := squares / (n - 2)
	near(t, "residual SD", f.ResidualSDC, math.Sqrt(variance), 0.01)
	near(t, "standard error of the base, share of the ordinary one", f.BaseSEC/math.Sqrt(variance*(1/n+l.middle*l.middle/l.spread)), 1, 0.06)
	near(t, "standard error per degree, share of the ordinary one", f.PerDegreeSE/math.Sqrt(variance/l.spread), 1, 0.06)
	near(t, "standard error of the mean drop, share of the ordinary one", f.DropSEC/math.Sqrt(variance/n), 1, 0.06)
}

// A tenth of the nights is wild, in any direction or all in one; the line is
// found within three standard errors, which ordinary least squares misses by
// far where they all lie on one side.
func TestFitDropDespiteWildNights(t *testing.T) {
	const base, perDegree, runs, nights = 0.3, 0.22, 60, 150
	for name, wild := range map[string]func(*rand.Rand) float64{
		"any":   func(r *rand.Rand) float64 { return 20*r.Float64() - 10 },
		"warm":  func(r *rand.Rand) float64 { return -3 - 9*r.Float64() },
		"stuck": func(*rand.Rand) float64 { return 60 },
	} {
		random := rand.New(rand.NewPCG(5, 6))
		worst, ordinary, aside := 0.0, 0.0, 0
		for range runs {
			station := madeStation(NewDate(2012, time.October, 20), nights+1, random)
			logger := loggerOf(station, still(), func(i int, rangeC float64) float64 {
				if i%10 == 5 {
					return wild(random)
				}
				return base + perDegree*rangeC + 0.8*random.NormFloat64()
			})
			f, err := FitDrop(station, logger, still())
			if err != nil {
				t.Fatal(err)
			}
			worst = math.Max(worst, math.Max(math.Abs(f.BaseC-base)/f.BaseSEC, math.Abs(f.PerDegree-perDegree)/f.PerDegreeSE))
			aside += f.SetAside
			var x, y, ones []float64
			for i := 1; i < len(station.Days); i++ {
				x = append(x, station.Days[i-1].MaxC-station.Days[i].MinC)
				y = append(y, station.Days[i].MinC-logger.Days[i].MinC)
				ones = append(ones, 1)
			}
			ordinary += math.Abs(weightedLine(x, y, ones).at(f.RangeC)-base-perDegree*f.RangeC) / runs
		}
		t.Logf("%s: at worst %.2f standard errors off over %d loggers, %.1f nights set aside; ordinary least squares %.2f °C off on average", name, worst, runs, float64(aside)/runs, ordinary)
		if name != "any" && ordinary < 0.5 {
			t.Errorf("%s: ordinary least squares is only %.2f °C off: no test of a robust line", name, ordinary)
		}
		if worst > 3 {
			t.Errorf("%s: %.2f standard errors off", name, worst)
		}
		if share := float64(aside) / (runs * nights); share < 0.03 || share > 0.11 {
			t.Errorf("%s: %.3f of the nights set aside, where 0.1 are wild", name, share)
		}
	}
}
