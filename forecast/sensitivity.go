package forecast

import (
	"context"
	"math"
	"slices"
	"time"

	"wintertop/canopy"
	"wintertop/weather"
	"wintertop/weather/table"
)

// Constants lists every number of the model that s holds: those of weather,
// canopy and forecast, in this order. The values are s's own fields.
func (s *Site) Constants() []weather.Constant {
	return slices.Concat(s.Weather.Params.Constants(), s.Canopy.Constants(), s.Params.Constants())
}

// Sensitivity gives for each constant, in the order of Site.Constants, how much
// the lift share of the standard line on 15 February (south: 15 August) moves
// when this constant alone goes from its low to its high, the others staying as
// the place's site has them: the share at the high less that at the low, mean
// over the complete winters before the planting's own, sown on the planting's
// day of the year at its density. The standard line has top size 1 and the
// population's mean length and hardiness.
//
// It is NaN where the share of no winter changes: the constant serves something
// else (weeds, learning, the hour of an event, what a line is asked for), or
// the place does not reach it.
//
// The place must be cut at an as-of day. The error is a *table.InputError where
// no winter can be followed, else ctx's.
func Sensitivity(ctx context.Context, p *Place, planting Planting) ([]float64, error) {
	seasons := p.sameSowing(planting)
	if len(seasons) == 0 {
		return nil, &table.InputError{Faults: table.Findings{{File: p.Record.File, Severity: table.Fault, TreatedAs: "refused",
			What: "no complete winter before " + planting.Winter.String() + " to follow from a sowing on the same day"}}}
	}
	standard := standardRun{site: p.Site}
	if err := standard.follow(seasons, nil); err != nil {
		return nil, err
	}
	ranges := p.Site.Constants()
	moves := make([]float64, len(ranges))
	err := inParallel(ctx, len(ranges), func(i int) error {
		low, high := standardRun{site: p.Site}, standardRun{site: p.Site}
		*low.site.Constants()[i].Value, *high.site.Constants()[i].Value = ranges[i].Low, ranges[i].High
		if err := low.follow(seasons, &standard); err != nil {
			return err
		}
		if err := high.follow(seasons, &standard); err != nil {
			return err
		}
		if slices.Equal(low.share, standard.share) && slices.Equal(high.share, standard.share) {
			moves[i] = math.NaN()
			return nil
		}
		for k := range seasons {
			moves[i] += (high.share[k] - low.share[k]) / float64(len(seasons))
		}
		return nil
	})
	return moves, err
}

// sownSeason is one past winter with a sowing like the planting's.
type sownSeason struct {
	days     []weather.Day // from sowing on
	planting canopy.Planting
}

// midFebruary gives 15 February, south 15 August, of a winter.
func midFebruary(w weather.WinterYear) weather.Date {
	if w.South {
		return weather.NewDate(w.Year, time.August, 15)
	}
	return weather.NewDate(w.Year+1, time.February, 15)
}

// sameSowing gives the seasons of sownLike to the middle of February.
func (p *Place) sameSowing(planting Planting) []sownSeason {
	return p.sownLike(planting, midFebruary)
}

// sownLike gives the complete winters before a planting's own in which every
// day from its day of sowing to a last one is known.
func (p *Place) sownLike(planting Planting, lastOf func(weather.WinterYear) weather.Date) []sownSeason {
	var seasons []sownSeason
	for _, past := range p.winters(planting.Winter) {
		if !p.Record.Complete(past) {
			continue
		}
		year, month, day := planting.Sown.YMD()
		sown := weather.NewDate(year+past.Year-planting.Winter.Year, month, day)
		last := lastOf(past)
		days := p.Filled.Slice(sown, last)
		if weather.Known(days) != int(last-sown)+1 {
			continue
		}
		// Cultivated to the end: weeds take nothing from the crop.
		seasons = append(seasons, sownSeason{days, canopy.Planting{Sown: sown, LastCultivated: last, PlantsPerM2: planting.PlantsPerM2}})
	}
	return seasons
}

// standardRun is the standard line of one site in the middle of February, by
// season.
type standardRun struct {
	site          Site
	winters       []*weather.Winter
	leafG, height []float64 // g dry per plant; relative to the top length
	share         []float64 // that lifts
}

// follow takes the line through the seasons. What other, which may be nil, has
// with the same numbers is taken from it.
func (r *standardRun) follow(seasons []sownSeason, other *standardRun) error {
	sameWeather := other != nil && other.site.Weather == r.site.Weather
	samePlants := sameWeather && other.site.Canopy == r.site.Canopy && other.site.Params.HardinessC == r.site.Params.HardinessC
	if sameWeather {
		r.winters = other.winters
	}
	if samePlants {
		r.leafG, r.height = other.leafG, other.height
	}
	lifting := canopy.NewLifting(r.site.Canopy)
	for i, season := range seasons {
		if !sameWeather {
			w, err := weather.NewWinter(season.days, r.site.Weather)
			if err != nil {
				return err
			}
			r.winters = append(r.winters, w)
		}
		if !samePlants {
			stand := canopy.Sow(season.planting, []canopy.Traits{{TopSize: 1, HardinessC: r.site.Params.HardinessC}}, r.site.Canopy)
			stand.Grow(r.winters[i], 0, len(season.days)-1, nil)
			r.leafG = append(r.leafG, stand.LeafG(nil)[0])
			r.height = append(r.height, stand.RelativeHeight(nil)[0])
		}
		r.share = append(r.share, lifting.Share(r.leafG[i], r.height[i]*r.site.Params.TopLengthCM))
	}
	return nil
}
