package forecast

import (
	"context"
	"fmt"

	"wintertop/weather"
	"wintertop/weather/table"
)

// Goal is what an outlook is asked for: a winter and its window for lifting.
type Goal struct {
	Winter   weather.WinterYear
	AsOf     weather.Date
	From, To weather.Date // the window
	Detrend  bool         // move past winters by the record's trend to the level of this one
	Want     Want
	Notes    Decision // what notes to take next are to narrow, where WantNext is wanted: the pick where it is ""
}

// Want says which answers of an outlook are wanted.
type Want int

// The answers, to be added.
const (
	WantSeason Want = 1 << iota
	WantPicks
	WantNext
	WantOrder // with WantPicks
)

// Outlook is the answer for one place: the season of each planting, and the
// pick where the as-of day lies before the window's end.
type Outlook struct {
	Season *Season // nil where it is not wanted
	Picks  *Picks  // nil where it is not wanted, or where the as-of day lies after the window's end or outside the winter
	Next   *Advice // nil where it is not wanted, or where there are no picks
	Order  *Order  // nil where it is not wanted, or where there are no Picks
}

// Look plays the winter of a goal at every place: observed weather to the
// as-of day, then each complete past winter in turn. The trial must be cut at
// the as-of day. The error is a *table.InputError where a place has no
// complete past winter to play, else ctx's.
func Look(ctx context.Context, trial *Trial, l *Learning, goal Goal) ([]Outlook, table.Findings, error) {
	var looks []Outlook
	var findings table.Findings
	plantingsFile, _ := trial.Files.name(trial.Files.Plantings, "plantings.csv")
	for _, planting := range trial.Plantings {
		if planting.Winter.Year > goal.Winter.Year && planting.Sown <= goal.Winter.Last() {
			findings = append(findings, table.Finding{File: plantingsFile, Line: planting.FileLine, Column: "sown", Value: planting.Sown.String(), Severity: table.Note, TreatedAs: "left out",
				What: fmt.Sprintf("%s, sown %s, belongs to the winter %s and is not shown in %s", planting.Name, planting.Sown, planting.Winter, goal.Winter)})
		}
	}
	for _, p := range trial.Places {
		look, found, err := l.lookAt(ctx, trial, p, goal)
		findings = append(findings, found...)
		if err != nil {
			return nil, findings, err
		}
		if look.Season != nil || look.Picks != nil {
			looks = append(looks, look)
		}
	}
	return looks, findings, nil
}
