package forecast

// seasonCourses is how many courses of weather a node is followed along at least,
// where there are as many, for all but its leaf mass: of 72 winters every second,
// its neighbours along the others.
const seasonCourses = 32

// season gives the medians and bounds of one row on the prepared day.
func (d *dayBook) season(r *row) SeasonDay {
	f, c := d.f, d.place.Site.Canopy
	if r.spreads == nil {
		r.spreads = newSeasonSpreads()
		r.spreads.lengths = r.stake.coreLengths()
		r.spreads.doubt = r.spreads.mass.bell(r.doubtSD)
	}
	stake := &r.stake
	mass, height, leaves, weeds, lift, lt50 := r.spreads.reset()
	// Where there are courses enough a node takes one of its lengths in each, and
	// where there are more it is left out of some.
	take, stride := lengthPoints, max(1, f.courses/seasonCourses)
	if f.courses >= lengthPoints {
		take = 1
	}
	for course := range f.courses {
		at := func(k int) int { return course*f.nodes + int(r.at[stake.core[k]]) }
		for k, w := range stake.inCore {
			mass.addAt(int(d.steps[at(k)].mass), f.leafG[at(k)], w)
		}
		for k := (stride - course%stride) % stride; k < len(stake.core); k += stride {
			at, w := at(k), stake.inCore[k]
			steps := d.steps[at]
			leaves.addAt(int(steps.leaves), f.liveLeaves[at], w)
			weeds.addAt(int(steps.weeds), f.weedCover[at], w)
			lt50.addAt(int(steps.lt50), f.lt50C[at], w)
			for q := range take {
				length := r.spreads.lengths[k*lengthPoints+(course+k+q)%lengthPoints]
				heightLn := d.heightLn[at] + length.ln
				height.addAt(height.stepOn(heightLn), f.height[at]*length.cm, w)
				share := d.shares.At(d.massCell[at], heightLn)
				lift.addAt(lift.stepOn(share), share, w)
			}
		}
	}
	dry, from := mass.quantile(0.5), d.place.weatherOn(f.date)
	doubt := r.spreads.doubt
	return SeasonDay{
		Date: f.date, Weather: from, Observed: from == WeatherObserved || from == WeatherFilled,
		LeafG: dry / c.DryShare, LeafLoG: mass.blurredQuantile(doubt, 0.05) / c.DryShare, LeafHiG: mass.blurredQuantile(doubt, 0.95) / c.DryShare, LeafDryG: dry,
		TopHeightCM: height.quantile(0.5), LiveLeaves: leaves.quantile(0.5),
		LeafAreaIndex: dry * c.LeafAreaM2PerG * d.crop.plantsPerM2, GroundLight: d.lightAt(dry),
		WeedCover: weeds.quantile(0.5), LiftShare: lift.quantile(0.5), LT50C: lt50.interpolated(0.5),
	}
}

// seasonOf gathers the rows' days into a Season, a planting each.
func (p *Place) seasonOf(trial *Trial, rows []*row, t traces, goal Goal) *Season {
	s := &Season{
		Place: p.Name, Winter: goal.Winter, AsOf: goal.AsOf, Traces: len(t.played), SoFar: p.standingOf(goal.Winter, goal.AsOf),
		GripG: p.Site.Canopy.GripFreshG, ShadeLimit: p.Site.Params.ShadeLimit, BeltCM: p.Site.Canopy.BeltHeightCM,
	}
	for _, r := range rows {
		for _, planting := range r.plantings {
			one := PlantingSeason{Line: planting.Line, Planting: planting.Name, Kind: r.kind, Basis: r.basis, Days: r.days}
			for _, n := range trial.Notes {
				if n.Planting == planting.Name {
					low, high := n.bounds(p.Site.Params, p.Site.Canopy)
					one.Notes = append(one.Notes, NotePoint{n.Date, string(n.Trait), n.Value, low, high, n.Plants})
				}
			}
			s.Plantings = append(s.Plantings, one)
		}
	}
	return s
}
