package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"wintertop/canopy"
	"wintertop/weather"
)

// made is an invented trial: lines whose true traits are known, and notes drawn
// as learning supposes that notes come about, or not quite.
type made struct {
	params  Params // of learning
	lines   int
	winters int
	plots   int

	winterSize, winterLength, winterHardC float64                              // true line × winter deviations
	allHardC                              float64                              // a winter deviates for all lines alike
	colderC                               float64                              // the canopy is so much colder than the station lets think
	inWinter                              map[int][]truth                      // what the lines truly are in each winter
	grow                                  grower                               // the truth; the canopy of the product where nil
	walks                                 func(year int) map[weather.Date]bool // days of notes, true: heights as well; usualWalks where nil
}

// grower plays lines of some traits through a winter and shows leaf mass (g dry)
// and height relative to the top length day by day.
type grower func(c canopy.Planting, of []canopy.Traits, w *weather.Winter, see func(day int, leafG, height []float64))

// ownCanopy is the product's.
func ownCanopy(c canopy.Planting, of []canopy.Traits, w *weather.Winter, see func(day int, leafG, height []float64)) {
	canopy.Sow(c, of, canopy.Standard()).Grow(w, 0, len(w.Days)-1, func(day int, s *canopy.Stand) {
		see(day, s.LeafG(nil), s.RelativeHeight(nil))
	})
}

func usualTrial(lines, winters int) made {
	p := Standard()
	return made{params: p, lines: lines, winters: winters, plots: 2,
		winterSize: p.LineWinterSizeSD, winterLength: p.LineWinterLengthSD, winterHardC: p.LineWinterHardSDC,
		allHardC: p.WinterHardSDC}
}

// fixed leaves the population at its prior.
func fixed(p Params) Params {
	p.MeanSizeSDLn, p.MeanLengthSDLn, p.MeanHardSDC, p.PlaceSDC, p.PopulationLines = 1e-6, 1e-6, 1e-6, 1e-6, 1e9
	return p
}

// inventedWeather gives years of weather as at 52° N near a coast: a yearly
// wave, spells of days, and winters that differ.
func inventedWeather(rng *rand.Rand, firstYear, years int) weather.Record {
	r := weather.Record{File: "invented.csv", Station: "invented"}
	spell, winter := 0.0, 0.0
	for d := weather.NewDate(firstYear, time.June, 1); d <= weather.NewDate(firstYear+years, time.June, 30); d++ {
		_, month, dayOf := d.YMD()
		if month == time.October && dayOf == 1 {
			winter = 1.5 * rng.NormFloat64()
		}
		year := 2 * math.Pi * float64(d-weather.NewDate(firstYear, time.January, 24)) / 365.25
		spell = 0.8*spell + 2.1*rng.NormFloat64()
		mean := 10 - 8*math.Cos(year) + spell
		if month >= time.October || month <= time.March {
			mean += winter
		}
		reach := max(1, 3.5-1.5*math.Cos(year)+1.2*rng.NormFloat64())
		r.Days = append(r.Days, weather.Day{Date: d, MinC: mean - reach, MaxC: mean + reach, RainMM: math.NaN(), SnowCM: math.NaN()})
	}
	return r
}

// truth is what is true of a made line.
type truth struct{ sizeLn, hardC, lengthLn float64 }

// build draws the lines and their notes.
func (m *made) build(rng *rand.Rand, record weather.Record, firstYear int) (*Trial, []truth) {
	site := standardSite()
	site.Weather.LatitudeDeg, site.Weather.Coast, site.Params = 52, true, m.params
	place := &Place{Site: site, Record: record, Filled: record}
	trial := &Trial{Places: []*Place{place}}
	std := Standard()
	m.inWinter = map[int][]truth{}
	var lines []truth
	for i := range m.lines {
		lines = append(lines, truth{std.TopSizeSDLn * rng.NormFloat64(), std.HardinessC + std.HardinessSDC*rng.NormFloat64(), math.Log(std.TopLengthCM) + std.TopLengthSD*rng.NormFloat64()})
		trial.Lines = append(trial.Lines, Line{Name: fmt.Sprintf("L%03d", i), Prior: noPrior()})
	}
	for y := firstYear; y < firstYear+m.winters; y++ {
		m.addWinter(rng, trial, place, lines, y)
	}
	return trial, lines
}

func noPrior() LinePrior {
	n := math.NaN()
	return LinePrior{n, n, n, n, n, n}
}

// addWinter sows all lines in one summer and notes them on six days.
func (m made) addWinter(rng *rand.Rand, trial *Trial, place *Place, lines []truth, year int) {
	sown := weather.NewDate(year, time.July, 5)
	sowing := canopy.Planting{Sown: sown, LastCultivated: sown + 60, PlantsPerM2: 80}
	truly := place.Site.Weather
	truly.Params.DropBaseC += m.colderC
	w, err := weather.NewWinter(place.Record.Slice(sown, weather.NewDate(year+1, time.March, 31)), truly)
	if err != nil {
		panic(err)
	}
	var now []canopy.Traits
	var lengths []float64
	ofWinter := m.allHardC * rng.NormFloat64()
	for _, l := range lines {
		now = append(now, canopy.Traits{TopSize: math.Exp(l.sizeLn + m.winterSize*rng.NormFloat64()), HardinessC: l.hardC + ofWinter + m.winterHardC*rng.NormFloat64()})
		lengths = append(lengths, math.Exp(l.lengthLn+m.winterLength*rng.NormFloat64()))
	}
	if m.inWinter != nil {
		for i, x := range now {
			m.inWinter[year] = append(m.inWinter[year], truth{math.Log(x.TopSize), x.HardinessC, math.Log(lengths[i])})
		}
	}
	p, stand := Standard(), canopy.Standard()
	ofTrial := p.TrialSDLn * rng.NormFloat64()
	type plot struct{ mass, height float64 }
	plots := make([]plot, len(lines)*m.plots)
	for i := range plots {
		plots[i] = plot{p.PlotMassSDLn * rng.NormFloat64(), p.PlotHeightSDLn * rng.NormFloat64()}
		name := fmt.Sprintf("%d-%s-%s-%d", year, place.Name, trial.Lines[i/m.plots].Name, i%m.plots)
		trial.Plantings = append(trial.Plantings, Planting{Name: name, Place: place.Name, Line: trial.Lines[i/m.plots].Name, Sown: sown, LastCultivated: sown + 60, PlantsPerM2: 80,
			Winter: weather.WinterYear{Year: year}})
	}
	first := len(trial.Plantings) - len(plots)
	const plants = 10
	meanOf := func(lnSD float64) float64 {
		sum := 0.0
		for range plants {
			sum += math.Exp(lnSD*rng.NormFloat64() - lnSD*lnSD/2)
		}
		return sum / plants
	}
	walks := usualWalks(year)
	if m.walks != nil {
		walks = m.walks(year)
	}
	grow := m.grow
	if grow == nil {
		grow = ownCanopy
	}
	grow(sowing, now, w, func(day int, leaf, height []float64) {
		date := w.First + weather.Date(day)
		tall, noted := walks[date]
		if !noted {
			return
		}
		for i, plot := range plots {
			note := func(t Trait, value float64) {
				trial.Notes = append(trial.Notes, Note{Date: date, Planting: trial.Plantings[first+i].Name, Trait: t, Value: value, Plants: plants})
			}
			line := i / m.plots
			note(LeafMass, math.Round(10*leaf[line]/stand.DryShare*math.Exp(ofTrial+plot.mass)*meanOf(stand.MassLnSD))/10)
			if tall {
				note(TopHeight, math.Round(lengths[line]*height[line]*math.Exp(plot.height)*meanOf(stand.HeightLnSD)))
			}
		}
	})
}

// usualWalks are the six days of notes of a made winter.
func usualWalks(year int) map[weather.Date]bool {
	return map[weather.Date]bool{
		weather.NewDate(year, time.October, 15): true, weather.NewDate(year, time.December, 12): false, weather.NewDate(year+1, time.January, 10): false,
		weather.NewDate(year+1, time.February, 1): true, weather.NewDate(year+1, time.February, 20): false, weather.NewDate(year+1, time.March, 12): false,
	}
}

// inSeason gives the density of a line's traits in one season, its own notes and
// all others known.
func (l *Learning) inSeason(line int, s season) weights {
	room := newLookRoom()
	return l.withNotes(l.expected(line, s, room), s, room).byCell(l.grid)
}

// alike gives another place with the same site and weather.
func alike(p *Place) *Place {
	return &Place{Name: p.Name, Site: p.Site, Record: p.Record, Filled: p.Filled, Ahead: p.Ahead}
}

// learnedOf learns from a usual trial of so many lines and winters.
func learnedOf(t *testing.T, lines, winters int, seed uint64) (*Trial, *Learning) {
	t.Helper()
	m := usualTrial(lines, winters)
	rng := rand.New(rand.NewPCG(seed, 5))
	trial, _ := m.build(rng, inventedWeather(rng, 2001, winters), 2001)
	return trial, learn(t, trial)
}
