package weather

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Nights that resemble the night before carry less than as many unlike ones;
// where every second night was read, nothing is known of that.
func TestFitDropOfNightsAlike(t *testing.T) {
	for _, c := range []struct {
		every int
		want  float64
	}{
		// SD 1, 179 nights, correlation 0.6: Wilks 2011 gives sqrt(1.6/0.4) times as much
		{1, 2 / math.Sqrt(179)},
		{2, 1 / math.Sqrt(89)},
	} {
		random := rand.New(rand.NewPCG(7, 8))
		station := madeStation(NewDate(2012, time.October, 1), 180, random)
		noise := 0.0
		logger := loggerOf(station, still(), func(i int, rangeC float64) float64 {
			if i%c.every != 0 {
				return math.NaN()
			}
			noise = 0.6*noise + 0.8*random.NormFloat64() // SD 1
			return 0.3 + 0.22*rangeC + noise
		})
		f, err := FitDrop(station, logger, still())
		if err != nil {
			t.Fatal(err)
		}
		near(t, "standard error of the mean drop", f.DropSEC, c.want, 0.25*c.want)
	}
}

// The mean drop is that of all the station's winter nights, whatever nights the
// logger saw, and doubt grows with the distance; its nights in a second winter
// count by how many they are.
func TestFitDropOfSomeNights(t *testing.T) {
	random := rand.New(rand.NewPCG(15, 16))
	station := madeStation(NewDate(2012, time.October, 1), 500, random)
	logger := loggerOf(station, still(), func(i int, rangeC float64) float64 {
		if rangeC > 6 || station.Days[i].Date > NewDate(2013, time.October, 31) {
			return math.NaN()
		}
		if days := station.Days[i].Date - NewDate(2013, time.October, 1); days >= 0 && days < 7 {
			return 50 // the second winter begins with a wild week
		}
		return 0.3 + 0.22*rangeC + random.NormFloat64()
	})
	f, err := FitDrop(station, logger, still())
	if err != nil {
		t.Fatal(err)
	}
	sum, n, first, second := 0.0, 0.0, 0.0, 0.0
	for i := 1; i < len(station.Days); i++ {
		if _, month, _ := station.Days[i].Date.YMD(); !inWinter(month) {
			continue
		}
		sum, n = sum+station.Days[i-1].MaxC-station.Days[i].MinC, n+1
		if !(logger.Days[i].MinC > -30) {
			continue
		}
		if station.Days[i].Date < NewDate(2013, time.July, 1) {
			first++
		} else {
			second++
		}
	}
	near(t, "mean range of the station's nights", f.RangeC, sum/n, 1e-9)
	if f.DropSEC < 1.3*f.ResidualSDC/math.Sqrt(float64(f.Nights)) {
		t.Errorf("standard error %.3f, no more than at the logger's own mean range", f.DropSEC)
	}
	near(t, "chance of the same winter", f.sameWinter, (first*first+second*second)/math.Pow(first+second, 2), 1e-9)
}

// The doubt of the place: that between places at most, less the more nights
// and winters, never less than the sensor's own.
func TestPlaceSD(t *testing.T) {
	p := Standard()
	one := DropFit{DropSEC: 0.08, sameWinter: 1, params: p}
	near(t, "one winter", one.PlaceSD(0.35), math.Sqrt(0.08*0.08+0.19*0.19+0.1*0.1), 1e-12)
	near(t, "no more than between places", one.PlaceSD(0.15), 0.15, 0)
	four := DropFit{DropSEC: 0, sameWinter: 0.25, params: p}
	near(t, "four winters", four.PlaceSD(0.35), math.Hypot(0.19/2, 0.1), 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		f := DropFit{DropSEC: rapid.Float64Range(0, 5).Draw(t, "se"), sameWinter: rapid.Float64Range(0, 1).Draw(t, "same"), params: p}
		between := rapid.Float64Range(0.1, 1).Draw(t, "between")
		if sd := f.PlaceSD(between); sd < p.LoggerFloorSDC || sd > between {
			t.Fatalf("SD %v of a place, between places %v", sd, between)
		}
	})
}

// The table and the site carry the same rounded numbers.
func TestDropTable(t *testing.T) {
	f := DropFit{First: NewDate(2012, time.October, 1), Last: NewDate(2013, time.March, 1), Nights: 29, SetAside: 1,
		BaseC: 0.306, BaseSEC: 0.04, PerDegree: 0.2096, PerDegreeSE: 0.0071, ResidualSDC: 1.051, RangeC: 6.51, DropC: 1.674, DropSEC: 0.021, params: Standard()}
	var out strings.Builder
	if err := DropTable(f).CSV(&out); err != nil {
		t.Fatal(err)
	}
	want := "first_night,last_night,nights,set_aside,drop_base_c,drop_base_se,drop_per_degree,drop_per_degree_se,residual_sd_c,mean_range_c,mean_drop_c,mean_drop_se\r\n" +
		"2012-10-01,2013-03-01,29,1,0.31,0.04,0.210,0.007,1.05,6.5,1.67,0.02\r\n"
	if out.String() != want {
		t.Errorf("drop.csv:\n%s\nwant\n%s", out.String(), want)
	}
	p := f.Applied(still()).Params
	near(t, "base of the site", p.DropBaseC, 0.31, 1e-15)
	near(t, "per degree of the site", p.DropPerDegree, 0.21, 1e-15)
	if !f.Few() {
		t.Error("29 nights are not few")
	}
	if f.Nights = 30; f.Few() {
		t.Error("30 nights are few")
	}
}
