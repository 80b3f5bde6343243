package forecast

import (
	"context"
	"math"
	"slices"

	"wintertop/canopy"
	"wintertop/weather"
)

// sowing is a week of the next season in which a place could be sown, and how.
type sowing struct {
	place       *Place
	monday      weather.Date
	sown        weather.Date // the day that is played
	plantsPerM2 float64
	hilledCM    float64
}

// nextSeason gives a line's weighting in a season that no note tells of: its
// traits after all notes, and the line × winter deviations.
func (l *Learning) nextSeason(line int, s season) *stake {
	w := l.general(line)
	l.spread(w, l.kernelAt(s))
	room := l.rooms.take()
	defer l.rooms.leave(room)
	of := l.grid.stakeOf(w, room)
	return &of
}

// movedYears gives the same calendar day some years later.
func movedYears(d weather.Date, years int) weather.Date {
	year, month, day := d.YMD()
	return inYear(year+years, month, day)
}

// pastDays gives the days of a past winter from the day of sowing to the last
// one looked at; nil where one of them was not read.
func (s sowing) pastDays(years int, last weather.Date) []weather.Day {
	from, to := movedYears(s.sown, years), movedYears(last, years)
	days := s.place.Filled.Slice(from, to)
	if weather.Known(days) != int(to-from)+1 {
		return nil
	}
	return days
}

// fifths is how many standings of a line are told apart in each winter: what it
// may be is cut into five equally likely parts by the share
// that lifts. A line that turns out poor is poor all winter, and a winter that
// is hard on one is taken to be hard on all.
const fifths = 5

// lifting gives the share of a sowing that the belts lift, mean over the days
// looked at in each period: by line, period, and past winter with the fifths of
// the traits innermost. years leads from the next season back to each winter.
// The error is ctx's.
func (l *Learning) lifting(ctx context.Context, s sowing, lines []*stake, periods [][]weather.Date, years []int) ([][][]float64, error) {
	draws, shares := l.grid.drawnFor(lines, true), s.place.liftShares()
	sown := draws.traits()
	out := make([][][]float64, len(lines))
	for i := range out {
		out[i] = make([][]float64, len(periods))
		for k := range periods {
			out[i][k] = make([]float64, len(years)*fifths)
		}
	}
	last := weather.Date(0)
	for _, days := range periods {
		last = max(last, slices.Max(days))
	}
	err := inParallel(ctx, len(years), func(year int) error {
		days := s.pastDays(years[year], last)
		w, err := weather.NewWinter(days, s.place.Site.Weather)
		if err != nil {
			return err
		}
		// Cultivated to the end: weeds take nothing from the crop.
		stand := canopy.Sow(canopy.Planting{Sown: w.First, LastCultivated: w.First + weather.Date(len(days)-1), PlantsPerM2: s.plantsPerM2}, sown, s.place.Site.Canopy)
		n := len(draws.nodes)
		run, leafG, heightLn, cells := make([]float64, len(draws.at)), make([]float64, n), make([]float64, n), make([]canopy.MassCell, n)
		next := 0
		var spread shareSpread
		for k, looked := range periods {
			for _, day := range looked {
				to := w.Index(movedYears(day, years[year]))
				stand.Grow(w, next, to, nil)
				next = max(next, to+1)
				draws.refineLog(leafG, stand.LeafG(run), l.params.MassOffsetG)
				draws.refine(heightLn, stand.RelativeHeight(run))
				for i, g := range leafG {
					cells[i], heightLn[i] = shares.Mass(lnOrLow(g)), lnOrLow(heightLn[i])
				}
				for j, line := range lines {
					spread = shareSpread{}
					for c, i := range line.core {
						at := draws.place[line.nodes[i]]
						for _, lengthLn := range line.lengths(i) {
							spread.add(shares.At(cells[at], heightLn[at]+lengthLn), line.inCore[c]/lengthPoints)
						}
					}
					for q, mean := range spread.fifths() {
						out[j][k][year*fifths+q] += mean / float64(len(looked))
					}
				}
			}
		}
		return nil
	})
	return out, err
}

// shareSpread holds the weights of shares from 0 to 1 by steps, and the sums of
// weight × share.
type shareSpread struct{ weight, sum [shareSteps]float64 }

const shareSteps = 64

func (s *shareSpread) add(share, weight float64) {
	at := min(int(share*shareSteps), shareSteps-1)
	s.weight[at] += weight
	s.sum[at] += weight * share
}

// fifths gives the means of each fifth of the weight, which sums to 1, the lowest
// first.
func (s *shareSpread) fifths() (mean [fifths]float64) {
	q, room := 0, 1./fifths
	for i, w := range s.weight {
		for w > 0 {
			part := min(w, room)
			if q == fifths-1 {
				part = w // with what rounding has left
			}
			mean[q] += part * s.sum[i] / s.weight[i] * fifths
			w, room = w-part, room-part
			if room <= 0 && q < fifths-1 {
				q, room = q+1, 1./fifths
			}
		}
	}
	return mean
}

// land is what the weather of past winters does to a place's ground in each
// period of a plan.
type land struct {
	fitDays    []float64 // mean number of days fit for machines; NaN where rain is not known
	noFit      []int     // winters without such a day
	rootFrosts []int     // winters in which roots had frozen by the period's end
}

func (s sowing) land(ctx context.Context, periods []Period, years []int) (land, error) {
	fit, frozen := make([][]int, len(years)), make([][]bool, len(years))
	last := periods[len(periods)-1].Until
	err := inParallel(ctx, len(years), func(year int) error {
		w, err := weather.NewWinter(s.pastDays(years[year], last), s.place.Site.Weather)
		if err != nil {
			return err
		}
		days, known := w.Fit()
		frost := w.RootFrost(s.hilledCM)
		for _, p := range periods {
			from, to := w.Index(movedYears(p.From, years[year])), w.Index(movedYears(p.Until, years[year]))
			n := 0
			for _, is := range days[from : to+1] {
				if is {
					n++
				}
			}
			if known {
				fit[year] = append(fit[year], n)
			}
			frozen[year] = append(frozen[year], slices.Contains(frost[:to+1], true))
		}
		return nil
	})
	if err != nil {
		return land{}, err
	}
	g := land{make([]float64, len(periods)), make([]int, len(periods)), make([]int, len(periods))}
	for k := range periods {
		for year := range years {
			if frozen[year][k] {
				g.rootFrosts[k]++
			}
			if fit[year] == nil {
				g.fitDays[k] = math.NaN()
				continue
			}
			g.fitDays[k] += float64(fit[year][k]) / float64(len(years))
			if fit[year][k] == 0 {
				g.noFit[k]++
			}
		}
	}
	return g, nil
}
