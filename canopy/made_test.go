package canopy

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wintertop/weather"
)

// sown is the sowing day of all made-up plantings.
var sown = weather.NewDate(2001, time.July, 5)

var made = Planting{Sown: sown, LastCultivated: sown + 60, PlantsPerM2: 80}

// madeDays are days from sowing to the end of March: a yearly wave about meanC
// with noise that lasts some days, and snow on some cold ones.
func madeDays(seed uint64, meanC float64) []weather.Day {
	random := rand.New(rand.NewPCG(seed, 1))
	var days []weather.Day
	spell, snow := 0.0, 0.0
	for d := sown; d <= weather.NewDate(2002, time.March, 31); d++ {
		spell = 0.8*spell + 2*random.NormFloat64()
		middle := meanC + 7*math.Cos(2*math.Pi*float64(d.DayOfYear()-200)/365) + spell
		half := 2 + 3*random.Float64()
		snow = max(0, snow-5)
		if middle < 0 && random.Float64() < 0.3 {
			snow += 20 * random.Float64()
		}
		days = append(days, weather.Day{Date: d, MinC: middle - half, MaxC: middle + half, RainMM: math.NaN(), SnowCM: snow})
	}
	return days
}

func winterOf(t interface{ Fatal(...any) }, days []weather.Day) *weather.Winter {
	w, err := weather.NewWinter(days, weather.Site{LatitudeDeg: 50, Params: weather.Standard()})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func madeWinter(t interface{ Fatal(...any) }, seed uint64, meanC float64) *weather.Winter {
	return winterOf(t, madeDays(seed, meanC))
}

// anyWinter draws one from warm to harsh.
func anyWinter(t *rapid.T) *weather.Winter {
	return madeWinter(t, rapid.Uint64().Draw(t, "seed"), rapid.Float64Range(6, 14).Draw(t, "mean °C"))
}

func anyTraits(t *rapid.T, name string) Traits {
	return Traits{
		TopSize:    math.Exp(rapid.Float64Range(-1, 1).Draw(t, name+" ln size")),
		HardinessC: rapid.Float64Range(-14, -5).Draw(t, name+" hardiness"),
	}
}

// grown is a stand at the end of w.
func grown(w *weather.Winter, p Planting, params Params, traits ...Traits) *Stand {
	s := Sow(p, traits, params)
	s.Grow(w, 0, len(w.Days)-1, nil)
	return s
}

// near fails where got is further than within from want.
func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, within)
	}
}
