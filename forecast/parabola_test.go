package forecast

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wintertop/canopy"
)

func someParabola(t *rapid.T) parabola {
	return parabola{rapid.Float64Range(-20, 20).Draw(t, "level"), rapid.Float64Range(-60, 60).Draw(t, "slope"), rapid.Float64Range(0, 300).Draw(t, "bend")}
}

// A parabola goes through its three values; one put to a normal density comes
// back; integral, mean and variance of that, and the mean over deviations,
// against sums over fine steps.
func TestParabolas(t *testing.T) {
	const reach = 0.51
	sum := func(f func(u float64) float64) (total float64) {
		const step = 1e-3
		for u := -6.0; u <= 6; u += step {
			total += step * f(u)
		}
		return total
	}
	rapid.Check(t, func(t *rapid.T) {
		p := someParabola(t)
		apart := rapid.Float64Range(0.1, 0.5).Draw(t, "apart")
		q := through([]float64{p.at(-apart), p.at(0), p.at(apart)}, apart)
		for _, u := range []float64{-0.4, 0.1, 0.3} {
			if math.Abs(q.at(u)-p.at(u)) > 1e-9 {
				t.Fatalf("through three values of %v: %v", p, q)
			}
		}
		b := p.tilt(reach)
		if math.Abs(b.mean) < reach { // else it is held at the edge
			if back := b.parabola(reach); math.Abs(back.at(0.2)-p.at(0.2)) > 1e-8 || math.Abs(back.bend-p.bend) > 1e-8*(1+p.bend) {
				t.Fatalf("%v comes back as %v", p, back)
			}
			density := func(u float64) float64 {
				return math.Exp(p.at(u)-b.ln-0.5*square(u/reach)) / (reach * math.Sqrt(2*math.Pi))
			}
			total, mean := sum(density), sum(func(u float64) float64 { return u * density(u) })
			if spread := sum(func(u float64) float64 { return square(u-mean) * density(u) }); math.Abs(total-1) > 1e-6 || math.Abs(mean-b.mean) > 1e-6 || math.Abs(spread-b.variance) > 1e-6 {
				t.Fatalf("%v as a density: %g, %g, %g; summed %g, %g, %g", p, 1.0, b.mean, b.variance, total, mean, spread)
			}
		}
		sd := rapid.Float64Range(0.02, 0.2).Draw(t, "sd")
		at := rapid.Float64Range(-0.3, 0.3).Draw(t, "u")
		times := math.Pow(10, rapid.Float64Range(-200, 3).Draw(t, "times, powers of ten"))
		wide := b.widened(times, reach, square(sd)).at(at) - math.Log(times)
		if got := math.Log(sum(func(u float64) float64 {
			return math.Exp(p.at(u)-wide-0.5*square((u-at)/sd)) / (sd * math.Sqrt(2*math.Pi))
		})); p.bend > 1 && math.Abs(b.mean) < reach && math.Abs(got) > 1e-6 {
			t.Fatalf("%v widened by %g is off by %g at %g", p, sd, got, at)
		}
	})
}

// byCells gives readings with what is expected of heights by cell, as it runs along
// length and not straight.
func byCells(g *Grid, readings []reading, p Params) []reading {
	laid := map[*float64][]float64{}
	out := slices.Clone(readings)
	for i, r := range out {
		if r.group != heightGroup {
			continue
		}
		key := &r.expected[0]
		if laid[key] == nil {
			laid[key] = newWeights()
			for c := range laid[key] {
				perCM := (math.Exp(r.expected[3*(c/gridLengths)+1]) - p.HeightOffsetCM) / math.Exp(g.LengthLn[gridLengths/2])
				laid[key][c] = math.Log(perCM*math.Exp(g.LengthLn[c%gridLengths]) + p.HeightOffsetCM)
			}
		}
		out[i].expected = laid[key]
	}
	return out
}

// exactly gives the log likelihood of a line's notes of a season by cell, each
// note on the scale it is compared on, nothing of it a parabola.
func exactly(on *Grid, readings []reading, effect float64, p Params) weights {
	log := newWeights()
	readings = byCells(on, readings, p)
	for g := range groups {
		own := together(nil, readings, g)
		if len(own) == 0 {
			continue
		}
		if g == liftGroup {
			for _, r := range own {
				tried := float64(r.note.Plants)
				counted := countOf(r.note.Value*tried, tried, math.Hypot(p.PlotLiftSDLogit, p.TrialLiftSDLogit))
				for c, logit := range r.expected {
					log[c] += counted.at(shareOf(logit, tried))
				}
			}
			continue
		}
		form := quadraticOf(own, g, p)
		sum := make([]float64, len(own[0].expected))
		form.addTo(sum)
		lean := make([]float64, len(sum))
		if g == massGroup {
			form.slopeTo(lean)
		}
		for c := range log {
			at := c
			if len(sum) == gridNodes {
				at /= gridLengths
			}
			log[c] += -0.5*sum[at] + effect*lean[at]
		}
	}
	return log
}

// What is learned by parabolas along length, and by normal curves that are taken
// as one after each season's deviations, against the whole grid of lengths: two
// winters, two plots each, notes of mass, height and lifted shares. Means within
// a twentieth of their SD, SDs within a twentieth. Without heights the counts alone
// tell of length: means and SDs within a tenth.
func TestParabolasAgainstTheWholeGrid(t *testing.T) {
	m := usualTrial(6, 2)
	rng := rand.New(rand.NewPCG(17, 5))
	trial, _ := m.build(rng, inventedWeather(rng, 2001, 2), 2001)
	lifting := canopy.NewLifting(trial.Places[0].Site.Canopy)
	mass := map[string]float64{}
	for _, n := range trial.Notes {
		if n.Trait == LeafMass {
			mass[n.Planting+n.Date.String()] = n.Value * trial.Places[0].Site.Canopy.DryShare
		}
		if leafG := mass[n.Planting+n.Date.String()]; n.Trait == TopHeight && n.Value < 35 {
			n.Trait, n.Value, n.Plants = LiftedShare, math.Round(20*lifting.Share(leafG, n.Value))/20, 20
			trial.Notes = append(trial.Notes, n)
		}
	}
	againstTheWholeGrid(t, trial, 0.05, 0.05)
	trial.Notes = slices.DeleteFunc(trial.Notes, func(n Note) bool { return n.Trait == TopHeight })
	againstTheWholeGrid(t, trial, 0.1, 0.1)
}

// againstTheWholeGrid puts what is learned of each line to sums over all cells:
// means and SDs within parts of the SD.
func againstTheWholeGrid(t *testing.T, trial *Trial, means, sds float64) {
	t.Helper()
	l, _, err := Learn(context.Background(), trial)
	if err != nil {
		t.Fatal(err)
	}
	lifts := 0
	for i := range l.lines {
		whole := newWeights()
		for _, s := range sortedSeasons(l.seen[i]) {
			lifts += len(together(nil, l.seen[i][s], liftGroup))
			one := exactly(l.grid, l.seen[i][s], l.pop.effects[l.trialEffect(s)], l.params)
			relative(one)
			l.kernels[s].toGeneral(l.grid, one, newWeights())
			for c, x := range one {
				whole[c] += math.Log(x + tiny)
			}
		}
		cells := make([]int32, len(whole))
		for c := range cells {
			cells[c] = int32(c)
		}
		l.grid.addPrior(whole, cells, l.priors[i])
		relative(whole)
		size, hard, length := whole.marginals()
		got := l.grid.momentsOf(l.grid.gathered(newDensity(), l.settled[i].cells, l.settled[i].weight))
		for trait, x := range [traits]struct{ at, weight []float64 }{{l.grid.SizeLn, size}, {l.grid.HardC, hard}, {l.grid.LengthLn, length}} {
			mean, sd := moments(x.at, x.weight)
			if mean-3*sd < x.at[0] || mean+3*sd > x.at[len(x.at)-1] {
				continue // the whole grid cuts deviations off at its edge
			}
			if own := math.Sqrt(got.cov.At(trait, trait)); math.Abs(got.mean[trait]-mean) > means*sd || math.Abs(own/sd-1) > sds {
				t.Errorf("line %d, trait %d: %.4f ± %.4f, on the whole grid %.4f ± %.4f", i, trait, got.mean[trait], own, mean, sd)
			}
		}
	}
	if lifts < 6 {
		t.Errorf("only %d notes of lifted shares: the check tells nothing of them", lifts)
	}
}
