package forecast

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// SowPlan says what to sow next season so that a demand is supplied in the
// wanted share of winters.
type SowPlan struct {
	Winter  weather.WinterYear // to be supplied
	AsOf    weather.Date
	Played  []weather.WinterYear // past winters played
	Wanted  float64              // share of winters to come that is wanted
	Met     float64              // winters played that the plan supplies in full, to a fifth
	Rows    []SowRow             // what to sow, largest area first; none where nothing can be supplied
	Weeks   []SowWeek
	Prices  []Price
	AreaM2  float64
	BoundM2 float64 // no plan that gives up as many winters needs less
	// Why the wanted share cannot be had, and what to do instead; "" where it can.
	Short, Instead string
	LeftOut        []string // lines that are not sown, with the reason
	FitKnown       bool     // rain is known
	Ground         string   // place whose fit days and root frost are counted; "" where there is one
}

// SowRow is one line sown in one week.
type SowRow struct {
	Place, Line         string
	From, Until         weather.Date // the week of sowing
	AreaM2              float64
	YieldKGPerM2        float64
	LiftMean, LiftWorst float64 // share that the belts lift, over the winters kept and its weeks
	First, Last         weather.Date
	Notes               int
}

// SowWeek is one stretch of the demand.
type SowWeek struct {
	Period
	Parts      []SowPart
	AreaM2     float64
	Met        float64 // winters played in which it is supplied, to a fifth
	MeanKG     float64 // that the belts lift, mean of the winters played
	FitDays    float64 // mean; NaN where rain is not known
	NoFit      int     // winters without a fit day
	RootFrosts int     // winters in which roots had frozen by its end
}

// SowPart is the area of one row set apart for one stretch of the demand.
type SowPart struct {
	Row    int
	AreaM2 float64
}

// Price is what one share of winters costs in area.
type Price struct {
	Wanted          float64
	Kept            float64 // winters played that are supplied, to a fifth
	AreaM2, BoundM2 float64 // NaN where no area does it
	Enough          bool    // the winters played can promise the share
}

// SowTable gives sow.csv: what to sow, largest area first.
func (p *SowPlan) SowTable() *table.Table {
	t := table.New("sow", "line", "sow_from", "sow_until", "area_m2", "lift_from", "lift_until", "yield_kg_per_m2",
		"lift_share_mean", "lift_share_worst", "notes", "says", "place")
	for _, r := range p.Rows {
		t.Add(table.Text(r.Line), table.Text(r.From.String()), table.Text(r.Until.String()), table.Num(math.Ceil(r.AreaM2), 0),
			table.Text(r.First.String()), table.Text(r.Last.String()), table.Num(r.YieldKGPerM2, 2),
			table.Num(r.LiftMean, 3), table.Num(r.LiftWorst, 3), table.Int(r.Notes), table.Text(p.Says(r)), table.Text(r.Place))
	}
	return placed(t)
}

// WeeksTable gives sow-weeks.csv: for each week of the demand the areas set
// apart for it, in how many of the winters played it is supplied, and what the
// ground does.
func (p *SowPlan) WeeksTable() *table.Table {
	t := table.New("sow-weeks", "from", "until", "kg", "line", "sow_from", "area_m2", "kg_mean", "winters_supplied", "winters",
		"fit_days", "winters_without_fit_day", "winters_with_root_frost", "place")
	for _, w := range p.Weeks {
		add := func(line, sown string, areaM2 float64, place string) {
			t.Add(table.Text(w.From.String()), table.Text(w.Until.String()), table.Num(w.KG, 1), table.Text(line), table.Text(sown), table.Num(areaM2, 1),
				table.Num(w.MeanKG, 1), table.Num(w.Met, 1), table.Int(len(p.Played)), table.Num(w.FitDays, 1), p.known(w.NoFit), table.Int(w.RootFrosts), table.Text(place))
		}
		for _, part := range w.Parts {
			r := p.Rows[part.Row]
			add(r.Line, r.From.String(), part.AreaM2, r.Place)
		}
		if len(w.Parts) == 0 {
			add("", "", math.NaN(), "")
		}
	}
	return placed(t)
}

// known leaves a count of fit days blank where rain is not known.
func (p *SowPlan) known(n int) table.Cell {
	if !p.FitKnown {
		return table.Blank()
	}
	return table.Int(n)
}

// PricesTable gives sow-prices.csv: the area that each share of winters costs,
// and how far it may be above the least possible.
func (p *SowPlan) PricesTable() *table.Table {
	t := table.New("sow-prices", "wanted_share", "winters_kept", "winters", "area_m2", "area_bound_m2", "gap_share", "remark")
	for _, price := range p.Prices {
		gap := math.NaN()
		if price.AreaM2 > 0 {
			gap = max(0, (price.AreaM2-price.BoundM2)/price.AreaM2)
		}
		t.Add(table.Num(price.Wanted, 2), table.Num(price.Kept, 1), table.Int(len(p.Played)), table.Num(math.Ceil(price.AreaM2), 0), table.Num(price.BoundM2, 1), table.Num(gap, 4), table.Text(p.remark(price)))
	}
	return t
}

func (p *SowPlan) remark(price Price) string {
	switch {
	case math.IsNaN(price.AreaM2):
		return "no area does it"
	case !price.Enough:
		return fmt.Sprintf("%d winters played can promise %.0f %% at most", len(p.Played), 100*float64(len(p.Played))/float64(len(p.Played)+1))
	}
	return ""
}

// Says gives one row as a grower would say it.
func (p *SowPlan) Says(r SowRow) string {
	place := ""
	if r.Place != "" {
		place = " at " + r.Place
	}
	return fmt.Sprintf("Sow %.0f m² of %s%s in the week of %s for lifting %s: the belts get %.0f %% of it in the mean, %.0f %% in the worst winter it must serve.",
		math.Ceil(r.AreaM2), r.Line, place, dayMonth(r.From), betweenDays(r.First, r.Last), 100*r.LiftMean, 100*r.LiftWorst)
}

// betweenDays gives a stretch of days as people say it.
func betweenDays(from, until weather.Date) string {
	if from == until {
		return "on " + dayMonth(from)
	}
	return "from " + dayMonth(from) + " to " + dayMonth(until)
}

// shownRows is how many rows the answer names.
const shownRows = 3

// Answer gives the plan in one sentence; where the wanted share cannot be had,
// Shortfall says why.
func (p *SowPlan) Answer() string {
	if len(p.Rows) == 0 {
		return "No sowing supplies every week of this demand in any winter."
	}
	var parts []string
	var others, rest float64
	for i, r := range p.Rows {
		if i >= shownRows && len(p.Rows) > shownRows+1 {
			others, rest = others+1, rest+math.Ceil(r.AreaM2)
			continue
		}
		parts = append(parts, fmt.Sprintf("%.0f m² of %s in the week of %s", math.Ceil(r.AreaM2), r.Line, dayMonth(r.From)))
	}
	if others > 0 {
		parts = append(parts, fmt.Sprintf("%.0f m² in %.0f more rows", rest, others))
	}
	words := "Sow " + joined(parts) + ": as far as tops go, that supplies every week asked for in "
	if p.Short == "" {
		return words + fmt.Sprintf("%s of the %d winters played, so in %s to come.", p.count(p.Met), len(p.Played), inTen(p.Wanted))
	}
	return words + fmt.Sprintf("only %s of the %d winters played.", p.count(p.Met), len(p.Played))
}

// count says winters, to a fifth where the plan speaks of another count that
// rounds alike.
func (p *SowPlan) count(winters float64) string {
	beside := []float64{p.Met}
	for _, price := range p.Prices {
		beside = append(beside, price.Kept)
	}
	return winterCount(winters, beside...)
}

// Shortfall says why the wanted share of winters cannot be had and what to do
// instead; "" where it can.
func (p *SowPlan) Shortfall() string {
	if p.Short == "" {
		return ""
	}
	return fmt.Sprintf("%s cannot be had: %s. Instead: %s.", inTen(p.Wanted), p.Short, p.Instead)
}

// joined strings parts together as a sentence does.
func joined(parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	last := len(parts) - 1
	return strings.Join(parts[:last], ", ") + " and " + parts[last]
}

// inTen says a share of winters: 8 winters in 10.
func inTen(share float64) string {
	if tens := share * 10; math.Abs(tens-math.Round(tens)) < 1e-9 {
		return fmt.Sprintf("%.0f winters in 10", tens)
	}
	return fmt.Sprintf("%.0f winters in 100", 100*share)
}

// PriceWords gives the price of certainty, a line each.
func (p *SowPlan) PriceWords() []string {
	words := []string{"The price of certainty:"}
	for _, price := range p.Prices {
		head := fmt.Sprintf("  %-18s (%s of the %d played): ", inTen(price.Wanted), p.count(price.Kept), len(p.Played))
		switch remark := p.remark(price); {
		case math.IsNaN(price.AreaM2):
			words = append(words, head+remark)
		default:
			head += fmt.Sprintf("%.0f m²", math.Ceil(price.AreaM2))
			if gap := (price.AreaM2 - price.BoundM2) / price.AreaM2; gap >= 0.005 {
				head += fmt.Sprintf(", at most %.0f %% more than the least possible", math.Ceil(100*gap))
			}
			if remark != "" {
				head += " (" + remark + ")"
			}
			words = append(words, head)
		}
	}
	return words
}

// GroundWords says in how many winters the ground or frozen roots may stand in
// the way of the plan's weeks; "" where it is not known or does not.
func (p *SowPlan) GroundWords() []string {
	var words []string
	n := len(p.Played)
	at := ""
	if p.Ground != "" {
		at = " at " + p.Ground
	}
	if !p.FitKnown {
		words = append(words, "Days fit for machines"+at+" are not known: the record has no rain, or too many days without.")
	} else if w := slices.MaxFunc(p.Weeks, func(a, b SowWeek) int { return a.NoFit - b.NoFit }); w.NoFit > 0 {
		when, store := fmt.Sprintf("in %d of the %d winters", w.NoFit, n), "keep some lifted roots in store"
		if w.NoFit == n {
			when, store = fmt.Sprintf("in any of the %d winters", n), "lift earlier for those days and store"
		}
		words = append(words, fmt.Sprintf("No day fit for machines came%s %s %s: %s.", at, w.words(), when, store))
	}
	if w := p.Weeks[len(p.Weeks)-1]; w.RootFrosts > 0 {
		words = append(words, fmt.Sprintf("Roots%s had frozen by %s in %d of the %d winters, as hilled now, and the plan leaves that out: hill soil over the crowns.", at, dayMonth(w.Until), w.RootFrosts, n))
	}
	return words
}
