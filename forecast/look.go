package forecast

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"wintertop/canopy"
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

// row is one line in one crop: what all its plots there share that have no
// notes of leaf mass in the season, or one planting that has.
type row struct {
	line      int // index into Trial.Lines
	kind      string
	crop      int // index into the place's crops
	plantings []*Planting
	noted     bool // one planting, the deviation of its plot learned from its notes
	stake     stake
	doubtSD   float64 // model doubt of ln leaf mass
	basis     string
	notes     int

	hilledCM float64

	spreads *seasonSpreads // work space
	days    []SeasonDay
	picks   *pickRow // nil where no pick is made
	survey  *survey  // nil where no notes are planned
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

// lookAt plays one place; both answers are nil where nothing was sown there.
func (l *Learning) lookAt(ctx context.Context, trial *Trial, p *Place, goal Goal) (Outlook, table.Findings, error) {
	rows, crops, err := l.rowsOf(ctx, trial, p, goal.Winter)
	if err != nil || len(rows) == 0 {
		return Outlook{}, nil, err
	}
	first := crops[0].sown
	for _, c := range crops {
		first = min(first, c.sown)
	}
	past := p.winters(goal.Winter)
	whole := p.complete(past)
	trend := p.trendOf(whole)
	var warmingC func(weather.WinterYear) float64
	if goal.Detrend {
		warmingC = func(w weather.WinterYear) float64 { return trend.perYearC * float64(goal.Winter.Year-w.Year) }
	}
	picking := goal.Want&(WantPicks|WantNext) != 0 && goal.AsOf <= goal.To && goal.Winter == weather.WinterOf(goal.AsOf, p.Site.Weather.South())
	last := goal.To
	if goal.Want&WantSeason != 0 {
		last = goal.Winter.Last()
	}
	t, findings, err := tracesOf(p, past, first, goal.AsOf, last, warmingC)
	if err != nil {
		return Outlook{}, findings, err
	}
	if len(t.played) > 0 {
		findings = append(findings, trend.finding(p, goal.Detrend, whole[0], goal.Winter)...)
	}
	if !p.Record.HasSnow {
		findings = append(findings, table.Finding{File: p.Record.File, Severity: table.Note, TreatedAs: "bare",
			What: "no snow depth: leaves and soil are taken as bare in every frost"})
	}
	trialLn, _ := l.trialOf(season{goal.Winter, p})
	trialFactor := math.Exp(trialLn)
	lifting := canopy.NewLifting(p.Site.Canopy)
	shares, wanted := lifting.Table(), lifting.Wanted(p.Site.Params.WantedShare)
	var grounds []ground // by hilled depth
	if picking {
		for _, r := range rows {
			if slices.ContainsFunc(grounds, func(g ground) bool { return g.hilledCM == r.hilledCM }) {
				continue
			}
			g, err := groundOf(ctx, t, goal, r.hilledCM)
			if err != nil {
				return Outlook{}, findings, err
			}
			grounds = append(grounds, g)
			if len(grounds) == 1 {
				findings = append(findings, g.rainFinding(p)...)
			}
		}
	}
	if picking && goal.Want&WantNext != 0 {
		dates := surveyDates(goal)
		due := dueDays(t, dates, goal.To)
		for _, r := range rows {
			r.survey = l.grid.newSurvey(p.Site.Canopy, &r.stake, dates, due)
		}
	}
	for c := range crops {
		own := slices.DeleteFunc(slices.Clone(rows), func(r *row) bool { return r.crop != c })
		emerged := false
		day := l.grid.dayBook(p, crops[c], shares, wanted, len(t.courses))
		var table *dayTable
		if picking {
			table = newDayTable(day, own, grounds, len(t.courses), goal.Want&WantOrder != 0)
			for _, r := range own {
				r.picks = &pickRow{table: table, ground: slices.IndexFunc(grounds, func(g ground) bool { return g.hilledCM == r.hilledCM })}
			}
		}
		draws, everything := l.grid.drawnFor(own), goal.Want&(WantSeason|WantNext) != 0
		if everything {
			draws = draws.withEveryHardiness() // for its LT50
		}
		stage := newStage(draws, l.params, crops[c], t)
		stage.trial, stage.season = trialFactor, everything
		err := stage.play(ctx, func(f *field) error {
			emerged = emerged || f.emerged
			seasonDay := goal.Want&WantSeason != 0 && f.emerged
			pickDay := picking && f.date >= goal.AsOf && f.date <= goal.To
			if !seasonDay && !pickDay {
				return ctx.Err()
			}
			day.f = f
			if seasonDay {
				if err := day.prepare(ctx); err != nil {
					return err
				}
			}
			if pickDay {
				if err := table.add(ctx, goal); err != nil {
					return err
				}
			}
			return inParallel(ctx, len(own), func(i int) error {
				r := own[i]
				if seasonDay {
					r.days = append(r.days, day.season(r))
				}
				if pickDay {
					r.picks.add(r, goal)
					if r.survey != nil {
						r.survey.add(day, r, goal)
					}
				}
				return nil
			})
		})
		if err != nil {
			return Outlook{}, findings, err
		}
		if !emerged {
			findings = append(findings, neverEmerged(trial, own, last))
		}
	}
	var look Outlook
	if goal.Want&WantSeason != 0 {
		look.Season = p.seasonOf(trial, rows, t, goal)
		look.Season.Events = slices.DeleteFunc(weather.Events(p.Filled, p.Site.Weather), func(e weather.Event) bool { return e.Winter != goal.Winter })
	}
	if picking {
		if look.Picks, err = p.picksOf(ctx, rows, t, goal, l.params); err != nil {
			return Outlook{}, findings, err
		}
	}
	if picking && goal.Want&WantOrder != 0 {
		look.Order = p.orderOf(rows, look.Picks, goal)
	}
	if picking && goal.Want&WantNext != 0 {
		if look.Next, err = l.advise(ctx, trial, p, rows, goal); err != nil {
			return Outlook{}, findings, err
		}
	}
	return look, findings, nil
}

// neverEmerged names the plantings of a crop that no course brings up.
func neverEmerged(trial *Trial, rows []*row, last weather.Date) table.Finding {
	var names []string
	for _, r := range rows {
		for _, p := range r.plantings {
			names = append(names, p.Name)
		}
	}
	file, _ := trial.Files.name(trial.Files.Plantings, "plantings.csv")
	return table.Finding{File: file, Line: rows[0].plantings[0].FileLine, Severity: table.Warning, TreatedAs: "bare",
		What: fmt.Sprintf("%s does not emerge by %s: too little warmth after sowing", strings.Join(names, ", "), last)}
}

// rowsOf gathers what was sown at a place for one winter: its rows, by line
// and first planting, and its crops. The error is ctx's.
func (l *Learning) rowsOf(ctx context.Context, trial *Trial, p *Place, winter weather.WinterYear) ([]*row, []crop, error) {
	var rows []*row
	var crops []crop
	at := season{winter, p}
	for i := range trial.Plantings {
		planting := &trial.Plantings[i]
		if planting.Winter != winter || trial.placeOf(planting) != p {
			continue
		}
		c := trial.cropOf(planting)
		sowing := slices.Index(crops, c)
		if sowing < 0 {
			sowing = len(crops)
			crops = append(crops, c)
		}
		line := slices.IndexFunc(trial.Lines, func(line Line) bool { return line.Name == planting.Line })
		hilledCM := orElse(planting.HilledCM, 0)
		noted := l.noted(line, at, planting.Name)
		if !noted {
			known := slices.IndexFunc(rows, func(r *row) bool { return !r.noted && r.line == line && r.crop == sowing && r.hilledCM == hilledCM })
			if known >= 0 {
				rows[known].plantings = append(rows[known].plantings, planting)
				continue
			}
		}
		rows = append(rows, &row{
			line: line, kind: trial.Lines[line].Kind, crop: sowing, hilledCM: hilledCM, plantings: []*Planting{planting}, noted: noted,
			basis: l.Lines[line].Basis, notes: l.Lines[line].Notes,
		})
	}
	return rows, crops, l.stakes(ctx, rows, at)
}

// stakes gives each row its weighting of the grid. The error is ctx's.
func (l *Learning) stakes(ctx context.Context, rows []*row, at season) error {
	byLine := map[int][]*row{}
	for _, r := range rows {
		byLine[r.line] = append(byLine[r.line], r)
	}
	lines := slices.Sorted(maps.Keys(byLine))
	_, trialSD := l.trialOf(at)
	return inParallel(ctx, len(lines), func(i int) error {
		before := l.expected(lines[i], at)
		for _, r := range byLine[lines[i]] {
			if r.noted {
				r.stake, r.doubtSD = l.grid.stakeOf(l.inPlot(before, r.line, at, r.plantings[0].Name)), trialSD
			} else {
				r.stake, r.doubtSD = l.grid.stakeOf(l.withNotes(before, r.line, at)), math.Hypot(trialSD, l.params.PlotMassSDLn)
			}
		}
		return nil
	})
}
