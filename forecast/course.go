package forecast

import (
	"context"
	"runtime"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"wintertop/canopy"
	"wintertop/weather"
)

// crop is what decides how a planting grows, but for its line's traits:
// plantings with the same crop are simulated once.
type crop struct {
	place            *Place
	winter           weather.WinterYear
	sown, cultivated weather.Date
	plantsPerM2      float64
}

func (t *Trial) cropOf(p *Planting) crop {
	return crop{t.placeOf(p), p.Winter, p.Sown, p.LastCultivated, p.PlantsPerM2}
}

func (c crop) sow(draws []canopy.Traits) *canopy.Stand {
	return canopy.Sow(canopy.Planting{Sown: c.sown, LastCultivated: c.cultivated, PlantsPerM2: c.plantsPerM2}, draws, c.place.Site.Canopy)
}

// observed gives the weather of a place from one day on, to last or to the
// day before the first that is missing, whichever comes first. It is nil where
// the first day itself is missing.
func (p *Place) observed(from, last weather.Date) *weather.Winter {
	days := p.Filled.Slice(from, last)
	days = days[:weather.Known(days)]
	if len(days) == 0 {
		return nil
	}
	w, err := weather.NewWinter(days, p.Site.Weather)
	if err != nil {
		panic("forecast: " + err.Error()) // the days are consecutive and none is missing
	}
	return w
}

// inParallel calls do for 0…n-1 on all processors and stops early when ctx is
// done or a call fails. Each call writes to its own place, so that no result
// depends on the order.
func inParallel(ctx context.Context, n int, do func(i int) error) error {
	workers := min(n, runtime.GOMAXPROCS(0))
	var taken atomic.Int64
	work := func(running context.Context) error {
		for {
			i := int(taken.Add(1)) - 1
			if i >= n {
				return nil
			}
			if err := running.Err(); err != nil {
				return err
			}
			if err := do(i); err != nil {
				return err
			}
		}
	}
	if workers <= 1 {
		return work(ctx)
	}
	group, running := errgroup.WithContext(ctx)
	bugs := make([]any, workers)
	for w := range workers {
		group.Go(func() error {
			defer func() { bugs[w] = recover() }()
			return work(running)
		})
	}
	err := group.Wait()
	for _, bug := range bugs {
		if bug != nil {
			panic(bug) // in the caller's goroutine, where it can be answered
		}
	}
	return err
}
