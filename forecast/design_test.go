package forecast

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"wintertop/weather"
)

// Bechhofer 1954, table I (from memory, recomputed): what the best of k must
// lead by, in standard errors of a mean, to be chosen with 95 %.
var bechhofer = map[int]float64{2: 2.3262, 3: 2.7101, 4: 2.9162, 5: 3.0552, 10: 3.4182}

func TestRightChoiceIsThePublishedTable(t *testing.T) {
	for k, want := range bechhofer {
		low, high := 0.0, 10.0
		for range 60 {
			middle := (low + high) / 2
			if RightChoice(k, middle) < 0.95 {
				low = middle
			} else {
				high = middle
			}
		}
		if math.Abs(low-want) > 5e-5 {
			t.Errorf("best of %d: leads by %.5f for 95 %%, the table has %.4f", k, low, want)
		}
		if got := choicesOf(k).right(want); math.Abs(got-RightChoice(k, want)) > 2e-5 {
			t.Errorf("best of %d: looked up %.6f, computed %.6f", k, got, RightChoice(k, want))
		}
	}
}

// Where winters do not matter, the designer's chance is that of the table: no
// deviation between winters, and each winter as good as n plots. A lead by
// r·σ/√n must be told with 95 % by n plots, whether they stand in one winter, in
// three, or at two places.
func TestDesignWithoutWintersIsThePublishedTable(t *testing.T) {
	const sigma, lead = 0.3, 0.25
	for k, r := range bechhofer {
		plots, look := square(r*sigma/lead), choicesOf(k) // also parts of a plot
		for _, spread := range []struct{ winters, places int }{{1, 1}, {3, 1}, {1, 2}, {2, 3}} {
			share := plots / square(sigma) / float64(spread.winters*spread.places)
			var kinds []kind
			for _, chance := range frostChances {
				kinds = append(kinds, kind{share, chance})
			}
			chances := chanceByWinters(kinds, spread.places, spread.winters, lead, look)
			// Half the last digit of r moves the chance by at most 0.4/√2 of it.
			if got := chances[spread.winters-1]; math.Abs(got-0.95) > 3e-5 {
				t.Errorf("best of %d, %d winters, %d places: chance %.6f, want 0.95", k, spread.winters, spread.places, got)
			}
		}
	}
}

// The whole chain in a case that theory knows: notes of leaf mass, no deviation
// of winters, hardiness known. The mean of P plots of n plants has the variance
// (plot² + plant²/n)/P on the logarithm.
func TestPrecisionOfPlainPlots(t *testing.T) {
	site := standardSite()
	p := site.Params
	p.LineWinterSizeSD = 0
	one := taught{dryG: []float64{3}, moves: [][lengthTrait]float64{{1, 0}}}
	for _, plants := range []int{1, 10, 40} {
		info := one.information(plants, p, site.Canopy)
		_, got := precisionOf(info, 4, Difference{By: 0.2}, p)
		shown := 3 / (3 + p.MassOffsetG)
		want := 4 / (square(shown)*(square(p.PlotMassSDLn)+square(site.Canopy.MassLnSD)/float64(plants)) + square((1-shown)/2)) // and the last digit weighed
		if math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%d plants: precision %g, want %g", plants, got, want)
		}
	}
}

// Gathering the kinds of winter into classes must not move a chance that can be
// enumerated.
func TestChanceByWintersAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	var kinds []kind
	const seasons = 12
	for range seasons {
		level := math.Exp(2 * rng.NormFloat64())
		for _, chance := range frostChances {
			kinds = append(kinds, kind{level * rng.Float64(), chance / seasons})
		}
	}
	kinds[0].precision, kinds[1].precision, kinds[2].precision = 0, 0, 0
	for _, places := range []int{1, 2} {
		all := atPlaces(kinds, places)
		var exact [3]float64
		for _, a := range all {
			exact[0] += a.chance * RightChoice(2, math.Sqrt(a.precision))
			for _, b := range all {
				exact[1] += a.chance * b.chance * RightChoice(2, math.Sqrt(a.precision+b.precision))
				if places == 1 {
					for _, c := range all {
						exact[2] += a.chance * b.chance * c.chance * RightChoice(2, math.Sqrt(a.precision+b.precision+c.precision))
					}
				}
			}
		}
		for w, got := range chanceByWinters(kinds, places, 3, 1, choicesOf(2)) {
			if (w < 2 || places == 1) && math.Abs(got-exact[w]) > 5e-4 {
				t.Errorf("%d places, %d winters: %.5f, by enumeration %.5f", places, w+1, got, exact[w])
			}
		}
	}
}

// designRecord is a station of invented weather with winters that teach and
// winters that do not.
func designRecord(seed uint64, years int) *Place {
	site := standardSite()
	site.Weather.LatitudeDeg, site.Weather.Coast = 52, true
	r := inventedWeather(rand.New(rand.NewPCG(seed, 5)), 2001, years)
	return &Place{Site: site, Record: r, Filled: r}
}

func designSowing(year int) Planting {
	sown := weather.NewDate(year, time.July, 5)
	return Planting{Sown: sown, LastCultivated: sown + 60, PlantsPerM2: 80, Winter: weather.WinterYear{Year: year}}
}

func TestMoreOfATrialTellsMore(t *testing.T) {
	p := designRecord(8, 6)
	plan, err := PlanTrial(context.Background(), p, designSowing(2007), DesignGoal{Difference{Hardiness: true, By: 1}, 0.9, 2})
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Past) != 6 {
		t.Errorf("%d past winters, want 6", len(plan.Past))
	}
	type size struct{ winters, places, plots, plants int }
	at := map[size]Design{}
	for _, d := range plan.Designs {
		at[size{d.Winters, d.Places, d.Plots, d.Plants}] = d
		if !(d.Low <= d.Chance && d.Chance <= d.High) || d.Chance < 0.5 || d.High > 1 {
			t.Errorf("%+v: chance outside its range", d)
		}
	}
	small := at[size{1, 1, 1, 5}]
	for _, more := range []size{{2, 1, 1, 5}, {1, 2, 1, 5}, {1, 1, 2, 5}, {1, 1, 1, 10}} {
		if at[more].Chance <= small.Chance {
			t.Errorf("%+v: %.4f, no better than the smallest trial's %.4f", more, at[more].Chance, small.Chance)
		}
	}
}

// The whole loop at full size: two lines that differ in hardiness, winters drawn
// from the record, notes drawn with all their deviations really in them, what
// is learned of the two, and the hardier taken by its mean. The share of right
// choices must be the stated chance within its sampling error.
func TestTheStatedChanceComesTrue(t *testing.T) {
	needsLong(t)
	const years, loops = 30, 500
	for _, c := range []struct {
		by             float64
		winters, plots int
	}{{1, 1, 2}, {1, 2, 1}, {0.5, 2, 3}, {0.7, 3, 2}} {
		place := designRecord(21, years)
		plan, err := PlanTrial(context.Background(), place, designSowing(2001+years), DesignGoal{Difference{Hardiness: true, By: c.by}, 0.9, 2})
		if err != nil {
			t.Fatal(err)
		}
		var stated Design
		for _, d := range plan.Designs {
			if d.Winters == c.winters && d.Places == 1 && d.Plots == c.plots && d.Plants == 10 {
				stated = d
			}
		}
		right := make([]float64, loops)
		err = inParallel(context.Background(), loops, func(i int) error {
			rng := rand.New(rand.NewPCG(uint64(i), 77))
			m := usualTrial(2, c.winters)
			m.plots = c.plots
			m.walks = func(year int) map[weather.Date]bool {
				days := map[weather.Date]bool{}
				for _, d := range customary(weather.WinterYear{Year: year}) {
					days[d] = false
				}
				return days
			}
			trial := &Trial{Places: []*Place{place}}
			var lines []truth
			for k := range 2 {
				lines = append(lines, truth{0, Standard().HardinessC + c.by*(float64(k)-0.5), math.Log(Standard().TopLengthCM)})
				trial.Lines = append(trial.Lines, Line{Name: fmt.Sprint("L", k), Prior: noPrior()})
			}
			for _, y := range rng.Perm(years)[:c.winters] {
				m.addWinter(rng, trial, place, lines, 2001+y)
			}
			l, _, err := Learn(context.Background(), trial)
			if err != nil {
				return err
			}
			if l.Lines[0].HardinessC < l.Lines[1].HardinessC {
				right[i] = 1
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		got, sd := sumOf(right)/loops, math.Sqrt(stated.Chance*(1-stated.Chance)/loops)
		t.Logf("%.1f °C, %d winters, %d plots: stated %.3f (%.3f nothing), came true %.3f ± %.3f", c.by, c.winters, c.plots, stated.Chance, stated.Nothing, got, sd)
		if math.Abs(got-stated.Chance) > 3*sd {
			t.Errorf("%.1f °C, %d winters, %d plots: stated %.3f, came true in %.3f of %d trials", c.by, c.winters, c.plots, stated.Chance, got, loops)
		}
	}
}
