package forecast

import (
	"cmp"
	"math"
	"slices"

	"wintertop/weather"
)

// Order says for one place in which order the crew lifts what stands there.
type Order struct {
	Place       string // "" where the trial has one place
	Winter      weather.WinterYear
	AsOf        weather.Date
	From, To    weather.Date // the window
	Traces      int          // past winters played forward
	Assurance   float64      // wanted share of winters
	Rows        []Turn       // in the recommended order
	Rules       []RuleResult // what each order loses; empty where there is no schedule
	NoSchedule  string       // why there is none, in words; "" where there is
	AreaM2      float64      // of all rows; NaN without a schedule
	PerDayM2    float64      // what the crew lifts on a fit day; 0 where not known
	DaysPerWeek float64      // that the crew works

	WeekFitDays float64        // days fit for machines expected in the week after as-of; NaN where rain is not known
	FitDays     []weather.Date // the day by which 1, 2, 3 … fit days are expected from as-of on; empty where rain is not known
	Start       weather.Date   // the crew's first day

	crew *crew // as played, its lots in the order of the rows; nil without a schedule
}

// Turn is one planting of an Order.
type Turn struct {
	Pick
	AreaM2     float64 // NaN where the file does not say
	Action     Action
	LastSafe   weather.Date // HoldsUntil of the pick, where HasHold
	FitDays    float64      // expected from the day after as-of to LastSafe; NaN where not known
	DaysNeeded float64      // of the crew, for this planting; NaN without a schedule
	InTime     float64      // share of past winters in which it is done by LastSafe; NaN without a schedule or a LastSafe
	WeekLater  float64      // the same were the crew to begin a week later
	DoneBy     weather.Date // day by which it is done in the wanted share of past winters
	HasDoneBy  bool
	ShareLost  float64 // expected, of its area; NaN without a schedule
	ThisWeekM2 float64 // expected to be lifted in the week after as-of; NaN without a schedule
	Why        string  // what ends its safe days, or keeps the crew from being in time
	Say        string  // all of it in one sentence
}

// Action is what to do with a planting this week.
type Action string

// The actions.
const (
	LiftNow   Action = "lift now"
	LiftBy    Action = "lift by"
	LeaveIt   Action = "hold"
	LookFirst Action = "look first"
)

// Words gives the action with its date.
func (t Turn) Words() string {
	if t.Action == LiftBy {
		return string(LiftBy) + " " + t.LastSafe.String()
	}
	return string(t.Action)
}

// orderOf puts the plantings of a place in the order in which the crew should
// lift them. Where rain, an area or what the crew lifts a day is not known,
// there is no schedule, only last safe dates. Plantings of which nothing stands
// any more (area 0) are left out.
func (p *Place) orderOf(rows []*row, picks *Picks, goal Goal) *Order {
	o := &Order{
		Place: p.Name, Winter: goal.Winter, AsOf: goal.AsOf, From: goal.From, To: goal.To, Traces: picks.Traces, Assurance: picks.Assurance,
		AreaM2: math.NaN(), PerDayM2: p.Site.AreaPerDayM2, DaysPerWeek: p.Site.Params.CrewDaysPerWeek, WeekFitDays: math.NaN(),
	}
	frosts, _ := goal.Winter.FrostSeason()
	o.Start = max(goal.AsOf+1, frosts)
	yields := map[string][][]float64{}
	byName := map[string]*Planting{}
	ground := rows[0].picks.groundOf()
	for _, r := range rows {
		yield := ground.whereRainIsKnown(r.picks.yields())
		for _, planting := range r.plantings {
			yields[planting.Name], byName[planting.Name] = yield, planting
		}
	}
	for _, pick := range picks.Rows {
		if area := byName[pick.Planting].AreaM2; !(area <= 0) {
			o.Rows = append(o.Rows, turnOf(pick, area, o.AsOf))
		}
	}
	o.dayTicks(ground)
	slices.SortStableFunc(o.Rows, func(a, b Turn) int { return cmp.Compare(a.due(), b.due()) })
	if len(o.Rows) > 0 {
		o.NoSchedule = o.whyNone(ground)
	}
	if o.NoSchedule == "" && len(o.Rows) > 0 {
		c := &crew{areaPerDayM2: o.PerDayM2, daysPerWeek: o.DaysPerWeek, worthShare: p.Site.Params.WorthShare}
		for _, days := range ground.fit {
			if days != nil {
				c.fit = append(c.fit, days[1:])
			}
		}
		o.AreaM2 = 0
		for _, t := range o.Rows {
			c.lots = append(c.lots, lot{t.AreaM2, yields[t.Planting]})
			o.AreaM2 += t.AreaM2
		}
		o.schedule(c)
	}
	o.act()
	return o
}

// whereRainIsKnown keeps of a value per course those whose rain is known.
func (g ground) whereRainIsKnown(byCourse [][]float64) [][]float64 {
	var known [][]float64
	for course, x := range byCourse {
		if g.fit[course] != nil {
			known = append(known, x)
		}
	}
	return known
}

func (p *pickRow) groundOf() ground { return p.table.grounds[p.ground] }

// yields gives what a square metre lifted on a day yields, per course and day
// from the one after as-of on: the lift share, and nothing once a root has
// frozen. Roots that had frozen by as-of already are no reason to hurry.
func (p *pickRow) yields() [][]float64 {
	out := make([][]float64, len(p.liftShare))
	for course, shares := range p.liftShare {
		clear := p.groundOf().clear[course]
		for day := 1; day < len(shares); day++ {
			yield := shares[day]
			if clear[0] && !clear[day] {
				yield = 0
			}
			out[course] = append(out[course], yield)
		}
	}
	return out
}

func turnOf(p Pick, areaM2 float64, asOf weather.Date) Turn {
	none := math.NaN()
	t := Turn{Pick: p, AreaM2: areaM2, LastSafe: p.HoldsUntil, FitDays: none, DaysNeeded: none, InTime: none, WeekLater: none, ShareLost: none, ThisWeekM2: none}
	if p.HasHold && !math.IsNaN(p.Dates[0].FitDaysLeft) {
		t.FitDays = p.fitDaysBetween(asOf, p.HoldsUntil)
	}
	return t
}

// fitDaysBetween gives the fit days expected after one day to another.
func (p Pick) fitDaysBetween(after, to weather.Date) float64 {
	from := p.Dates[0].Date
	left := func(d weather.Date) float64 {
		if i := int(d - from); i < len(p.Dates) {
			return p.Dates[i].FitDaysLeft
		}
		return 0
	}
	return left(after+1) - left(to+1)
}

// due gives the day after which it is too late; rows that are never safe come
// before all others.
func (t Turn) due() weather.Date {
	if t.HasHold {
		return t.LastSafe
	}
	return t.Dates[0].Date
}

// whyNone says why there is no schedule; "" where there is one.
func (o *Order) whyNone(g ground) string {
	var without []string
	for _, t := range o.Rows {
		if math.IsNaN(t.AreaM2) {
			without = append(without, t.Planting)
		}
	}
	switch {
	case o.Start > o.To:
		return "no day of the frost season is left before the window's end"
	case !g.rainKnown():
		return "the record has no rain, or too many days without, so that fit days are not known"
	case o.PerDayM2 == 0:
		return "the site file lacks area_per_day, what the crew lifts a day"
	case len(without) == len(o.Rows):
		return "the plantings file gives no area (area_m2)"
	case len(without) > 0:
		return "the plantings file gives no area of " + several(without, ", ", 3)
	}
	return ""
}

// dayTicks finds when each further fit day is expected.
func (o *Order) dayTicks(g ground) {
	if !g.rainKnown() {
		return
	}
	last := len(g.fitLeft) - 1
	left := func(day int) float64 {
		if day > last {
			return 0
		}
		return g.fitLeft[day]
	}
	o.WeekFitDays = left(1) - left(1+week)
	for day := 1; day <= last; day++ {
		for left(1)-left(day+1) >= float64(len(o.FitDays)+1)-1e-9 {
			o.FitDays = append(o.FitDays, o.AsOf+weather.Date(day))
		}
	}
}
