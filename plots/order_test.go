package plots

import (
	"math"
	"strings"
	"testing"

	"wintertop/forecast"
	"wintertop/weather"
)

// orderOf invents the order of the rows of some picks.
func orderOf(p *forecast.Picks) *forecast.Order {
	o := &forecast.Order{Winter: p.Winter, AsOf: p.AsOf, From: p.From, To: p.To, Traces: p.Traces, Assurance: p.Assurance,
		AreaM2: 480, PerDayM2: 100, DaysPerWeek: 5, WeekFitDays: 1.4, Start: p.AsOf + 1,
		Rules: []forecast.RuleResult{{Rule: forecast.EarliestFirst, LostM2: 60, ShareLost: 0.125, Recommended: true}, {Rule: forecast.LargestFirst, LostM2: 75, ShareLost: 0.156}}}
	for d := p.AsOf + 5; d <= p.To; d += 9 {
		o.FitDays = append(o.FitDays, d)
	}
	for i, r := range p.Rows {
		t := forecast.Turn{Pick: r, AreaM2: 60 + 10*float64(i%5), LastSafe: r.HoldsUntil, FitDays: math.NaN(), DaysNeeded: 0.6, InTime: math.NaN(), WeekLater: math.NaN(),
			ShareLost: 0.08 + 0.8*float64(i)/60, Say: "Lift it & <soon>.", Why: r.Reason}
		if r.HasHold {
			t.FitDays, t.InTime, t.WeekLater = 4, 0.8, 0.7
			t.DoneBy, t.HasDoneBy = min(r.HoldsUntil+weather.Date(9*(i%3)), p.To), true
		}
		switch {
		case !r.HasHold || r.Verdict == forecast.NotKnownYet:
			t.Action = forecast.LookFirst
		case r.Verdict == forecast.Hold:
			t.Action = forecast.LeaveIt
		default:
			t.Action = []forecast.Action{forecast.LiftNow, forecast.LiftBy}[i%2]
		}
		o.Rows = append(o.Rows, t)
	}
	return o
}

func TestOrderOfAnySizeAndDate(t *testing.T) {
	for _, n := range []int{0, 1, 8, 60} {
		p := picks(n, november)
		rename(season(0, november), p)
		var lines []string
		for _, r := range p.Rows {
			lines = append(lines, r.Line)
		}
		o := orderOf(p)
		c, err := Order(o)
		mustDraw(t, c, err).names(t, lines)
		mustDraw(t, phoneOrder(o), nil).names(t, lines)
	}
	for _, day := range []weather.Date{weather.NewDate(2012, 7, 20), weather.NewDate(2013, 1, 30), weather.NewDate(2013, 3, 14), weather.NewDate(2013, 3, 15)} {
		o := orderOf(picks(6, day))
		c, err := Order(o)
		mustDraw(t, c, err)
		mustDraw(t, phoneOrder(o), nil)
	}
	late := orderOf(picks(2, november))
	late.AsOf = late.To + 1
	if _, err := Order(late); err == nil {
		t.Error("an order after its window")
	}
}

// Without a schedule the picture says why and shows no sign of one.
func TestOrderWithoutSchedule(t *testing.T) {
	o := orderOf(picks(3, november))
	o.NoSchedule, o.Rules, o.FitDays, o.AreaM2, o.WeekFitDays = "the record has no rain", nil, nil, math.NaN(), math.NaN()
	for i := range o.Rows {
		r := &o.Rows[i]
		r.HasDoneBy, r.AreaM2, r.FitDays, r.DaysNeeded, r.InTime, r.WeekLater, r.ShareLost = false, math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()
	}
	c, err := Order(o)
	d := mustDraw(t, c, err)
	if !strings.Contains(d.desc, "No schedule, only last safe dates: the record has no rain.") {
		t.Errorf("the picture says %q", d.desc)
	}
	for _, text := range d.texts {
		if strings.Contains(text.text, "winters of 10") || strings.Contains(text.text, "fit day") || strings.Contains(text.text, "lost") {
			t.Errorf("the picture holds %q", text.text)
		}
	}
}
