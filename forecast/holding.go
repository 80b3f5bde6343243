package forecast

import (
	"cmp"
	"context"
	"math"
	"slices"

	"wintertop/canopy"
	"wintertop/weather"
)

// holding says for every cell of the trait grid in which share of the past
// winters a line with these traits in general would hold: on every day of the
// window enough of its stand lifts and the row is shaded. The line's deviations
// in single winters are in it. Roots are not: no line changes what frost does
// to them here.
//
// Unlike the pick's, the winters are played whole, from sowing on, as what is
// crossed now stands in the field in a winter that has not begun.
type holding struct {
	grid    *Grid
	chance  weights
	winters int // played, at all places
	fewest  int // played at the place with fewest
	nodes   []normalNode
}

// A holding is worked out on every second size and hardiness of the grid: its
// chances are means over winters and deviations, which between two such are
// nearly straight.
const heldSize, heldHard = 2, 2

// offspringNodes is how many values of each trait stand for an offspring.
const offspringNodes = 7

// holdingOf plays the past winters of every place with plantings, sown like the
// newest of them, and takes the places alike. The error is ctx's or that of a
// winter that cannot be followed.
func (l *Learning) holdingOf(ctx context.Context, trial *Trial, asOf weather.Date, window func(weather.WinterYear) (from, to weather.Date)) (*holding, error) {
	h := &holding{grid: l.grid, chance: newWeights(), nodes: normalNodes(offspringNodes)}
	places, work := 0.0, newWeights()
	for _, p := range trial.Places {
		of, winters, err := l.holdingAt(ctx, trial, p, window)
		if err != nil {
			return nil, err
		}
		if winters == 0 {
			continue
		}
		// A winter to come has no notes: its deviations are the widest.
		l.kernelAt(season{weather.WinterOf(asOf, p.Site.Weather.South()).Next(), p}).toGeneral(l.grid, of, work)
		addTo(h.chance, of)
		h.winters += winters
		if h.fewest = min(h.fewest, winters); places == 0 {
			h.fewest = winters
		}
		places++
	}
	for c := range h.chance {
		h.chance[c] = min(max(h.chance[c]/max(places, 1), 0), 1)
	}
	return h, nil
}

// holdingAt gives the share of a place's past winters by the traits in those
// winters, and how many they are: 0 where nothing was sown or none can be
// followed from sowing on.
func (l *Learning) holdingAt(ctx context.Context, trial *Trial, p *Place, window func(weather.WinterYear) (from, to weather.Date)) (weights, int, error) {
	own := slices.DeleteFunc(slices.Clone(trial.Plantings), func(q Planting) bool { return trial.placeOf(&q) != p })
	if len(own) == 0 {
		return nil, 0, nil
	}
	newest := slices.MaxFunc(own, func(a, b Planting) int { return cmp.Compare(a.Sown, b.Sown) })
	seasons := p.sownLike(newest, func(w weather.WinterYear) weather.Date { _, to := window(w); return to })
	if len(seasons) == 0 {
		return nil, 0, nil
	}
	wanted := p.wantedHeights()
	shadeG := p.Site.shadeG(newest.PlantsPerM2)
	wantedNodes := make([]bool, gridNodes)
	for node := range wantedNodes {
		wantedNodes[node] = node/gridHards%heldSize == 0 && node%gridHards%heldHard == 0
	}
	draws := l.grid.drawn(wantedNodes)
	sown := draws.traits()
	least := make([][]float64, len(seasons)) // ln of the top length that holds to the window's end, per winter and node of draws
	err := inParallel(ctx, len(seasons), func(i int) error {
		s := seasons[i]
		w, err := weather.NewWinter(s.days, p.Site.Weather)
		if err != nil {
			return err
		}
		least[i] = slices.Repeat([]float64{math.Inf(-1)}, len(draws.nodes))
		run, leafG, height := make([]float64, len(draws.at)), make([]float64, len(draws.nodes)), make([]float64, len(draws.nodes))
		from, _ := window(weather.WinterAfterSowing(s.planting.Sown, p.Site.Weather.South()))
		first := int(from - s.planting.Sown)
		canopy.Sow(s.planting, sown, p.Site.Canopy).Grow(w, 0, len(s.days)-1, func(day int, st *canopy.Stand) {
			if day < first {
				return
			}
			draws.refineLog(leafG, st.LeafG(run), l.params.MassOffsetG)
			draws.refine(height, st.RelativeHeight(run))
			for k, g := range leafG {
				if g < shadeG {
					least[i][k] = math.Inf(1)
				} else if least[i][k] < math.MaxFloat64 {
					least[i][k] = max(least[i][k], wanted.LeastLnHeight(lnOrLow(g))-lnOrLow(height[k]))
				}
			}
		})
		return nil
	})
	if err != nil {
		return nil, 0, err
	}
	return l.grid.shareAbove(least), len(seasons), nil
}

// shareAbove gives, by cell, the share of winters in which a length reaches the
// least one; within a step the lengths are spread evenly. least holds ln cm per
// winter and node of a holding.
func (g *Grid) shareAbove(least [][]float64) weights {
	const hards, sizes = (gridHards-1)/heldHard + 1, (gridSizes-1)/heldSize + 1
	share, step := make([]float64, sizes*hards*gridLengths), g.lengthStep()
	for _, winter := range least {
		for d, x := range winter {
			for k, ln := range g.LengthLn {
				share[d*gridLengths+k] += min(max((ln+step/2-x)/step, 0), 1) / float64(len(least))
			}
		}
	}
	whole := newWeights()
	for s := range gridSizes {
		for h := range gridHards {
			below, right := min(s/heldSize, sizes-2), min(h/heldHard, hards-2)
			up, on := float64(s)/heldSize-float64(below), float64(h)/heldHard-float64(right)
			for k := range gridLengths {
				at := func(s, h int) float64 { return share[(s*hards+h)*gridLengths+k] }
				whole[(s*gridHards+h)*gridLengths+k] = (1-up)*((1-on)*at(below, right)+on*at(below, right+1)) +
					up*((1-on)*at(below+1, right)+on*at(below+1, right+1))
			}
		}
	}
	return whole
}

// of gives the chance that a line with a density over the grid holds.
func (h *holding) of(d density) float64 {
	sum := 0.0
	for c, p := range d.byCell(h.grid) {
		sum += p * h.chance[c]
	}
	return sum
}

// at gives the chance at any traits: between the cells straight, beyond the
// grid that of its edge.
func (h *holding) at(x [traits]float64) float64 {
	var cell [traits]int
	var part [traits]float64
	for t, axis := range [traits][]float64{sizeTrait: h.grid.SizeLn, hardTrait: h.grid.HardC, lengthTrait: h.grid.LengthLn} {
		place := (x[t] - axis[0]) / (axis[1] - axis[0])
		cell[t] = min(max(int(place), 0), len(axis)-2)
		part[t] = min(max(place-float64(cell[t]), 0), 1)
	}
	sum := 0.0
	for corner := range 1 << traits {
		weight := 1.0
		at := cell
		for t := range traits {
			if corner>>t&1 == 1 {
				at[t]++
				weight *= part[t]
			} else {
				weight *= 1 - part[t]
			}
		}
		sum += weight * h.chance[(at[sizeTrait]*gridHards+at[hardTrait])*gridLengths+at[lengthTrait]]
	}
	return sum
}
