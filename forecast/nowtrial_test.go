package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"wintertop/canopy"
	"wintertop/weather"
)

// nowTrial is an invented trial with two winters of notes and one in progress,
// whose lines' true traits are known.
type nowTrial struct {
	rng   *rand.Rand
	trial *Trial
	place *Place
	truly []truth // of the winter in progress
	goal  Goal
	sown  weather.Date
	plots [][groups]float64 // deviation of each planting of the winter in progress, by group
	ofAll [groups]float64   // of its trial
}

const nowYear = 2019

func newNowTrial(seed uint64, lines, years int) *nowTrial {
	rng := rand.New(rand.NewPCG(seed, 91))
	n := &nowTrial{rng: rng}
	m := usualTrial(lines, 0)
	m.plots = 1
	m.params.WantedShare, m.params.NoteWorthShare = 0.6, 0 // as many notes as may be
	record := inventedWeather(rng, nowYear+1-years, years)
	for i := range record.Days { // mild enough that it is open which rows can be left
		record.Days[i].MinC += 2
		record.Days[i].MaxC += 2
	}
	n.trial, n.truly = m.build(rng, record, 0)
	n.place = n.trial.Places[0]
	for y := nowYear - 2; y < nowYear; y++ {
		m.addWinter(rng, n.trial, n.place, n.truly, y)
	}
	p, winter := m.params, weather.WinterYear{Year: nowYear}
	ofWinter := p.WinterHardSDC * rng.NormFloat64()
	n.sown = weather.NewDate(nowYear, time.July, 5)
	for g := range groups {
		_, trial := g.doubts(p)
		n.ofAll[g] = math.Sqrt(trial) * rng.NormFloat64()
	}
	n.ofAll[massGroup] = p.TrialSDLn * rng.NormFloat64()
	for i := range n.truly {
		t := &n.truly[i]
		t.sizeLn, t.hardC, t.lengthLn = t.sizeLn+p.LineWinterSizeSD*rng.NormFloat64(), t.hardC+ofWinter+p.LineWinterHardSDC*rng.NormFloat64(), t.lengthLn+p.LineWinterLengthSD*rng.NormFloat64()
		n.trial.Plantings = append(n.trial.Plantings, Planting{Name: fmt.Sprint("now-", i), Line: n.trial.Lines[i].Name, Sown: n.sown, LastCultivated: n.sown + 60, PlantsPerM2: 80, Winter: winter})
		var own [groups]float64
		for g := range groups {
			plot, _ := g.doubts(p)
			own[g] = math.Sqrt(plot) * rng.NormFloat64()
		}
		n.plots = append(n.plots, own)
	}
	n.goal = Goal{Winter: winter, AsOf: weather.NewDate(nowYear, time.December, 1), From: weather.NewDate(nowYear+1, time.February, 1), To: weather.NewDate(nowYear+1, time.March, 15), Want: WantNext}
	for i := range n.truly {
		for _, t := range []Trait{LeafMass, TopHeight} {
			n.trial.Notes = append(n.trial.Notes, n.note(i, t, weather.NewDate(nowYear, time.October, 15), 10))
		}
	}
	return n
}

// note takes one note of one line, as notes come about by the model, on the
// first day from a date on with thawed tops.
func (n *nowTrial) note(line int, trait Trait, from weather.Date, plants int) Note {
	p, site := n.place.Site.Params, n.place.Site.Canopy
	w := n.place.observed(n.sown, n.goal.To)
	free := thawed(w)
	day := w.Index(from)
	for day < len(free)-1 && !free[day] {
		day++
	}
	var leafG, height, leaves float64
	t := n.truly[line]
	s := canopy.Sow(canopy.Planting{Sown: n.sown, LastCultivated: n.sown + 60, PlantsPerM2: 80}, []canopy.Traits{{TopSize: math.Exp(t.sizeLn), HardinessC: t.hardC}}, site)
	s.Grow(w, 0, day, nil)
	leafG, height, leaves = s.LeafG(nil)[0]*math.Exp(n.ofAll[massGroup]), s.RelativeHeight(nil)[0], s.LiveLeaves(nil)[0]
	group := map[Trait]group{LeafMass: massGroup, GroundCover: massGroup, TopHeight: heightGroup, TopLength: heightGroup, LiveLeaves: leavesGroup, LiftedShare: liftGroup}[trait]
	off := n.plots[line][group] + 0
	if group != massGroup {
		off += n.ofAll[group]
	}
	sd := 1 / math.Sqrt(float64(plants))
	note := Note{Date: w.First + weather.Date(day), Planting: fmt.Sprint("now-", line), Trait: trait, Plants: plants}
	z := n.rng.NormFloat64()
	switch trait {
	case LeafMass:
		note.Value = math.Round(10*leafG/site.DryShare*math.Exp(off+site.MassLnSD*sd*z-square(site.MassLnSD*sd)/2)) / 10
	case GroundCover:
		perG := site.CropExtinction * site.LeafAreaM2PerG * 80
		note.Value = -math.Expm1(-perG * leafG * math.Exp(off+p.CoverSDLn*z))
	case TopHeight:
		note.Value = math.Round(height * math.Exp(t.lengthLn+off+site.HeightLnSD*sd*z))
	case TopLength:
		note.Value = math.Round(math.Exp(t.lengthLn + off + site.HeightLnSD*sd*z))
	case LiveLeaves:
		note.Value = max(0, (leaves+p.LeavesOffset)*math.Exp(off+math.Hypot(p.PlantLeavesSDLn*sd, p.LeafDoubt/(leaves+p.LeavesOffset))*z)-p.LeavesOffset)
	case LiftedShare:
		share := canopy.NewLifting(site).Share(leafG, height*math.Exp(t.lengthLn))
		share = 1 / (1 + math.Exp(-logit(share, 1e-6)-off))
		for range plants {
			if n.rng.Float64() < share {
				note.Value += 1 / float64(plants)
			}
		}
	}
	return note
}
