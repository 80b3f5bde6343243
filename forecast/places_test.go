package forecast

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"wintertop/canopy"
	"wintertop/weather"
)

// A place that is 0.5 °C colder at night than its station says: the lines'
// order in hardiness stays, and so do forecasts for the place, since what kills
// is how far the canopy is colder than the line bears. Only the level of
// hardiness_c moves with the station, as its description says.
func TestAColderPlaceHarmsNeitherRanksNorForecasts(t *testing.T) {
	type outcome struct{ rank, bias, rmse, level float64 }
	run := func(colderC float64) outcome {
		lines, winters := 5, 2
		if long() {
			lines, winters = 60, 5
		}
		m := usualTrial(lines, winters)
		m.colderC, m.allHardC = colderC, 0
		rng := rand.New(rand.NewPCG(31, 5))
		record := inventedWeather(rng, 2001, winters+1)
		trial, truths := m.build(rng, record, 2001)
		l, _, err := Learn(context.Background(), trial)
		if err != nil {
			t.Fatal(err)
		}
		var c tally
		c.add(l, truths)
		o := outcome{rank: correlation(ranks(c.mean[hardTrait]), ranks(c.true[hardTrait]))}
		for i := range truths {
			o.level += (c.mean[hardTrait][i] - c.true[hardTrait][i]) / float64(lines)
		}
		// A winter unseen, truth colder than the station, against the model by
		// the station with what was learned.
		next := weather.WinterYear{Year: 2001 + winters}
		sown := weather.NewDate(next.Year, time.July, 5)
		place := trial.Places[0]
		crop := crop{place, next, sown, sown + 60, 80}
		date := weather.NewDate(next.Year+1, time.February, 10)
		forecast := l.grid.predict(crop, []watch{{date, LeafMass}}, l.params)[watch{date, LeafMass}]
		truly := place.Site.Weather
		truly.Params.DropBaseC += colderC
		w, err := weather.NewWinter(record.Slice(sown, date), truly)
		if err != nil {
			t.Fatal(err)
		}
		var now []canopy.Traits
		for _, x := range truths {
			now = append(now, canopy.Traits{TopSize: math.Exp(x.sizeLn), HardinessC: x.hardC})
		}
		var leaf []float64
		ownCanopy(canopy.Planting{Sown: sown, LastCultivated: sown + 60, PlantsPerM2: 80}, now, w, func(_ int, leafG, _ []float64) { leaf = leafG })
		for i, g := range leaf {
			expected := 0.0
			for node, p := range l.byNode[i] {
				expected += p * forecast[node]
			}
			off := expected - math.Log(g+l.params.MassOffsetG)
			o.bias += off / float64(lines)
			o.rmse += square(off) / float64(lines)
		}
		o.rmse = math.Sqrt(o.rmse)
		return o
	}
	same, colder := run(0), run(0.5)
	t.Logf("as the station: %+.3f; 0.5 °C colder: %+.3f", same, colder)
	slack := 0.1 // five lines; other notes are drawn where more leaf is lost
	if long() {
		slack = 0.03
	}
	if colder.rank < same.rank-slack {
		t.Errorf("rank correlation of hardiness %.3f, %.3f at a place as its station says", colder.rank, same.rank)
	}
	if math.Abs(colder.bias) > math.Abs(same.bias)+0.15 || colder.rmse > same.rmse+0.15 {
		t.Errorf("forecasts of ln leaf mass off by %.3f ± %.3f, %.3f ± %.3f at a place as its station says", colder.bias, colder.rmse, same.bias, same.rmse)
	}
	if !(colder.level-same.level > 0.2) {
		t.Errorf("level of hardiness moves by %.2f °C: the check tells nothing", colder.level-same.level)
	}
}

func ranks(x []float64) []float64 {
	r := make([]float64, len(x))
	for i := range x {
		for _, y := range x {
			if y < x[i] {
				r[i]++
			}
		}
	}
	return r
}

// Two places, one 0.8 °C colder than its station says: the shift of each is
// learned from all lines together, and lines grown at one of them only are not
// taken for hardy or tender.
func TestTwoPlacesHaveTheirShifts(t *testing.T) {
	needsLong(t)
	m := usualTrial(10, 2)
	m.allHardC = 0
	rng := rand.New(rand.NewPCG(41, 5))
	record := inventedWeather(rng, 2001, 2)
	trial, truths := m.build(rng, record, 2001)
	valley := trial.Places[0]
	valley.Name = "valley"
	for i := range trial.Plantings {
		trial.Plantings[i].Place = "valley"
	}
	hill := alike(valley)
	hill.Name = "hill"
	trial.Places = append(trial.Places, hill)
	m.colderC = 0.8
	for y := 2001; y < 2003; y++ {
		m.addWinter(rng, trial, hill, truths, y)
	}
	// The last three lines stand on the hill only.
	var kept []Note
	for _, n := range trial.Notes {
		if n.Planting[5:9] != "hill" && trial.lineOf(n.Planting) >= 7 {
			continue
		}
		kept = append(kept, n)
	}
	trial.Notes = kept
	l, _, err := Learn(context.Background(), trial)
	if err != nil {
		t.Fatal(err)
	}
	shift := l.shiftC(hill) - l.shiftC(valley)
	hills := 0.0
	for i := 7; i < 10; i++ {
		hills += (l.Lines[i].HardinessC - truths[i].hardC) / 3
	}
	both := 0.0
	for i := range 7 {
		both += (l.Lines[i].HardinessC - truths[i].hardC) / 7
	}
	winters := 0.0
	for _, x := range l.seasons {
		if x.place == hill {
			winters += l.pop.effects[l.frostEffect(x)] / 2
		} else {
			winters -= l.pop.effects[l.frostEffect(x)] / 2
		}
	}
	t.Logf("hill − valley %.2f °C, with what their winters deviate %.2f; lines of both places off by %.2f, of the hill alone by %.2f", shift, shift+winters, both, hills)
	// Colder air: leaves die as if less hardy. Two winters cannot tell the place's
	// shift from two winters that deviate; both together are what was put in.
	if !(shift > 0.2 && shift+winters > 0.5 && shift+winters < 1.2) {
		t.Errorf("the hill's shift is %.2f °C, with its winters %.2f; 0.8 was put in", shift, shift+winters)
	}
	if math.Abs(hills-both) > 0.5 {
		t.Errorf("lines of the hill alone are off by %.2f °C, of both places by %.2f", hills, both)
	}
}

func (t *Trial) lineOf(planting string) int {
	for i, l := range t.Lines {
		for _, p := range t.Plantings {
			if p.Name == planting && p.Line == l.Name {
				return i
			}
		}
	}
	return -1
}

// Trials that only checks connect: a candidate that stood in the one poor trial
// is not taken for small.
func TestChecksConnectTrials(t *testing.T) {
	const head = "planting,line,place,sown,plants_per_m2\n"
	plantings, notes, lines := head, "date,planting,trait,value,unit,plants\n", "line,kind\n"
	for i, mass := range []string{"24", "24", "24", "24", "16", "16"} {
		name := string(rune('a' + i))
		lines += name + "," + map[bool]string{true: "check", false: "candidate"}[i < 4] + "\n"
		if i < 5 { // the checks and e in 2012; the checks and f in 2013, a third less for all
			plantings += name + "12," + name + ",,2012-07-05,80\n"
			notes += "2012-10-15," + name + "12,leaf_mass," + mass + ",g,40\n"
		}
		if i != 4 {
			plantings += name + "13," + name + ",,2013-07-05,80\n"
			less := "16"
			notes += "2013-10-15," + name + "13,leaf_mass," + less + ",g,40\n"
		}
	}
	fsys := with(t, "lines.csv", lines)
	fsys["plantings.csv"].Data, fsys["notes.csv"].Data = []byte(plantings), []byte(notes)
	trial := loadAsOf(t, fsys, "2014-11-15")
	trial.Places[0].Site.Params = fixed(trial.Places[0].Site.Params)
	l := learn(t, trial)
	e, f := l.Lines[4], l.Lines[5]
	t.Logf("e, small in the good trial: %.2f; f, usual in the poor one: %.2f; effects %.2f", e.TopSize, f.TopSize, l.pop.effects)
	if !(f.TopSize > 1.1*e.TopSize) {
		t.Errorf("f weighed as the checks of its trial, e a third less: top sizes %.2f, %.2f", f.TopSize, e.TopSize)
	}
}
