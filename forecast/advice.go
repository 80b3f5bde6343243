package forecast

import (
	"cmp"
	"context"
	"math"
)

// advise says which notes of the rows of one place to take next. The rows carry
// their surveys.
func (l *Learning) advise(ctx context.Context, trial *Trial, p *Place, rows []*row, goal Goal) (*Advice, error) {
	out := &Advice{Place: p.Name, Winter: goal.Winter, AsOf: goal.AsOf, For: cmp.Or(goal.Notes, ForPick)}
	for _, planting := range trial.Plantings {
		out.walk = append(out.walk, planting.Name)
	}
	c := &chooser{assurance: p.Site.Params.Assurance, prospects: make([]*prospect, len(rows))}
	err := inParallel(ctx, len(rows), func(i int) error {
		c.prospects[i] = l.prospect(rows[i], p, goal)
		return nil
	})
	if err != nil {
		return nil, err
	}
	least := l.params.NoteWorthShare
	if goal.Notes == ForHardiness {
		c.duels, least = l.duels(rows), l.params.NoteWorthC
	}
	out.Take, out.Rows, err = c.advise(ctx, least)
	return out, err
}

// prospect lays out one row for the decision that notes are to narrow.
func (l *Learning) prospect(r *row, p *Place, goal Goal) *prospect {
	s := season{goal.Winter, p}
	var plots []int
	for i, planting := range r.plantings {
		plot := -1 - i // none that notes tell of
		if readings := l.seen[r.line][s]; readings != nil {
			for _, reading := range readings {
				if reading.note.Planting == planting.Name {
					plot = reading.plot
				}
			}
		}
		plots = append(plots, plot)
	}
	if goal.Notes == ForHardiness {
		h := r.survey.stakeOf(l.hardiness(r.survey, r), len(r.survey.dates)-1)
		whole := h
		whole.mean, whole.variance = l.Lines[r.line].HardinessC, l.moments[r.line].cov.At(hardTrait, hardTrait)
		return l.prospectOf(r, r.survey, s, plots, []atStake{h}, whole)
	}
	var stakes []atStake
	whole, days := make([]float64, len(r.survey.points)), sumOf(r.survey.days)
	for stretch, stood := range r.survey.stood {
		if r.survey.days[stretch] == 0 {
			continue
		}
		for i := range stood {
			whole[i] += stood[i] / days
			stood[i] /= r.survey.days[stretch]
		}
		of := r.survey.stakeOf(stood, stretch)
		of.share = r.survey.days[stretch] / days
		stakes = append(stakes, of)
	}
	all := r.survey.stakeOf(whole, len(r.survey.dates)-1)
	if days == 0 { // no note comes in time, and no odds were followed
		all.mean, all.variance = math.NaN(), math.NaN()
	}
	return l.prospectOf(r, r.survey, s, plots, stakes, all)
}

// stakeOf makes a stake of a quantity by point.
func (v *survey) stakeOf(values []float64, last int) atStake {
	s := atStake{last: last, share: 1}
	for _, x := range values {
		s.values = append(s.values, float32(x))
	}
	s.mean = v.standing(s.values)
	s.variance = product(s.values, s.values)
	return s
}

// duels sets every row's line against each check, and each check against them.
func (l *Learning) duels(rows []*row) [][]duel {
	duels, checks := make([][]duel, len(rows)), 0.0
	for _, line := range l.lines {
		if line.Kind == "check" {
			checks++
		}
	}
	middle := func(line int) float64 { m, _ := moments(l.grid.HardC, l.ownHard[line]); return m }
	for i, r := range rows {
		if l.lines[r.line].Kind == "check" {
			continue
		}
		for check, line := range l.lines {
			if line.Kind != "check" {
				continue
			}
			other := -1
			for k, of := range rows {
				if of.line == check && other < 0 {
					other = k
				}
			}
			gap := math.Abs(middle(r.line) - middle(check))
			duels[i] = append(duels[i], duel{other, gap, 1 / checks})
			if other >= 0 {
				duels[other] = append(duels[other], duel{i, gap, 1 / checks})
			}
		}
	}
	return duels
}
