package forecast

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// What a line's notes say by the grid, against difference quotients: how the
// mean of its traits moves with the effects (cross), and how the slopes do
// (turn), looked at anew with an effect a little higher and lower; with two
// places, so that trial, frost and place are all there. moved must give what a
// new look gives a little way off.
func TestTestimonyAgainstDifferenceQuotients(t *testing.T) {
	m := usualTrial(3, 2)
	rng := rand.New(rand.NewPCG(81, 5))
	trial, truths := m.build(rng, inventedWeather(rng, 2001, 2), 2001)
	here := trial.Places[0]
	here.Name = "here"
	for i := range trial.Plantings {
		trial.Plantings[i].Place = "here"
	}
	there := alike(here)
	there.Name = "there"
	trial.Places = append(trial.Places, there)
	m.addWinter(rng, trial, there, truths, 2001)
	l, _, err := Learn(context.Background(), trial)
	if err != nil {
		t.Fatal(err)
	}
	at := append([]float64(nil), l.pop.effects...)
	say := func(effect int, by float64) *testimony {
		copy(l.pop.effects, at)
		l.pop.effects[effect] += by
		l.shift()
		var v view
		l.look(&v, 0, season{}, l.pop, wholeGrid(), true, newLookRoom())
		said, _ := v.testify(nil, l.grid, l.linePrior(0, l.pop), len(at), true)
		return said
	}
	middle := say(0, 0)
	if n := len(at); n != 3+3+2 {
		t.Fatalf("%d effects", n)
	}
	for e := range at {
		const step = 0.02
		low := say(e, -step)
		high := say(e, step)
		for trait := range traits {
			numeric, sd := (high.mean[trait]-low.mean[trait])/(2*step), math.Sqrt(middle.cov.At(trait, trait))
			if got := middle.cross.At(trait, e); math.Abs(got-numeric) > 0.06*math.Abs(numeric)+0.03*sd {
				t.Errorf("effect %d, trait %d: mean moves by %.4f, difference quotient %.4f", e, trait, got, numeric)
			}
		}
		for f := range at {
			numeric := -(high.slope[f] - low.slope[f]) / (2 * step)
			scale := math.Sqrt(math.Abs(middle.turn.At(e, e) * middle.turn.At(f, f)))
			if got := middle.turn.At(e, f); math.Abs(got-numeric) > 0.08*scale+0.05 {
				t.Errorf("effects %d and %d: slope turns by %.3f, difference quotient %.3f", e, f, got, numeric)
			}
		}
	}
}

// The covariance of notes, element by element: a deviation shows in each by its
// share, plots of a trial share the trial's, notes of a plot the plot's too.
func TestCovarianceOfNotes(t *testing.T) {
	c := covariance([]reading{{plot: 0, share: 1, variance: 0.5}, {plot: 0, share: 0.5, variance: 0.25}, {plot: 1, share: 0.8, variance: 0.1}}, 0.04, 0.09)
	want := mat.NewSymDense(3, []float64{
		0.13 + 0.5, 0.13 * 0.5, 0.09 * 0.8,
		0, 0.13*0.25 + 0.25, 0.09 * 0.4,
		0, 0, 0.13*0.64 + 0.1,
	})
	if !mat.EqualApprox(c, want, 1e-15) {
		t.Errorf("%v, want %v", mat.Formatted(c), mat.Formatted(want))
	}
}

// A line in a winter without notes: what is not known of it in general, its
// deviation in the winter, what all lines deviate, and the shift of one place
// among several. Without any note these are the assumed SDs.
func TestAWinterWithoutNotesIsInMoreDoubt(t *testing.T) {
	trial := loadAsOf(t, with(t, "notes.csv", "date,planting,trait,value,unit,plants\n"), "2014-11-15")
	p := &trial.Places[0].Site.Params
	p.PlaceSDC, p.HardinessSDC = 1, 0.8
	there := alike(trial.Places[0])
	trial.Places[0].Name, there.Name = "here", "there"
	for i := range trial.Plantings {
		trial.Plantings[i].Place = "here"
	}
	trial.Places = append(trial.Places, there)
	l := learn(t, trial)
	_, hard, length := l.inSeason(0, season{trial.Plantings[4].Winter, there}).marginals()
	_, hardSD := moments(l.grid.HardC, hard)
	_, lengthSD := moments(l.grid.LengthLn, length)
	if want := math.Sqrt(0.8*0.8 + 0.6*0.6 + 0.5*0.5 + 0.5*0.5 + 1*1); math.Abs(hardSD/want-1) > 0.04 { // the grid cuts at 3.2 SD
		t.Errorf("hardiness ±%.3f, want %.3f", hardSD, want)
	}
	if want := math.Sqrt(0.17*0.17 + 0.1*0.1 + 0.06*0.06); math.Abs(lengthSD/want-1) > 0.07 { // at 2.5 SD
		t.Errorf("ln length ±%.3f, want %.3f", lengthSD, want)
	}
}
