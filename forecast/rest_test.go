package forecast

import (
	"context"
	"math/rand/v2"
	"testing"
)

// The estimate of what the lines share must be at rest when it is done: another
// look at all notes moves mean and effects by less than a twentieth of a prior
// SD. Steps in this trial swing about the rest unless they are held back.
func TestWhatLinesShareComesToRest(t *testing.T) {
	m := usualTrial(60, 2)
	rng := rand.New(rand.NewPCG(204, 5))
	trial, _ := m.build(rng, inventedWeather(rng, 2001, 2), 2001)
	l := newLearning(NewGrid(m.params), m.params, trial.Places, trial.Lines)
	if _, err := l.read(context.Background(), trial); err != nil {
		t.Fatal(err)
	}
	if err := l.share(context.Background(), func(int) patch { return wholeGrid() }); err != nil {
		t.Fatal(err)
	}
	prior := m.params.populationPrior(len(l.seasons), len(l.places))
	from := l.pop.clone()
	said := make([]*testimony, len(l.lines))
	for i := range l.lines {
		var v view
		l.look(&v, i, season{}, l.pop, wholeGrid(), true, newLookRoom())
		said[i], _ = v.testify(nil, l.grid, l.linePrior(i, l.pop), len(l.pop.effects), true)
	}
	l.pop.settle(prior, said)
	if moved := l.pop.movedFrom(from, prior); moved > 0.05 {
		t.Errorf("another look moves the estimate by %.3f prior SDs", moved)
	}
}
