package forecast

import (
	"context"
	"math"
	"slices"
	"time"

	"wintertop/weather"
	"wintertop/weather/table"
)

// Score says how good past forecasts of one thing by one method would have
// been. What does not apply is NaN.
type Score struct {
	What     string // events, leaf_mass, top_height, lift
	Method   string // forecast, own_mean, last_winter, base_rate
	LeadDays int    // from the forecast to the last day of February (events) or to the window's first day; south: August
	N        int
	CRPS     float64 // events, fresh g, cm
	Brier    Brier   // lift
	Cover50  float64 // share of what came true inside the middle half
	Cover90  float64
}

// Loss gives the score by which methods are compared, lower is better: CRPS,
// for lift the Brier score. NaN where nothing was forecast.
func (s Score) Loss() float64 {
	if s.What == WhatLift {
		return s.Brier.Score
	}
	return s.CRPS
}

// The things that are verified and the methods that are compared.
const (
	WhatEvents    = "events"
	WhatLeafMass  = "leaf_mass"
	WhatTopHeight = "top_height"
	WhatLift      = "lift"

	ByForecast   = "forecast"
	ByOwnMean    = "own_mean"
	ByLastWinter = "last_winter"
	ByBaseRate   = "base_rate"
)

// Verification is what Verify finds at one place.
type Verification struct {
	Place        string
	South        bool // the winters are southern
	Scores       []Score
	Odds         []OddsClass // of the lift forecasts, all leads together
	NotedWinters int         // whose notes were forecast again
}

// OddsClass compares the chances given in one tenth with how often they came
// true.
type OddsClass struct {
	Chance, Seen float64 // means
	N            int
	Low, High    float64 // 95 % interval of Seen (Wilson 1927)
}

// leads gives the four days on which a winter's forecasts are made: the 15th
// of the frost season's first month and of the three after it.
func leads(w weather.WinterYear) []weather.Date {
	start, _ := w.FrostSeason()
	year, month, _ := start.YMD()
	var days []weather.Date
	for k := range time.Month(4) {
		days = append(days, weather.NewDate(year, month+k, 15))
	}
	return days
}

// lateEnd gives the last day of the fifth month of a winter's frost season:
// February, in the south August.
func lateEnd(w weather.WinterYear) weather.Date {
	start, _ := w.FrostSeason()
	year, month, _ := start.YMD()
	return weather.NewDate(year, month+5, 0)
}

// record of one forecast and what came true.
type judged struct {
	crps             float64
	in50, in90       float64 // how much of what came true lies within; of counts a part can
	chance, came     float64
	isCRPS, isChance bool
	spread           bool // an interval was given
}

// tally adds the judged forecasts of one thing, method and lead up.
func tallied(what, method string, leadDays int, all []judged) Score {
	s := Score{What: what, Method: method, LeadDays: leadDays, N: len(all), CRPS: math.NaN(), Cover50: math.NaN(), Cover90: math.NaN(),
		Brier: Brier{math.NaN(), math.NaN(), math.NaN(), math.NaN()}}
	n := float64(len(all))
	if n == 0 {
		return s
	}
	if all[0].isChance {
		var chance, came []float64
		for _, j := range all {
			chance, came = append(chance, j.chance), append(came, j.came)
		}
		s.Brier = brier(chance, came)
		return s
	}
	var sum, in50, in90 float64
	for _, j := range all {
		sum += j.crps
		in50, in90 = in50+j.in50, in90+j.in90
	}
	s.CRPS = sum / n
	if all[0].spread {
		s.Cover50, s.Cover90 = in50/n, in90/n
	}
	return s
}

// judgeSpread scores a distribution, judgeValue a single value.
func judgeSpread(x, weight []float64, y float64) judged {
	below, upTo := standing(x, weight, y)
	return judged{crps: crps(x, weight, y), in50: held(below, upTo, 0.5), in90: held(below, upTo, 0.9), isCRPS: true, spread: true}
}

func judgeMembers(members []float64, y float64) judged {
	below, upTo := standingAmong(members, y)
	return judged{crps: fairCRPS(members, y), in50: held(below, upTo, 0.5), in90: held(below, upTo, 0.9), isCRPS: true, spread: true}
}

func judgeValue(x, y float64) judged { return judged{crps: math.Abs(x - y), isCRPS: true} }

func judgeChance(chance, came float64) judged {
	return judged{chance: chance, came: came, isChance: true}
}

// Verify makes the forecasts of past winters again, each winter left out with
// its weather and its notes, and compares them with what came true and with
// what a notebook would have said. l has learned from all notes of the trial;
// window gives the window of a winter. The findings name what could not be
// verified. The error is ctx's.
func Verify(ctx context.Context, trial *Trial, l *Learning, window func(weather.WinterYear) (from, to weather.Date)) ([]Verification, table.Findings, error) {
	var out []Verification
	var findings table.Findings
	left := map[weather.WinterYear]*Learning{} // kept only where another place asks again: each is as large as l
	without := func(w weather.WinterYear) (*Learning, error) {
		if known := left[w]; known != nil {
			return known, nil
		}
		again, err := l.without(ctx, w)
		if len(trial.Places) > 1 {
			left[w] = again
		}
		return again, err
	}
	for _, p := range trial.Places {
		v := Verification{Place: p.Name, South: p.Site.Weather.South()}
		winters := p.completeWinters()
		events, err := p.verifyEvents(ctx, winters)
		if err != nil {
			return nil, nil, err
		}
		v.Scores = events
		found, err := v.verifyNotes(ctx, trial, p, winters, without, window)
		if err != nil {
			return nil, nil, err
		}
		findings = append(findings, found...)
		if len(winters) < fewWinters {
			findings = append(findings, table.Finding{File: p.Record.File, Severity: table.Warning, TreatedAs: "used",
				What: "few complete winters: the scores are rough"})
		}
		out = append(out, v)
	}
	return out, findings, nil
}

// completeWinters gives the complete winters of a place's record.
func (p *Place) completeWinters() []weather.WinterYear {
	last := weather.WinterOf(p.Record.Last(), p.Site.Weather.South())
	return p.complete(p.winters(last.Next()))
}

// others gives all winters but one.
func others(winters []weather.WinterYear, but weather.WinterYear) []weather.WinterYear {
	return slices.DeleteFunc(slices.Clone(winters), func(w weather.WinterYear) bool { return w == but })
}

// verifyEvents forecasts, for every complete winter and lead, how many events
// have closed by the end of February, from weather alone: the winter so far and
// every other winter after it. own_mean is the whole counts of the other
// winters, last_winter that of the winter before.
func (p *Place) verifyEvents(ctx context.Context, winters []weather.WinterYear) ([]Score, error) {
	if len(winters) < 2 {
		return nil, nil
	}
	whole, none := make([]float64, len(winters)), weather.CountEvents(p.Site.Weather)
	for i, w := range winters {
		whole[i] = float64(none.Over(p.Filled.Slice(w.First(), lateEnd(w))).Closed)
	}
	forecasts := make([][4]judged, len(winters))
	err := inParallel(ctx, len(winters), func(i int) error {
		w, end := winters[i], lateEnd(winters[i])
		var room []weather.Day
		for k, lead := range leads(w) {
			var members []float64
			observed := p.Filled.Slice(w.First(), lead)
			known := max(0, weather.Known(observed)-1) // the last of them begins what is spliced
			soFar := none.Over(observed[:known])
			for _, past := range others(winters, w) {
				days, err := weather.Splice(room, observed[known:], nil, p.Filled.Days, past, lead, end)
				if err != nil {
					continue // a trace that lacks a needed day
				}
				members, room = append(members, float64(soFar.Over(days).Closed)), days
			}
			forecasts[i][k] = judgeMembers(members, whole[i])
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	var own, last []judged
	for i, w := range winters {
		own = append(own, judgeMembers(slices.Concat(whole[:i], whole[i+1:]), whole[i]))
		if i > 0 && winters[i-1].Next() == w {
			last = append(last, judgeValue(whole[i-1], whole[i]))
		}
	}
	var scores []Score
	for k, lead := range leads(winters[0]) {
		var by []judged
		for i := range winters {
			by = append(by, forecasts[i][k])
		}
		days := int(lateEnd(winters[0]) - lead)
		scores = append(scores, tallied(WhatEvents, ByForecast, days, by), tallied(WhatEvents, ByOwnMean, days, own), tallied(WhatEvents, ByLastWinter, days, last))
	}
	return scores, nil
}

// VerifyTable gives verify.csv.
func VerifyTable(all []Verification) *table.Table {
	t := table.New("verify", "what", "method", "lead_days", "n", "crps", "brier", "reliability", "resolution", "uncertainty", "cover50", "cover90", "place")
	for _, v := range all {
		for _, s := range v.Scores {
			t.Add(table.Text(s.What), table.Text(s.Method), table.Int(s.LeadDays), table.Int(s.N), table.Num(s.CRPS, 3),
				table.Num(s.Brier.Score, 4), table.Num(s.Brier.Reliability, 4), table.Num(s.Brier.Resolution, 4), table.Num(s.Brier.Uncertainty, 4),
				table.Num(s.Cover50, 3), table.Num(s.Cover90, 3), table.Text(v.Place))
		}
	}
	return placed(t)
}
