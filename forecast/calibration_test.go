package forecast

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"wintertop/weather"
)

// long says whether the checks of learning run at full size, minutes.
func long() bool { return os.Getenv("WINTERTOP_LONG") != "" }

// needsLong skips a test that runs at full size only.
func needsLong(t *testing.T) {
	t.Helper()
	if !long() {
		t.Skip("WINTERTOP_LONG is not set")
	}
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
		c.addOne(l.grid, l.general(i).byCell(l.grid), t)
	}
}

func (c *tally) addOne(g *Grid, w weights, t truth) {
	size, hard, length := w.marginals()
	c.n++
	for trait, x := range []struct {
		at, weight []float64
		true       float64
	}{{g.SizeLn, size, t.sizeLn}, {g.HardC, hard, t.hardC}, {g.LengthLn, length, t.lengthLn}} {
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

func (m made) run(t testing.TB, general, inWinter *tally, seed uint64) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 5))
	record := inventedWeather(rng, 2001, m.winters)
	trial, lines := m.build(rng, record, 2001)
	l, _, err := Learn(context.Background(), trial)
	if err != nil {
		t.Fatal(err)
	}
	general.add(l, lines)
	if !long() {
		return
	}
	for year, now := range m.inWinter {
		for i := 0; i < min(len(now), m.lines/5); i++ {
			inWinter.addOne(l.grid, l.inSeason(i, season{weather.WinterYear{Year: year}, trial.Places[0]}), now[i])
		}
	}
}

// Lines drawn from the prior, notes drawn with the line × winter, trial, plot
// and plant deviations really in them: the middle 90 % of what is learned must
// hold the truth nine times in ten. Full size with WINTERTOP_LONG=1: 300 lines
// after 2, 4 and 8 winters, with the population at its prior (84–96 %) and
// estimated (at least 82 %). Without it one small trial with the population
// estimated: with 12 lines a share of 0.9 has a standard error of 0.09, and one
// error of the mean moves all lines.
func TestIntervalsHoldTheTruth(t *testing.T) {
	type size struct{ trials, lines, winters int }
	sizes, lowEstimated := []size{{1, 12, 2}}, 0.55
	if long() {
		sizes, lowEstimated = []size{{5, 60, 2}, {5, 60, 4}, {5, 60, 8}}, 0.82
	}
	for _, s := range sizes {
		for _, estimated := range []bool{true, false} {
			if !estimated && !long() {
				break
			}
			m := usualTrial(s.lines, s.winters)
			floor, ceiling := lowEstimated, 1.0
			if !estimated {
				m.params, floor, ceiling = fixed(m.params), 0.84, 0.96
			}
			var c, w tally
			for k := range s.trials {
				m.run(t, &c, &w, uint64(100*s.winters+k))
			}
			t.Logf("%d winters, population estimated %t: %s", s.winters, estimated, &c)
			if w.n > 0 {
				t.Logf("in the winters themselves: %s", &w)
			}
			for trait := range traits {
				if x := c.share(trait); x < floor || x > ceiling {
					t.Errorf("%d winters, population estimated %t, trait %d: 90 %% intervals hold the truth in %.3f", s.winters, estimated, trait, x)
				}
				// Lines of one winter are off together: ten winters tell the share to 0.1
				// only. None tallied: not a number, never below.
				if x := w.share(trait); x < floor-0.1 {
					t.Errorf("%d winters, population estimated %t, trait %d in the winters themselves: 90 %% intervals hold the truth in %.3f", s.winters, estimated, trait, x)
				}
			}
		}
	}
}

// What the check above is for: with the line × winter deviations in the notes
// but not in learning, hardiness seems far better known than it is.
func TestWithoutLineByWinterIntervalsAreTooNarrow(t *testing.T) {
	m := usualTrial(12, 2)
	m.params = fixed(m.params)
	m.params.LineWinterSizeSD, m.params.LineWinterLengthSD, m.params.LineWinterHardSDC = 0, 0, 0
	var c, w tally
	m.run(t, &c, &w, 7)
	t.Log(&c)
	if x := c.share(hardTrait); x > 0.7 {
		t.Errorf("without the line × winter term 90 %% intervals of hardiness hold the truth in %.3f", x)
	}
}
