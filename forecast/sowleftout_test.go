package forecast

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"

	"wintertop/weather"
)

// normalLine is the weighting of a line whose traits are known to within an SD
// each: ln size, hardiness, ln length.
func normalLine(g *Grid, mean truth, sd truth) density {
	return g.normal(traitPrior{
		mean: []float64{mean.sizeLn, mean.hardC, mean.lengthLn},
		cov:  mat.NewSymDense(traits, []float64{square(sd.sizeLn), 0, 0, 0, square(sd.hardC), 0, 0, 0, square(sd.lengthLn)}),
	})
}

// Plans for past winters on Norderney, each sixth winter left out in turn, are
// played in the winters that were left out. The wanted share of these must be
// supplied to within two standard errors of a count, below and above: in fifths
// of what the lines may be, as a plan counts them, and with each line drawn on
// its own. Demands for December, January and February, the last of which only
// half of the winters allow.
func TestPlansHoldInWintersLeftOut(t *testing.T) {
	record := norderney(t)
	site := standardSite()
	site.Weather.LatitudeDeg, site.Weather.Coast = 53.7, true
	place := &Place{Site: site, Record: record, Filled: record}
	l := &Learning{grid: NewGrid(site.Params), params: site.Params}
	doubt := truth{0.15, 0.6, 0.08}
	means := []truth{{math.Log(1.3), -11, math.Log(42)}, {math.Log(1.5), -9.5, math.Log(44)}, {0, -10.5, math.Log(40)}}
	var lines []*stake
	for _, mean := range means {
		of := l.grid.stakeOf(normalLine(l.grid, mean, doubt), newLookRoom())
		lines = append(lines, &of)
	}
	// The same lines as they may truly be in a winter: so many draws of each.
	const draws = 60
	rng := rand.New(rand.NewPCG(3, 9))
	for i := range draws * len(means) {
		mean := means[i%len(means)]
		size := min(max(mean.sizeLn+doubt.sizeLn*rng.NormFloat64(), l.grid.SizeLn[0]), l.grid.SizeLn[gridSizes-1])
		hard := mean.hardC + doubt.hardC*rng.NormFloat64()
		at := int(math.Round((size-l.grid.SizeLn[0])/(l.grid.SizeLn[1]-l.grid.SizeLn[0])))*gridHards + int(math.Round((hard-l.grid.HardC[0])/(l.grid.HardC[1]-l.grid.HardC[0])))
		ln := mean.lengthLn + doubt.lengthLn*rng.NormFloat64()
		lines = append(lines, &stake{nodes: []int{at}, core: []int{0}, inCore: []float64{1}, lengthLn: []float64{ln}, lengthSD: []float64{0}})
	}
	next := weather.WinterYear{Year: 2020}
	s := sowing{place: place, monday: weather.NewDate(2020, time.June, 29), sown: weather.NewDate(2020, time.July, 2), plantsPerM2: 80}
	var years []int
	for _, w := range place.winters(next) {
		if record.Complete(w) && s.pastDays(w.Year-next.Year, weather.NewDate(2021, time.March, 14)) != nil {
			years = append(years, w.Year-next.Year)
		}
	}
	// Weeks 0–3 from 7 December, 4–7 from 4 January, 8–11 from 1 February.
	var weeks [][]weather.Date
	for monday := weather.NewDate(2020, time.December, 7); len(weeks) < 12; monday += 7 {
		weeks = append(weeks, []weather.Date{monday, monday + 3, monday + 6})
	}
	lifted, err := l.lifting(context.Background(), s, lines, weeks, years)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		wanted float64
		from   int
	}{{0.8, 0}, {0.65, 4}, {0.5, 8}} {
		days := weeks[c.from:][:4]
		lift := make([][][]float64, len(lifted))
		for j := range lifted {
			lift[j] = lifted[j][c.from:][:4]
		}
		const folds, yieldOfWanted = 6, 0.01
		met, drawn := 0, 0
		for fold := range folds {
			in := &supply{}
			for k := range days {
				ways := make([][]float64, len(means))
				for j := range means {
					for course := range lift[j][k] {
						if course/fifths%folds == fold {
							continue
						}
						share := lift[j][k][course]
						if share < l.params.WorthShare {
							share = 0
						}
						ways[j] = append(ways[j], yieldOfWanted*share)
					}
				}
				in.gives, in.most = append(in.gives, ways), append(in.most, math.Inf(1))
			}
			giveUp, _ := mayGiveUp(len(in.gives[0][0])/fifths, c.wanted)
			plan := in.least(giveUp)
			if !plan.ok {
				t.Fatalf("%v: no plan", c)
			}
			for year := fold; year < len(years); year += folds {
				all := func(of func(k, j int) float64) bool {
					for k := range days {
						got := 0.0
						for j, m2 := range plan.areaM2[k] {
							got += m2 * yieldOfWanted * of(k, j)
						}
						if got < enough {
							return false
						}
					}
					return true
				}
				for q := range fifths {
					if all(func(k, j int) float64 { return lift[j][k][year*fifths+q] }) {
						met++
					}
				}
				for i := range draws {
					if all(func(k, j int) float64 { return lift[len(means)*(i+1)+j][k][year*fifths] }) {
						drawn++
					}
				}
			}
		}
		n := float64(len(years))
		share, error2 := float64(met)/n/fifths, 2*math.Sqrt(c.wanted*(1-c.wanted)/n)
		t.Logf("from %s: wanted %.2f, supplied %.3f of %d winters left out (two standard errors %.3f); where lines differ from what is believed %.3f",
			days[0][0], c.wanted, share, len(years), error2, float64(drawn)/n/draws)
		if truly := float64(drawn) / n / draws; math.Abs(share-c.wanted) > error2 || math.Abs(truly-c.wanted) > error2 {
			t.Errorf("from %s: wanted %.2f, supplied in %.3f of the winters left out, %.3f with lines drawn", days[0][0], c.wanted, share, truly)
		}
	}
}
