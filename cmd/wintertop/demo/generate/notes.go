package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"wintertop/canopy"
	"wintertop/weather"
)

// spread is what makes a note differ from what the line's true traits give:
// standard deviations, of logarithms unless a unit says otherwise.
type spread struct {
	winterSize, winterLength, winterHardinessC float64 // of a line in one winter
	trialMass                                  float64 // shared by all lines of a winter
	plotMass, plotHeight                       float64
	leaves                                     float64 // live leaves of a plant, a plain SD
	weed                                       float64 // of a plot, on the logit scale
}

func usual() spread {
	return spread{
		winterSize: 0.12, winterLength: 0.06, winterHardinessC: 0.5,
		trialMass: 0.15, plotMass: 0.20, plotHeight: 0.10,
		leaves: 1.5, weed: 0.4,
	}
}

const (
	pulledPlants   = 12 // weighed, and their leaves counted
	measuredPlants = 20
)

// crop is what the model gives for one planting on one day.
type crop struct{ leafG, relativeHeight, liveLeaves, weedCover float64 }

// notesCSV walks the plantings as a person would: on the planned days, or the
// first mild ones after them, with a balance, a ruler and a rounded pen.
func notesCSV(seed uint64, site weather.Site, days []weather.Day, fields []field, lines []line) []byte {
	rng := rand.New(rand.NewPCG(seed, 2))
	rows := [][]string{{"date", "planting", "trait", "value", "unit", "plants"}}
	s := usual()
	for _, f := range fields {
		w := winterOf(f, site, days)
		walks := thawed(f.walks, w)
		trial := s.trialMass * rng.NormFloat64()
		perLine := map[*line]walker{}
		for _, p := range plantings(lines, []field{f}) {
			k, begun := perLine[p.line]
			if !begun {
				k = s.meet(rng, p, trial, w, walks)
				perLine[p.line] = k
			}
			plot := s.plot(rng)
			if p.line.noted {
				rows = append(rows, k.walk(rng, s, p, plot)...)
			}
		}
	}
	return csvBytes(rows)
}

// winterOf gives the weather of a trial from sowing to the end of its winter
// or of the record.
func winterOf(f field, site weather.Site, days []weather.Day) *weather.Winter {
	from := int(f.sown - days[0].Date)
	to := min(from+300, len(days))
	w, err := weather.NewWinter(days[from:to], site)
	if err != nil {
		panic(err)
	}
	return w
}

// thawed moves each planned day to the first mild one from it on: nobody notes
// frozen tops.
func thawed(planned []weather.Date, w *weather.Winter) []weather.Date {
	var walks []weather.Date
	for _, d := range planned {
		for i := w.Index(d); i < len(w.Days); i++ {
			if w.CanopyMinC[i] > 0 && w.MaxC[i] >= 5 {
				walks = append(walks, w.First+weather.Date(i))
				break
			}
		}
	}
	return walks
}

// walker knows one line in one winter.
type walker struct {
	walks       []weather.Date
	seen        []crop
	topLengthCM float64
	trial       float64
}

func (s spread) meet(rng *rand.Rand, p planting, trial float64, w *weather.Winter, walks []weather.Date) walker {
	traits := p.line.traits
	traits.TopSize *= math.Exp(s.winterSize * rng.NormFloat64())
	traits.HardinessC += s.winterHardinessC * rng.NormFloat64()
	k := walker{walks: walks, trial: trial, topLengthCM: p.line.topLengthCM * math.Exp(s.winterLength*rng.NormFloat64())}
	stand := canopy.Sow(canopy.Planting{Sown: p.sown, LastCultivated: p.lastCultivated, PlantsPerM2: p.plantsPerM2}, []canopy.Traits{traits}, canopy.Standard())
	day := 0
	for _, d := range walks {
		to := w.Index(d)
		stand.Grow(w, day, to, nil)
		day = to + 1
		k.seen = append(k.seen, crop{stand.LeafG(nil)[0], stand.RelativeHeight(nil)[0], stand.LiveLeaves(nil)[0], stand.WeedCover(nil)[0]})
	}
	return k
}

// plot is what the ground of one plot does to its notes.
type plot struct{ mass, height, weed float64 }

func (s spread) plot(rng *rand.Rand) plot {
	return plot{s.plotMass * rng.NormFloat64(), s.plotHeight * rng.NormFloat64(), s.weed * rng.NormFloat64()}
}

// walk notes one plot on every day of walking.
func (k walker) walk(rng *rand.Rand, s spread, p planting, g plot) (rows [][]string) {
	stand := canopy.Standard()
	for i, d := range k.walks {
		c := k.seen[i]
		note := func(trait, value, unit string, plants int) {
			rows = append(rows, []string{d.String(), p.name, trait, value, unit, fmt.Sprint(plants)})
		}
		freshG := meanOf(rng, pulledPlants, c.leafG/stand.DryShare*math.Exp(k.trial+g.mass), stand.MassLnSD)
		note("leaf_mass", fmt.Sprintf("%.1f", freshG), "g", pulledPlants)
		lengthCM := k.topLengthCM * math.Exp(g.height)
		note("top_height", fmt.Sprintf("%.0f", meanOf(rng, measuredPlants, lengthCM*c.relativeHeight, stand.HeightLnSD)), "cm", measuredPlants)
		if i == 0 {
			note("top_length", fmt.Sprintf("%.0f", meanOf(rng, pulledPlants, lengthCM, stand.HeightLnSD)), "cm", pulledPlants)
		}
		if i == 0 || i == 4 {
			leaves := max(0, c.liveLeaves+s.leaves/math.Sqrt(pulledPlants)*rng.NormFloat64())
			note("live_leaves", fmt.Sprintf("%.1f", leaves), "", pulledPlants)
		}
		if i == len(k.walks)-1 && i > 4 {
			cover := 1 / (1 + math.Exp(-logit(c.weedCover)-g.weed))
			note("weed_cover", fmt.Sprintf("%.0f", byEye(100*cover)), "%", 1)
		}
	}
	return rows
}

// meanOf draws n plants of a lognormal stand and gives their mean.
func meanOf(rng *rand.Rand, n int, mean, lnSD float64) float64 {
	sum := 0.0
	for range n {
		sum += mean * math.Exp(lnSD*rng.NormFloat64()-lnSD*lnSD/2)
	}
	return sum / float64(n)
}

func logit(share float64) float64 { return math.Log(share / (1 - share)) }

// byEye rounds a percentage as the eye does: to 1, 2, 5 and then to fives.
func byEye(percent float64) float64 {
	switch {
	case percent < 3.5:
		return max(1, math.Round(percent))
	default:
		return 5 * math.Round(percent/5)
	}
}
