package forecast

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"wintertop/canopy"
	"wintertop/weather"
)

var long = flag.Bool("long", false, "run the checks of learning at full size: minutes")

// made is an invented trial: lines whose true traits are known, and notes drawn
// as learning supposes that notes come about, or not quite.
type made struct {
	params  Params // of learning
	lines   int
	winters int
	plots   int

	winterSize, winterLength, winterHardC float64 // true line × winter deviations
	allHardC                              float64 // a winter deviates for all lines alike
	colderC                               float64 // the canopy is so much colder than the station lets think
	grow                                  grower  // the truth; the canopy of the product where nil
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
func (m made) build(rng *rand.Rand, record weather.Record, firstYear int) (*Trial, []truth) {
	site := standardSite()
	site.Weather.LatitudeDeg, site.Weather.Coast, site.Params = 52, true, m.params
	place := &Place{Site: site, Record: record, Filled: record}
	trial := &Trial{Places: []*Place{place}}
	std := Standard()
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
	walks := map[weather.Date]bool{ // true: heights as well
		weather.NewDate(year, time.October, 15): true, weather.NewDate(year, time.December, 12): false, weather.NewDate(year+1, time.January, 10): false,
		weather.NewDate(year+1, time.February, 1): true, weather.NewDate(year+1, time.February, 20): false, weather.NewDate(year+1, time.March, 12): false,
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

// tally counts how often the middle nine tenths of what is learned hold the
// truth, and how well the means follow it.
type tally struct {
	n       int
	covered [traits]int
	mean    [traits][]float64
	true    [traits][]float64
}

func (c *tally) add(l *Learning, lines []truth) {
	for i, t := range lines {
		size, hard, length := l.general[i].marginals()
		c.n++
		for trait, x := range []struct {
			at, weight []float64
			true       float64
		}{{l.grid.SizeLn, size, t.sizeLn}, {l.grid.HardC, hard, t.hardC}, {l.grid.LengthLn, length, t.lengthLn}} {
			below, step := 0.0, x.at[1]-x.at[0]
			for k, p := range x.weight {
				below += p * min(max((x.true-x.at[k])/step+0.5, 0), 1)
			}
			if below > 0.05 && below < 0.95 {
				c.covered[trait]++
			}
			mean, _ := moments(x.at, x.weight)
			c.mean[trait], c.true[trait] = append(c.mean[trait], mean), append(c.true[trait], x.true)
		}
	}
}

func (c *tally) share(trait int) float64 { return float64(c.covered[trait]) / float64(c.n) }

func (c *tally) String() string {
	return fmt.Sprintf("n %d; 90 %% intervals hold size %.3f, hardiness %.3f, length %.3f; correlations %.3f, %.3f, %.3f", c.n,
		c.share(sizeTrait), c.share(hardTrait), c.share(lengthTrait), correlation(c.mean[0], c.true[0]), correlation(c.mean[1], c.true[1]), correlation(c.mean[2], c.true[2]))
}

func correlation(x, y []float64) float64 {
	var mx, my, xx, yy, xy float64
	for i := range x {
		mx, my = mx+x[i]/float64(len(x)), my+y[i]/float64(len(x))
	}
	for i := range x {
		xx, yy, xy = xx+square(x[i]-mx), yy+square(y[i]-my), xy+(x[i]-mx)*(y[i]-my)
	}
	return xy / math.Sqrt(xx*yy)
}

func (m made) run(t testing.TB, c *tally, seed uint64) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 5))
	record := inventedWeather(rng, 2001, m.winters)
	trial, lines := m.build(rng, record, 2001)
	l, _, err := Learn(context.Background(), trial)
	if err != nil {
		t.Fatal(err)
	}
	c.add(l, lines)
}

// Lines drawn from the prior, notes drawn with the line × winter, trial, plot
// and plant deviations really in them: the middle 90 % of what is learned must
// hold the truth nine times in ten. Full size with -long: 300 lines after 2, 4
// and 8 winters, with the population at its prior (84–96 %) and estimated (at
// least 82 %). Here one small trial; with 20 lines a share of 0.9 has a standard
// error of 0.07, and where the mean is estimated one error moves all lines.
func TestIntervalsHoldTheTruth(t *testing.T) {
	type size struct{ trials, lines, winters int }
	sizes, low, high, lowEstimated := []size{{1, 20, 2}}, 0.70, 1.0, 0.60
	if *long {
		sizes, low, high, lowEstimated = []size{{5, 60, 2}, {5, 60, 4}, {5, 60, 8}}, 0.84, 0.96, 0.82
	}
	for _, s := range sizes {
		for _, estimated := range []bool{false, true} {
			m := usualTrial(s.lines, s.winters)
			floor, ceiling := lowEstimated, 1.0
			if !estimated {
				m.params, floor, ceiling = fixed(m.params), low, high
			}
			var c tally
			for k := range s.trials {
				m.run(t, &c, uint64(100*s.winters+k))
			}
			t.Logf("%d winters, population estimated %t: %s", s.winters, estimated, &c)
			for trait := range traits {
				if x := c.share(trait); x < floor || x > ceiling {
					t.Errorf("%d winters, population estimated %t, trait %d: 90 %% intervals hold the truth in %.3f", s.winters, estimated, trait, x)
				}
			}
		}
	}
}

// What the check above is for: with the line × winter deviations in the notes
// but not in learning, hardiness seems far better known than it is.
func TestWithoutLineByWinterIntervalsAreTooNarrow(t *testing.T) {
	m := usualTrial(16, 2)
	m.params = fixed(m.params)
	m.params.LineWinterSizeSD, m.params.LineWinterLengthSD, m.params.LineWinterHardSDC = 0, 0, 0
	var c tally
	m.run(t, &c, 7)
	t.Log(&c)
	if x := c.share(hardTrait); x > 0.7 {
		t.Errorf("without the line × winter term 90 %% intervals of hardiness hold the truth in %.3f", x)
	}
}
