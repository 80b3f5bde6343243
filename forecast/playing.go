package forecast

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// playing is one place's winter on its way to the answers that a goal wants.
type playing struct {
	*Learning
	trial    *Trial
	place    *Place
	goal     Goal
	rows     []*row
	crops    []crop
	traces   traces
	last     weather.Date // to be played
	picking  bool         // days of the window lie ahead
	grounds  []ground     // by hilled depth; none where no pick is made
	findings table.Findings
}

// lookAt plays one place; no answer is given where nothing was sown there.
func (l *Learning) lookAt(ctx context.Context, trial *Trial, p *Place, goal Goal) (Outlook, table.Findings, error) {
	g := &playing{Learning: l, trial: trial, place: p, goal: goal}
	var err error
	if g.rows, g.crops, err = l.rowsOf(ctx, trial, p, goal.Winter); err != nil || len(g.rows) == 0 {
		return Outlook{}, nil, err
	}
	if err := g.lay(ctx); err != nil {
		return Outlook{}, g.findings, err
	}
	for c := range g.crops {
		if err := g.play(ctx, c); err != nil {
			return Outlook{}, g.findings, err
		}
	}
	look, err := g.answers(ctx)
	return look, g.findings, err
}

// wants says whether any of some answers is wanted.
func (g *playing) wants(answers Want) bool { return g.goal.Want&answers != 0 }

// lay lays out the courses of weather and what they do to roots and land.
func (g *playing) lay(ctx context.Context) error {
	p, goal := g.place, g.goal
	first := g.crops[0].sown
	for _, c := range g.crops {
		first = min(first, c.sown)
	}
	past := p.winters(goal.Winter)
	whole := p.complete(past)
	trend := p.trendOf(whole)
	var warmingC func(weather.WinterYear) float64
	if goal.Detrend {
		warmingC = func(w weather.WinterYear) float64 { return trend.perYearC * float64(goal.Winter.Year-w.Year) }
	}
	g.picking = g.wants(WantPicks|WantNext) && goal.AsOf <= goal.To && goal.Winter == weather.WinterOf(goal.AsOf, p.Site.Weather.South())
	g.last = goal.To
	if g.wants(WantSeason) {
		g.last = goal.Winter.Last()
	}
	var err error
	if g.traces, g.findings, err = tracesOf(p, past, first, goal.AsOf, g.last, warmingC); err != nil {
		return err
	}
	if len(g.traces.played) > 0 {
		g.findings = append(g.findings, trend.finding(p, goal.Detrend, whole[0], goal.Winter)...)
	}
	if !p.Record.HasSnow {
		g.findings = append(g.findings, table.Finding{File: p.Record.File, Severity: table.Note, TreatedAs: "bare",
			What: "no snow depth: leaves and soil are taken as bare in every frost"})
	}
	if !g.picking {
		return nil
	}
	for _, r := range g.rows {
		if g.groundAt(r.hilledCM) >= 0 {
			continue
		}
		ground, err := groundOf(ctx, g.traces, goal, r.hilledCM)
		if err != nil {
			return err
		}
		g.grounds = append(g.grounds, ground)
	}
	g.findings = append(g.findings, g.grounds[0].rainFinding(p)...)
	if g.wants(WantNext) {
		dates := surveyDates(goal)
		due := dueDays(g.traces, dates, goal.To)
		for _, r := range g.rows {
			r.survey = g.grid.newSurvey(p.Site.Canopy, &r.stake, dates, due)
		}
	}
	return nil
}

// groundAt gives which of the grounds lies under so much soil, -1 for none.
func (g *playing) groundAt(hilledCM float64) int {
	return slices.IndexFunc(g.grounds, func(one ground) bool { return one.hilledCM == hilledCM })
}

// play runs one crop along the courses and adds its days up for its rows.
func (g *playing) play(ctx context.Context, c int) error {
	own := slices.DeleteFunc(slices.Clone(g.rows), func(r *row) bool { return r.crop != c })
	courses := len(g.traces.courses)
	draws := g.grid.drawnFor(stakesOf(own), !g.picking)
	day := g.grid.dayBook(g.place, g.crops[c], draws, own, courses)
	var table *dayTable
	if g.picking {
		table = newDayTable(day, g.grounds, courses, g.wants(WantOrder))
		for _, r := range own {
			r.picks = &pickRow{table: table, ground: g.groundAt(r.hilledCM), dates: make([]PickDate, 0, g.goal.To-g.goal.AsOf+1)}
		}
	}
	crop := g.crops[c]
	if !g.wants(WantSeason) {
		crop.cultivated = g.last // weeds take nothing from the crop: none are grown
	}
	stage := newStage(draws, g.params, crop, g.traces)
	trialLn, _ := g.trialOf(season{g.goal.Winter, g.place})
	stage.trial, stage.season = math.Exp(trialLn), g.wants(WantSeason|WantNext)
	emerged := false
	err := stage.play(ctx, func(f *field) error {
		emerged = emerged || f.emerged
		seasonDay := g.wants(WantSeason) && f.emerged
		pickDay := g.picking && f.date >= g.goal.AsOf && f.date <= g.goal.To
		if !seasonDay && !pickDay {
			return ctx.Err()
		}
		day.f = f
		if err := day.prepare(ctx, seasonDay); err != nil {
			return err
		}
		if pickDay {
			if err := table.add(ctx, g.goal); err != nil {
				return err
			}
		}
		return inParallel(ctx, len(own), func(i int) error {
			r := own[i]
			if seasonDay {
				r.days = append(r.days, day.season(r))
			}
			if pickDay {
				r.picks.add(r, g.goal)
				if r.survey != nil {
					r.survey.add(day, r, g.goal)
				}
			}
			return nil
		})
	})
	if err == nil && !emerged {
		g.findings = append(g.findings, neverEmerged(g.trial, own, g.last))
	}
	return err
}

// answers gives what the goal wants of the rows' days. The error is ctx's.
func (g *playing) answers(ctx context.Context) (look Outlook, err error) {
	if g.wants(WantSeason) {
		look.Season = g.place.seasonOf(g.trial, g.rows, g.traces, g.goal)
		look.Season.Events = g.place.EventsOf(g.goal.Winter)
	}
	if !g.picking {
		return look, nil
	}
	if look.Picks, err = g.place.picksOf(ctx, g.rows, g.traces, g.goal, g.params); err != nil {
		return Outlook{}, err
	}
	if g.wants(WantOrder) {
		look.Order = g.place.orderOf(g.rows, look.Picks, g.goal)
	}
	if g.wants(WantNext) {
		if look.Next, err = g.advise(ctx, g.trial, g.place, g.rows, g.goal); err != nil {
			return Outlook{}, err
		}
	}
	return look, nil
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
