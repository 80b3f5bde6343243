package forecast

import (
	"context"
	"math"
	"time"

	"wintertop/canopy"
	"wintertop/weather"
)

// Difference is what one line is better by than another.
type Difference struct {
	Hardiness bool    // by °C of hardiness; else of leaf mass
	By        float64 // °C, or of the logarithm of top size; above 0
}

// customary gives the days on which a trial's leaf masses are weighed: mid
// October, December, January and February (south April, June, July, August).
// Common practice, no source.
func customary(w weather.WinterYear) []weather.Date {
	if w.South {
		return []weather.Date{weather.NewDate(w.Year, time.April, 15), weather.NewDate(w.Year, time.June, 15), weather.NewDate(w.Year, time.July, 15), weather.NewDate(w.Year, time.August, 15)}
	}
	return []weather.Date{weather.NewDate(w.Year, time.October, 15), weather.NewDate(w.Year, time.December, 15), weather.NewDate(w.Year+1, time.January, 15), weather.NewDate(w.Year+1, time.February, 15)}
}

// thawed says for each day of a winter whether the tops stand thawed on it: no
// freeze–thaw event is open by its evening.
func thawed(w *weather.Winter) []bool {
	free := make([]bool, len(w.Days))
	for i := range free {
		free[i] = true
	}
	for _, e := range w.Events {
		to := e.CloseDay
		if e.Open {
			to = len(free)
		}
		for d := e.OpenDay; d < to; d++ {
			free[d] = false
		}
	}
	return free
}

// What all lines deviate in hardiness in a winter, in SD, and its chances:
// three points that have the mean and the variance of a normal, and its fourth
// moment (Gauss–Hermite).
var (
	frostPoints  = [3]float64{-math.Sqrt(3), 0, math.Sqrt(3)}
	frostChances = [3]float64{1. / 6, 2. / 3, 1. / 6}
)

// taught is what the leaf masses of two lines show in one winter at one
// deviation of all lines: how they move with top size and with hardiness, on
// each customary day.
type taught struct {
	winter weather.WinterYear
	chance float64
	dryG   []float64              // by day: mean leaf mass of the two lines, g dry
	moves  [][lengthTrait]float64 // by day: of ln leaf mass by ln top size and by °C
}

// pairs of draws about the standard line: smaller and larger, softer and
// hardier; then the standard line itself.
const drawsPerFrost = 5

// teach follows the standard line and its like through each season on record.
// differ says how far apart the two lines of a pair are in the trait in
// question. kept is the share of mid October's leaf mass that the standard line
// has on the last day, by season.
func teach(ctx context.Context, p *Place, seasons []sownSeason, differ Difference) (all []taught, kept []float64, err error) {
	params, stand := p.Site.Params, p.Site.Canopy
	apart := [lengthTrait]float64{sizeTrait: 0.2, hardTrait: 1}
	if differ.Hardiness {
		apart[hardTrait] = differ.By
	} else {
		apart[sizeTrait] = differ.By
	}
	// Half of what a line deviates by itself moves the middle of two as well.
	frostSD := math.Hypot(params.WinterHardSDC, params.LineWinterHardSDC/math.Sqrt2)
	var draws []canopy.Traits
	for _, z := range frostPoints {
		h, s := params.HardinessC+z*frostSD, apart[sizeTrait]/2
		draws = append(draws,
			canopy.Traits{TopSize: math.Exp(-s), HardinessC: h}, canopy.Traits{TopSize: math.Exp(s), HardinessC: h},
			canopy.Traits{TopSize: 1, HardinessC: h - apart[hardTrait]/2}, canopy.Traits{TopSize: 1, HardinessC: h + apart[hardTrait]/2},
			canopy.Traits{TopSize: 1, HardinessC: h})
	}
	all, kept = make([]taught, len(seasons)*len(frostPoints)), make([]float64, len(seasons))
	err = inParallel(ctx, len(seasons), func(i int) error {
		s := seasons[i]
		w, err := weather.NewWinter(s.days, p.Site.Weather)
		if err != nil {
			return err
		}
		winter := weather.WinterAfterSowing(s.planting.Sown, p.Site.Weather.South())
		own := all[i*len(frostPoints):][:len(frostPoints)]
		free, noted := thawed(w), map[int]bool{}
		for _, d := range customary(winter) {
			day := min(w.Index(d), len(free)-1)
			for day > 0 && !free[day] { // before the frost, not in it
				day--
			}
			noted[day] = true
		}
		var autumnG, leafG []float64
		canopy.Sow(s.planting, draws, stand).Grow(w, 0, len(w.Days)-1, func(day int, s *canopy.Stand) {
			if !noted[day] {
				return
			}
			leafG = s.LeafG(leafG)
			if autumnG == nil {
				autumnG = append(autumnG, leafG...)
			}
			for f := range own {
				g := leafG[f*drawsPerFrost:][:drawsPerFrost]
				leafLn := func(i int) float64 { return math.Log(g[i] + params.MassOffsetG) }
				own[f].dryG = append(own[f].dryG, (g[2]+g[3])/2)
				own[f].moves = append(own[f].moves, [lengthTrait]float64{sizeTrait: (leafLn(1) - leafLn(0)) / apart[sizeTrait], hardTrait: (leafLn(3) - leafLn(2)) / apart[hardTrait]})
			}
		})
		for f := range own {
			own[f].winter, own[f].chance = winter, frostChances[f]/float64(len(seasons))
		}
		middle := len(frostPoints)/2*drawsPerFrost + drawsPerFrost - 1
		if len(autumnG) > 0 && autumnG[middle] > 0 {
			kept[i] = leafG[middle] / autumnG[middle]
		}
		return nil
	})
	return all, kept, err
}

// information gives what the notes of one plot say of top size and hardiness:
// minus the second derivatives of their log likelihood, the effect of the trial
// left out, which two lines of it share.
func (t taught) information(plants int, p Params, stand canopy.Params) [lengthTrait][lengthTrait]float64 {
	var readings []reading
	for _, dry := range t.dryG {
		readings = append(readings, readingOf(Note{Trait: LeafMass, Value: dry / stand.DryShare, Plants: plants}, 0, p, stand))
	}
	plot, _ := massGroup.doubts(p)
	omega := inverse(covariance(readings, plot, 0))
	var info [lengthTrait][lengthTrait]float64
	for a := range lengthTrait {
		for b := range lengthTrait {
			for i, x := range t.moves {
				for j, y := range t.moves {
					info[a][b] += x[a] * omega.At(i, j) * y[b]
				}
			}
		}
	}
	return info
}

// precisionOf gives how well some plots tell the trait in question in one
// winter, 1/variance, the other trait being known no better than of any line;
// and what that leaves of the trait in general, from which the line deviates
// in the winter.
func precisionOf(info [lengthTrait][lengthTrait]float64, plots int, differ Difference, p Params) (inWinter, inGeneral float64) {
	wanted, other := sizeTrait, hardTrait
	otherVar, deviation := square(p.HardinessSDC)+square(p.LineWinterHardSDC), square(p.LineWinterSizeSD)
	if differ.Hardiness {
		wanted, other = hardTrait, sizeTrait
		otherVar, deviation = square(p.TopSizeSDLn)+square(p.LineWinterSizeSD), square(p.LineWinterHardSDC)
	}
	n := float64(plots)
	inWinter = max(0, n*info[wanted][wanted]-square(n*info[wanted][other])/(n*info[other][other]+1/otherVar))
	return inWinter, inWinter / (1 + inWinter*deviation)
}
