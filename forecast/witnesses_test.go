package forecast

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Of many lines the checks are asked, others evenly spread, and enough of each
// season: here the last ten lines alone have notes of a second winter.
func TestWitnesses(t *testing.T) {
	m := usualTrial(150, 1)
	rng := rand.New(rand.NewPCG(5, 5))
	trial, _ := m.build(rng, inventedWeather(rng, 2001, 2), 2001)
	l := newLearning(NewGrid(m.params), m.params, trial.Places, trial.Lines)
	first, second := season{trial.Plantings[0].Winter, trial.Places[0]}, season{trial.Plantings[0].Winter.Next(), trial.Places[0]}
	var noted []int
	for i := range trial.Lines {
		noted = append(noted, i)
		l.seen[i] = map[season][]reading{first: {{}}}
		if i >= 140 {
			l.seen[i][second] = []reading{{}}
		}
	}
	l.lines[7].Kind = "check"
	l.seasons = l.notedSeasons()
	of := l.witnessesOf(noted)
	if len(of) < witnesses || len(of) > witnesses+12 || !slices.IsSorted(of) {
		t.Errorf("%d witnesses: %v", len(of), of)
	}
	for _, line := range append([]int{7}, noted[140:]...) {
		if !slices.Contains(of, line) {
			t.Errorf("line %d is not asked", line)
		}
	}
	if few := l.witnessesOf(noted[:witnesses]); len(few) != witnesses {
		t.Errorf("%d of %d lines asked where there are no more", len(few), witnesses)
	}
}
