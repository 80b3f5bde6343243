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

// way is a line sown in one week at a place.
type way struct {
	sowing  int
	line    int
	yieldKG float64
}

// planner holds what a plan is made from.
type planner struct {
	learning *Learning
	trial    *Trial
	plan     *SowPlan
	sowings  []sowing
	lines    []int
	ways     []way
	years    []int // from the next season back to each winter played
	periods  []Period
	land     land
	lift     [][][]float64 // period, way, winter
	supply   supply
}

// prices are the shares of winters whose area is shown beside the wanted one.
var prices = []float64{0.5, 0.8, 0.9}

// PlanSowing plans the next season's sowing for a demand. Every complete past
// winter, with the lines in each fifth of what they may be, is a course of the season: each line with notes is sown in each week
// of the year in which the trial's plantings were, as densely as its newest,
// and the share that the belts lift is followed through the demand's weeks.
// An area set apart for a week stays that week's, whatever the winter. The trial
// must be cut at the as-of day. The error is a *table.InputError where the
// demand or the site allows no plan, else ctx's.
func PlanSowing(ctx context.Context, trial *Trial, l *Learning, demand *Demand, asOf weather.Date) (*SowPlan, table.Findings, error) {
	p := &planner{learning: l, trial: trial}
	first := trial.Places[0].Site
	winter, err := p.sow(asOf)
	if err != nil {
		return nil, nil, err
	}
	p.plan = &SowPlan{Winter: winter, AsOf: asOf, Wanted: first.Params.Assurance}
	if p.periods, err = demand.periods(winter); err != nil {
		return nil, nil, err
	}
	if err := p.chooseLines(); err != nil {
		return nil, nil, err
	}
	findings, err := p.choosePast()
	if err != nil {
		return nil, findings, err
	}
	p.plan.Ground = p.sowings[0].place.Name
	if p.land, err = p.sowings[0].land(ctx, p.periods, p.years); err != nil {
		return nil, findings, err
	}
	days := make([][]weather.Date, len(p.periods))
	for k, period := range p.periods {
		for day := period.From; day <= period.Until; day += lookedEvery {
			days[k] = append(days[k], day)
		}
	}
	if p.lift, err = p.lifting(ctx, days); err != nil {
		return nil, findings, err
	}
	p.ask(first.Sowing.CrewM2)
	if err := p.answer(ctx, first.Sowing.AreaMaxM2); err != nil {
		return nil, findings, err
	}
	return p.plan, append(findings, p.findings(trial)...), nil
}

// lookedEvery is how many days apart a week's tops are looked at: first,
// fourth, seventh day.
const lookedEvery = 3

// sow settles the weeks of sowing: those of the year, Monday to Sunday, in which
// the trial's plantings were sown, in the first season that lies ahead whole.
// The Thursday is played.
func (p *planner) sow(asOf weather.Date) (weather.WinterYear, error) {
	if len(p.trial.Plantings) == 0 {
		file, _ := p.trial.Files.name(p.trial.Files.Plantings, "plantings.csv")
		return weather.WinterYear{}, refusal(file, "", "no planting to take weeks of sowing and plants per m² from", "list at least one planting sown by "+asOf.String())
	}
	winter := weather.WinterOf(asOf, p.trial.Places[0].Site.Weather.South())
	for {
		p.sowings = p.weeksIn(winter)
		if p.sowings[0].monday > asOf {
			return winter, nil
		}
		winter = winter.Next()
	}
}

// weeksIn gives the sowings of a season, by week and place.
func (p *planner) weeksIn(winter weather.WinterYear) []sowing {
	var all []sowing
	newest := map[*Place]*Planting{}
	for i := range p.trial.Plantings {
		q := &p.trial.Plantings[i]
		place := p.trial.placeOf(q)
		if newest[place] == nil || q.Sown > newest[place].Sown {
			newest[place] = q
		}
		monday := mondayOf(movedYears(q.Sown, winter.Year-q.Winter.Year))
		if !slices.ContainsFunc(all, func(s sowing) bool { return s.place == place && s.monday == monday }) {
			all = append(all, sowing{place: place, monday: monday, sown: monday + 3})
		}
	}
	for i := range all {
		all[i].plantsPerM2 = newest[all[i].place].PlantsPerM2
		all[i].hilledCM = orElse(newest[all[i].place].HilledCM, 0)
	}
	slices.SortFunc(all, func(a, b sowing) int {
		if a.monday != b.monday {
			return int(a.monday - b.monday)
		}
		return strings.Compare(a.place.Name, b.place.Name)
	})
	return all
}

// chooseLines takes the lines that have notes and a yield; the others are left
// out aloud.
func (p *planner) chooseLines() error {
	siteFile, _ := p.trial.Files.name(p.trial.Files.Site, "site.csv")
	noYield := 0
	for i, line := range p.trial.Lines {
		if p.learning.Lines[i].Notes == 0 {
			p.plan.LeftOut = append(p.plan.LeftOut, line.Name+" (no notes: its top is assumed)")
			continue
		}
		at := len(p.lines)
		for s, sowing := range p.sowings {
			if yield := orElse(line.YieldKGPerM2, sowing.place.Site.Sowing.YieldKGPerM2); yield > 0 {
				p.ways = append(p.ways, way{s, at, yield})
			}
		}
		if len(p.ways) == 0 || p.ways[len(p.ways)-1].line != at {
			p.plan.LeftOut = append(p.plan.LeftOut, line.Name+" (no yield)")
			noYield++
			continue
		}
		p.lines = append(p.lines, i)
	}
	switch {
	case len(p.lines) > 0:
		return nil
	case noYield > 0:
		return refusal(siteFile, "yield_per_m2", "no yield_per_m2: kg wanted cannot be turned into m²",
			"add a row such as yield_per_m2,5,kg (roots that can be sold), or a column yield_per_m2 to the lines file")
	}
	name, _ := p.trial.Files.name(p.trial.Files.Notes, "notes.csv")
	return refusal(name, "", "no line has notes: nothing is sown on the strength of an assumption", "note leaf mass and top height of a line through one winter first")
}

// refusal is the answer to input that reads well but allows no plan.
func refusal(file, column, what, hint string) error {
	return &table.InputError{Faults: table.Findings{{File: file, Column: column, What: what, Hint: hint, TreatedAs: "refused", Severity: table.Fault}}}
}

// choosePast takes the past winters that are complete at every place and whose
// days from the first sowing on are all known.
func (p *planner) choosePast() (table.Findings, error) {
	var left []string
	last := p.periods[len(p.periods)-1].Until
	file := p.trial.Places[0].Record.File
	for _, w := range p.trial.Places[0].winters(p.plan.Winter) {
		years := w.Year - p.plan.Winter.Year
		switch {
		case slices.ContainsFunc(p.trial.Places, func(place *Place) bool { return !place.Record.Complete(w) }):
			left = append(left, w.String()+" (not complete)")
		case slices.ContainsFunc(p.sowings, func(s sowing) bool { return s.pastDays(years, last) == nil }):
			left = append(left, w.String()+" (days after sowing missing)")
		default:
			p.years, p.plan.Played = append(p.years, years), append(p.plan.Played, w)
		}
	}
	if len(p.years) == 0 {
		return nil, refusal(file, "", "no complete past winter to try a sowing in", "the record must hold at least one winter from sowing on, nearly complete; "+strings.Join(left, "; "))
	}
	var findings table.Findings
	if len(left) > 0 {
		findings = append(findings, table.Finding{File: file, Severity: table.Note, TreatedAs: "left out of the plan", What: "past winters not played: " + strings.Join(left, "; ")})
	}
	n := len(p.years)
	if _, promised := mayGiveUp(n, p.plan.Wanted); !promised {
		findings = append(findings, table.Finding{File: file, Severity: table.Warning, TreatedAs: "used",
			What: fmt.Sprintf("%d past winters can promise %.0f %% of winters to come at most, not %.0f %%", n, 100*float64(n)/float64(n+1), 100*p.plan.Wanted),
			Hint: "a longer record of a station nearby promises more"})
	}
	return findings, nil
}

// lifting gives the share that lifts, by period, way and winter.
func (p *planner) lifting(ctx context.Context, days [][]weather.Date) ([][][]float64, error) {
	bySowing := make([][][][]float64, len(p.sowings))
	lines := map[*Place][]*stake{}
	for s, sowing := range p.sowings {
		if lines[sowing.place] == nil {
			of := make([]*stake, len(p.lines))
			err := inParallel(ctx, len(p.lines), func(i int) error {
				of[i] = p.learning.nextSeason(p.lines[i], season{p.plan.Winter, sowing.place})
				return nil
			})
			if err != nil {
				return nil, err
			}
			lines[sowing.place] = of
		}
		var err error
		if bySowing[s], err = p.learning.lifting(ctx, sowing, lines[sowing.place], days, p.years); err != nil {
			return nil, err
		}
	}
	all := make([][][]float64, len(days))
	for k := range days {
		for _, w := range p.ways {
			all[k] = append(all[k], bySowing[w.sowing][w.line][k])
		}
	}
	return all, nil
}

// ask lays out what 1 m² gives of what is wanted. A stand of which less than is
// worth lifting lifts gives nothing.
func (p *planner) ask(crewM2 float64) {
	for k, period := range p.periods {
		days := p.land.fitDays[k]
		if math.IsNaN(days) {
			days = float64(period.Until - period.From + 1)
		}
		most := math.Inf(1)
		if crewM2 > 0 {
			most = crewM2 * days
		}
		p.supply.most = append(p.supply.most, most)
		ways := make([][]float64, len(p.ways))
		for j, w := range p.ways {
			for _, share := range p.lift[k][j] {
				if share < p.learning.params.WorthShare {
					share = 0
				}
				ways[j] = append(ways[j], share*w.yieldKG/period.KG)
			}
		}
		p.supply.gives = append(p.supply.gives, ways)
	}
}
