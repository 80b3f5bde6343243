package forecast

import (
	"fmt"
	"math"
	"slices"
	"time"

	"wintertop/weather"
	"wintertop/weather/table"
)

// NextSowing gives the sowing for which a trial at a place is planned: that of
// the newest planting there, in the next summer after the record; 5 July (south
// 5 January) with 80 plants per m² where there is none (common practice, no
// source).
func (t *Trial) NextSowing(p *Place) Planting {
	south := p.Site.Weather.South()
	year, _, _ := p.Record.Last().YMD()
	next := Planting{Sown: weather.NewDate(year, time.July, 5), PlantsPerM2: 80}
	if south {
		next.Sown = weather.NewDate(year, time.January, 5)
	}
	newest := weather.Date(math.MinInt32)
	for i := range t.Plantings {
		if own := &t.Plantings[i]; t.placeOf(own) == p && own.Sown > newest {
			_, month, day := own.Sown.YMD()
			newest, next = own.Sown, Planting{Sown: weather.NewDate(year, month, day), PlantsPerM2: own.PlantsPerM2}
		}
	}
	if next.Sown <= p.Record.Last() {
		_, month, day := next.Sown.YMD()
		next.Sown = weather.NewDate(year+1, month, day)
	}
	next.Winter = weather.WinterAfterSowing(next.Sown, south)
	return next
}

// Warnings says what a short record costs.
func (p *TrialPlan) Warnings() table.Findings {
	n := len(p.Past)
	if n >= fewWinters {
		return nil
	}
	return table.Findings{{File: p.file, Severity: table.Warning, TreatedAs: "used", Hint: "a longer record of a station nearby makes them better",
		What: fmt.Sprintf("only %s before the trial's: how often a winter teaches nothing is hardly known, and the chances rest on it", plural(n, "complete winter"))}}
}

// least gives the smallest design of so many winters and places that reaches the
// wanted chance: fewest plots, then fewest plants; else the largest tried.
func (p *TrialPlan) least(winters, places int) (d Design, ok bool) {
	for _, plots := range designPlots {
		for _, plants := range designPlants {
			d = p.Designs[slices.IndexFunc(p.Designs, func(d Design) bool {
				return d.Winters == winters && d.Places == places && d.Plots == plots && d.Plants == plants
			})]
			if d.Chance >= p.Goal.Chance {
				return d, true
			}
		}
	}
	return d, false
}

// Weighings is how many leaf masses the design weighs of one line.
func (d Design) Weighings() int { return 4 * d.Winters * d.Places * d.Plots }

func (p *TrialPlan) cells(d Design) []table.Cell {
	return []table.Cell{table.Int(d.Winters), table.Int(d.Places), table.Int(d.Plots), table.Int(d.Plants), table.Int(d.Weighings()),
		table.Num(d.Chance, 3), table.Num(d.Low, 3), table.Num(d.High, 3), table.Num(d.Nothing, 4), table.YesNo(d.Chance >= p.Goal.Chance), table.Text(p.Place)}
}

var trialColumns = []string{"winters", "places", "plots", "plants", "weighings", "chance", "chance_low", "chance_high", "p_nothing", "enough", "place"}

// TrialTable gives trial.csv: every size of trial.
func TrialTable(plans []*TrialPlan) *table.Table {
	t := table.New("trial", trialColumns...)
	for _, p := range plans {
		for _, d := range p.Designs {
			t.Add(p.cells(d)...)
		}
	}
	return placed(t)
}

// LeastTrialTable gives, for each number of winters and places, the smallest
// trial that is enough; the largest tried where none is.
func LeastTrialTable(plans []*TrialPlan) *table.Table {
	t := table.New("trial", trialColumns...)
	for _, p := range plans {
		for _, winters := range designWinters {
			for _, places := range designPlaces {
				d, _ := p.least(winters, places)
				t.Add(p.cells(d)...)
			}
		}
	}
	return placed(t)
}

// TrialWintersTable gives trial-winters.csv: what each past winter would have
// taught.
func TrialWintersTable(plans []*TrialPlan) *table.Table {
	t := table.New("trial-winters", "winter", "kept_standard", "told_apart", "remark", "place")
	for _, p := range plans {
		for _, w := range p.Past {
			t.Add(table.Text(w.Winter.String()), table.Num(w.Kept, 3), table.Num(w.Told, 3), table.Text(w.Remark), table.Text(p.Place))
		}
	}
	return placed(t)
}

// Words says the difference: 1 °C in hardiness.
func (d Difference) Words() string {
	if d.Hardiness {
		return fmt.Sprintf("%.3g °C in hardiness", d.By)
	}
	return fmt.Sprintf("%.3g %% in leaf mass", 100*math.Expm1(d.By))
}

// Wasted counts the past winters that teach nothing, too mild and too hard.
func (p *TrialPlan) Wasted() (mild, hard int) {
	for _, w := range p.Past {
		switch w.Remark {
		case tooMild:
			mild++
		case tooHard:
			hard++
		}
	}
	return mild, hard
}

// Smallest gives the design that reaches the wanted chance with the fewest
// winters, then places, plots and plants; ok is false where none does.
func (p *TrialPlan) Smallest() (d Design, ok bool) {
	for _, winters := range designWinters {
		for _, places := range designPlaces {
			if d, ok = p.least(winters, places); ok {
				return d, true
			}
		}
	}
	return d, false
}

// Answer says in one or two sentences what it takes.
func (p *TrialPlan) Answer() string {
	what := "To put two lines in order that differ by " + p.Goal.Differ.Words()
	if p.Goal.BestOf > 2 {
		what = fmt.Sprintf("To find the best of %d lines that leads by %s", p.Goal.BestOf, p.Goal.Differ.Words())
	}
	words := what + fmt.Sprintf(" with a chance of %.3g", p.Goal.Chance)
	d, ok := p.Smallest()
	if ok {
		each := ""
		if d.Places > 1 {
			each = " at each"
		}
		words += fmt.Sprintf(" takes %s at %s with %s of %d plants%s (%.2f)", plural(d.Winters, "winter"), plural(d.Places, "place"), plural(d.Plots, "plot"), d.Plants, each, d.Chance)
		if one, alone := p.leastAtOne(); alone && d.Places > 1 {
			words += fmt.Sprintf(", at one place %s with %s of %d (%.2f)", plural(one.Winters, "winter"), plural(one.Plots, "plot"), one.Plants, one.Chance)
		}
	} else {
		words += fmt.Sprintf(" is more than any trial up to %d winters, %d places and %d plots of %d plants gives (%.2f)", d.Winters, d.Places, d.Plots, d.Plants, d.Chance)
	}
	mild, hard := p.Wasted()
	trait := "hardiness"
	if !p.Goal.Differ.Hardiness {
		trait = "leaf mass"
	}
	return words + fmt.Sprintf("; of %s on record %d would have taught two plots of ten plants nothing of %s (%d too mild, %d too hard).", plural(len(p.Past), "winter"), mild+hard, trait, mild, hard)
}

// leastAtOne gives the smallest design at one place.
func (p *TrialPlan) leastAtOne() (d Design, ok bool) {
	for _, winters := range designWinters {
		if d, ok = p.least(winters, 1); ok {
			return d, true
		}
	}
	return d, false
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
