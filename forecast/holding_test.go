package forecast

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"wintertop/canopy"
	"wintertop/weather"
)

func lateWinter(w weather.WinterYear) (from, to weather.Date) {
	return weather.NewDate(w.Year+1, 2, 1), weather.NewDate(w.Year+1, 3, 15)
}

// The chance to hold against a plain count: one draw of the canopy through each
// winter and the lifting integral on each day of the window.
func TestHoldingAgainstADirectCount(t *testing.T) {
	trial := loadAsOf(t, folder(t), "2014-11-15")
	l := &Learning{grid: NewGrid(Standard()), params: Standard(), places: trial.Places}
	l.params.LineWinterSizeSD, l.params.LineWinterLengthSD, l.params.LineWinterHardSDC, l.params.WinterHardSDC = 0, 0, 0, 0
	h, err := l.holdingOf(t.Context(), trial, day(t, "2014-11-15"), lateWinter)
	if err != nil {
		t.Fatal(err)
	}
	p, planting := trial.Places[0], trial.Plantings[len(trial.Plantings)-1]
	seasons := p.sameSowing(planting, func(w weather.WinterYear) weather.Date { _, to := lateWinter(w); return to })
	if len(seasons) < 2 || h.winters != len(seasons) {
		t.Fatalf("%d winters played, %d to count", h.winters, len(seasons))
	}
	lifting := canopy.NewLifting(p.Site.Canopy)
	winters := make([]*weather.Winter, len(seasons))
	for i, s := range seasons {
		if winters[i], err = weather.NewWinter(s.days, p.Site.Weather); err != nil {
			t.Fatal(err)
		}
	}
	apart, cells := 0.0, 0
	for s := 8; s < gridSizes; s += 3 {
		for hard := 2; hard < gridHards; hard += 7 {
			traits := []canopy.Traits{{TopSize: math.Exp(l.grid.SizeLn[s]), HardinessC: l.grid.HardC[hard]}}
			holds := make([]float64, gridLengths)
			for i, season := range seasons {
				from, to := lateWinter(weather.WinterAfterSowing(season.planting.Sown, false))
				always := slices.Repeat([]bool{true}, gridLengths)
				canopy.Sow(season.planting, traits, p.Site.Canopy).Grow(winters[i], 0, len(season.days)-1, func(day int, st *canopy.Stand) {
					if on := winters[i].First + weather.Date(day); on < from || on > to {
						return
					}
					leafG, height, shaded := st.LeafG(nil)[0], st.RelativeHeight(nil)[0], st.GroundLight(nil)[0] <= p.Site.Params.ShadeLimit
					for k := 1; k < gridLengths; k += 5 {
						always[k] = always[k] && shaded && lifting.Share(leafG, height*math.Exp(l.grid.LengthLn[k])) >= p.Site.Params.WantedShare
					}
				})
				for k := range holds {
					if always[k] {
						holds[k] += 1 / float64(len(seasons))
					}
				}
			}
			for k := 1; k < gridLengths; k += 5 {
				apart += math.Abs(h.chance[(s*gridHards+hard)*gridLengths+k] - holds[k])
				cells++
			}
		}
	}
	// A line turns from not holding to holding within one step of a trait: only
	// cells at that edge, at most one in ten here, can differ, by half a step's worth.
	apart /= float64(cells)
	t.Logf("%d cells, %.4f off on average", cells, apart)
	if apart > 0.05 {
		t.Errorf("chances are %.3f off a direct count on average", apart)
	}
}

// The few points that stand for an offspring against all cells of the grid, and
// the slopes against a difference quotient.
func TestOffspringChancesAgainstTheWholeGrid(t *testing.T) {
	trial := loadAsOf(t, folder(t), "2014-11-15")
	l := learn(t, trial)
	h, err := l.holdingOf(t.Context(), trial, day(t, "2014-11-15"), lateWinter)
	if err != nil {
		t.Fatal(err)
	}
	cells := wholeGrid().cells()
	for _, mean := range [][]float64{{0, -9.5, math.Log(40)}, {0.2, -11, math.Log(46)}, {-0.2, -8.5, math.Log(38)}} {
		o := offspring{mean: mean, among: l.segregating(0), doubt: mat.NewSymDense(traits, nil)}
		for i, sd := range []float64{0.08, 0.3, 0.04} {
			o.doubt.SetSym(i, i, sd*sd)
		}
		got, slope := h.expected(o)
		log := make([]float64, len(cells))
		l.grid.addPrior(log, cells, traitPrior{mean: o.mean, cov: o.total()})
		relative(log)
		if want := h.of(log); math.Abs(got-want) > 0.01 { // the grid cuts the normal at 3 SD
			t.Errorf("about %v: %.4f of 343 points, %.4f of the grid", mean, got, want)
		}
		for i, step := range []float64{0.05, 0.2, 0.03} {
			off := o
			off.mean = append([]float64(nil), mean...)
			off.mean[i] += step
			up, _ := h.expected(off)
			off.mean[i] -= 2 * step
			down, _ := h.expected(off)
			if want := (up - down) / (2 * step); math.Abs(slope[i]-want) > 0.05*math.Abs(want)+0.004/step {
				t.Errorf("about %v, trait %d: slope %.4f, difference quotient %.4f", mean, i, slope[i], want)
			}
		}
	}
}
