package weather

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// What does not count: summer nights, missing and filled ones, nights after a
// day that was not read.
func TestFitDropNights(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	drop := func(_ int, rangeC float64) float64 { return 0.4 + 0.2*rangeC }
	for _, c := range []struct {
		name   string
		site   Site
		change func(station, logger Record)
		nights int
	}{
		{"all", still(), func(Record, Record) {}, 92 + 90},
		{"south", Site{LatitudeDeg: -40, Params: Standard()}, func(Record, Record) {}, 92 + 91},
		{"station filled", still(), func(s, _ Record) { s.Days[50].State = Filled }, 180},
		{"station missing", still(), func(s, _ Record) {
			for _, i := range []int{60, 200} { // 200 lies in summer
				s.Days[i] = Day{Date: s.Days[i].Date, MinC: math.NaN(), MaxC: math.NaN(), State: Missing}
			}
		}, 180},
		{"logger filled", still(), func(_, l Record) { l.Days[10].State = Filled }, 181},
		{"logger without a maximum", still(), func(_, l Record) { l.Days[10].State = Missing }, 182},
		{"logger silent", still(), func(_, l Record) { l.Days[10].MinC = math.NaN() }, 181},
	} {
		first := NewDate(2012, time.December, 31) // a day before the first night
		station := madeStation(first, 366, random)
		logger := loggerOf(station, c.site, drop)
		c.change(station, logger)
		f, err := FitDrop(station, logger, c.site)
		if err != nil {
			t.Fatal(err)
		}
		if f.Nights+f.SetAside != c.nights {
			t.Errorf("%s: %d nights, want %d", c.name, f.Nights+f.SetAside, c.nights)
		}
	}
}

func TestFitDropErrors(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	station := madeStation(NewDate(2012, time.October, 1), 60, random)
	logger := loggerOf(station, still(), func(_ int, rangeC float64) float64 { return 0.3 })
	flat := Record{Days: daysOf(station.First(), [2]float64{1, 5}, [2]float64{1, 5}, [2]float64{1, 5}, [2]float64{1, 5})}
	for name, c := range map[string]struct {
		station, logger Record
		want            string
	}{
		"no logger":     {station, Record{}, "no winter night in common"},
		"summer only":   {madeStation(NewDate(2012, time.June, 1), 60, random), logger, "no winter night in common"},
		"two nights":    {Record{Days: station.Days[:3]}, logger, "2 winter nights"},
		"ranges alike":  {flat, logger, "3 winter nights"},
		"three nights":  {Record{Days: station.Days[:4]}, logger, ""},
		"empty station": {Record{}, logger, "no winter night in common"},
	} {
		switch _, err := FitDrop(c.station, c.logger, still()); {
		case err == nil && c.want != "", err != nil && (c.want == "" || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: error %v, want %q", name, err, c.want)
		}
	}
}

// A logger whose clock is a day off fits better moved.
func TestFitDropOffByADay(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 14))
	station := madeStation(NewDate(2012, time.October, 1), 120, random)
	for _, days := range []int{-1, 0, 1} {
		logger := loggerOf(station, still(), func(_ int, rangeC float64) float64 { return 0.3 + 0.2*rangeC + random.NormFloat64() })
		for i := range logger.Days {
			logger.Days[i].Date -= Date(days)
		}
		f, err := FitDrop(station, logger, still())
		if err != nil {
			t.Fatal(err)
		}
		if f.OffDays != days {
			t.Errorf("found %d days off, want %d", f.OffDays, days)
		}
	}
}
