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
	trial.Places[0].Site.Params.ShadeLimit = 0.12 // so that shade decides now and then
	l := &Learning{grid: NewGrid(Standard()), params: Standard(), places: trial.Places}
	l.params.LineWinterSizeSD, l.params.LineWinterLengthSD, l.params.LineWinterHardSDC, l.params.WinterHardSDC = 0, 0, 0, 0
	h, err := l.holdingOf(t.Context(), trial, day(t, "2014-11-15"), lateWinter)
	if err != nil {
		t.Fatal(err)
	}
	p, planting := trial.Places[0], trial.Plantings[len(trial.Plantings)-1]
	seasons := p.sownLike(planting, func(w weather.WinterYear) weather.Date { _, to := lateWinter(w); return to })
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
	// What the lengths a little below and above a cell's step, and the cell itself, do.
	step := l.grid.LengthLn[1] - l.grid.LengthLn[0]
	beside := [3]float64{-0.55 * step, 0, 0.55 * step}
	for _, s := range []int{8, 12, 16} {
		for _, hard := range []int{2, 8, 14, 20, 26, 38} {
			traits := []canopy.Traits{{TopSize: math.Exp(l.grid.SizeLn[s]), HardinessC: l.grid.HardC[hard]}}
			var holds [3][gridLengths]float64
			for i, season := range seasons {
				from, to := lateWinter(weather.WinterAfterSowing(season.planting.Sown, false))
				var fails [3][gridLengths]bool
				canopy.Sow(season.planting, traits, p.Site.Canopy).Grow(winters[i], 0, len(season.days)-1, func(day int, st *canopy.Stand) {
					if on := winters[i].First + weather.Date(day); on < from || on > to {
						return
					}
					leafG, height, shaded := st.LeafG(nil)[0], st.RelativeHeight(nil)[0], st.GroundLight(nil)[0] <= p.Site.Params.ShadeLimit
					for k := 1; k < gridLengths; k += 5 {
						for b, by := range beside {
							fails[b][k] = fails[b][k] || !shaded || lifting.Share(leafG, height*math.Exp(l.grid.LengthLn[k]+by)) < p.Site.Params.WantedShare
						}
					}
				})
				for b := range beside {
					for k := range gridLengths {
						if !fails[b][k] {
							holds[b][k] += 1 / float64(len(seasons))
						}
					}
				}
			}
			for k := 1; k < gridLengths; k += 5 {
				got := h.chance[(s*gridHards+hard)*gridLengths+k]
				if got < holds[0][k]-1e-12 || got > holds[2][k]+1e-12 {
					t.Errorf("size %d, hardiness %d, length %d: chance %.3f, counted %.3f to %.3f about it", s, hard, k, got, holds[0][k], holds[2][k])
				}
			}
		}
	}
	for s := range gridSizes {
		for hard := range gridHards {
			lowS, lowH := s/2*2, hard/heldHard*heldHard
			for k := range gridLengths {
				at := func(s, hard int) float64 {
					return h.chance[(min(s, gridSizes-1)*gridHards+min(hard, gridHards-1))*gridLengths+k]
				}
				around := []float64{at(lowS, lowH), at(lowS+2, lowH), at(lowS, lowH+heldHard), at(lowS+2, lowH+heldHard)}
				if got := at(s, hard); got < slices.Min(around)-1e-12 || got > slices.Max(around)+1e-12 {
					t.Fatalf("size %d, hardiness %d, length %d: chance %.3f between draws of %.3f", s, hard, k, got, around)
				}
			}
		}
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
	for _, mean := range [][]float64{{0, -9.5, math.Log(40)}, {0.2, -11, math.Log(46)}, {-0.2, -8.5, math.Log(38)}} {
		o := offspring{mean: mean, among: l.segregating(0), doubt: mat.NewSymDense(traits, nil)}
		for i, sd := range []float64{0.08, 0.3, 0.04} {
			o.doubt.SetSym(i, i, sd*sd)
		}
		got, slope := h.expected(o)
		if want := h.of(l.grid.normal(traitPrior{mean: o.mean, cov: o.total()})); math.Abs(got-want) > 0.01 { // the grid cuts the normal at 3 SD
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
