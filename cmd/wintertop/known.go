package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"wintertop/forecast"
	"wintertop/weather"
	"wintertop/weather/table"
)

// known is a trial as known on its as-of day, with what its notes teach.
type known struct {
	asked    *asked
	whole    *forecast.Trial // as read
	trial    *forecast.Trial // as known on the as-of day
	asOf     weather.Date
	learning *forecast.Learning
	findings table.Findings

	plans func() ([]*forecast.TrialPlan, error) // waits for planAhead
}

// planAhead begins to size the next trial: that needs nothing learned.
func (k *known) planAhead(ctx context.Context) {
	k.plans = meanwhile(func() ([]*forecast.TrialPlan, error) { return k.plannedIfAny(ctx) })
}

// knowAndLook reads the trial, learns from its notes and plays the winter asked
// for. check may refuse the goal before the long work.
func (j *job) knowAndLook(ctx context.Context, want forecast.Want, check func(forecast.Goal) error) (*known, []forecast.Outlook, error) {
	var goal forecast.Goal
	k, err := j.know(ctx, func(k *known) (err error) {
		goal, err = k.goalFor(check)
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	goal.Want = want
	looks, err := k.look(ctx, goal)
	return k, looks, err
}

// goalFor gives the goal where a check, which may be nil, does not refuse it and
// something was sown.
func (k *known) goalFor(check func(forecast.Goal) error) (forecast.Goal, error) {
	goal, err := k.goal()
	if err == nil && check != nil {
		err = check(goal)
	}
	if err == nil && !slices.ContainsFunc(k.trial.Plantings, func(p forecast.Planting) bool { return p.Winter == goal.Winter }) {
		err = k.nothingSown(goal.Winter)
	}
	return goal, err
}

// winterIsThere refuses a winter or window that cannot be.
func (k *known) winterIsThere() error {
	_, err := k.goal()
	return err
}

// know reads the trial and learns from its notes. before, which may be nil, may
// refuse what is asked before the long work.
func (j *job) know(ctx context.Context, before func(*known) error) (*known, error) {
	whole, findings, err := j.load()
	if err != nil {
		return nil, err
	}
	return learn(ctx, j.asked, whole, findings, before)
}

// load reads the trial.
func (j *job) load() (*forecast.Trial, table.Findings, error) {
	if err := j.need(stationRole, siteRole, linesRole, plantingsRole); err != nil {
		return nil, nil, err
	}
	return forecast.Load(j.inputs.open, j.files(), j.reading())
}

// learn cuts a trial at its as-of day and learns from the notes up to it, unless
// before, which may be nil, refuses what is asked.
func learn(ctx context.Context, a *asked, whole *forecast.Trial, findings table.Findings, before func(*known) error) (*known, error) {
	k := &known{asked: a, whole: whole, asOf: whole.LastDay()}
	if a.hasAsOf {
		k.asOf = a.asOf
	} else {
		findings = append(findings, whole.EndsApart()...)
	}
	k.findings = forecast.Before(findings, k.asOf)
	var found table.Findings
	var err error
	if k.trial, found, err = whole.AsOf(k.asOf); err != nil {
		return nil, err
	}
	k.findings = append(k.findings, found...)
	if before != nil {
		if err := before(k); err != nil {
			return nil, err
		}
	}
	if k.learning, found, err = forecast.Learn(ctx, k.trial); err != nil {
		return nil, err
	}
	k.findings = append(k.findings, found...)
	return k, nil
}

// goal gives the winter and the window asked for. The winter must be in the
// record of every place.
func (k *known) goal() (forecast.Goal, error) {
	goal := forecast.Goal{AsOf: k.asOf, Detrend: k.asked.detrend}
	var err error
	if goal.Winter, err = k.asked.winterAt(k.asOf, k.trial.Places[0].Site.Weather.South()); err != nil {
		return goal, err
	}
	if goal.From, goal.To, err = k.asked.window.inWinter(goal.Winter); err != nil {
		return goal, err
	}
	for _, p := range k.trial.Places {
		if goal.Winter.Last() < p.Record.First() || goal.Winter.First() > p.Record.Last() {
			return goal, notInRecord(goal.Winter, p.Record)
		}
	}
	return goal, nil
}

// look plays the goal's winter at every place.
func (k *known) look(ctx context.Context, goal forecast.Goal) ([]forecast.Outlook, error) {
	looks, found, err := forecast.Look(ctx, k.trial, k.learning, goal)
	if err != nil {
		return nil, err
	}
	k.findings = append(k.findings, found...)
	if len(looks) == 0 {
		return nil, k.nothingSown(goal.Winter)
	}
	return looks, nil
}

// nothingSown is the answer to a winter without plantings.
func (k *known) nothingSown(w weather.WinterYear) error {
	var winters []string
	for _, p := range k.trial.Plantings {
		winters = append(winters, p.Winter.String())
	}
	slices.Sort(winters)
	hint := "no planting was sown by " + k.asOf.String()
	if winters = slices.Compact(winters); len(winters) > 0 {
		hint = "plantings sown by " + k.asOf.String() + " belong to " + strings.Join(winters, ", ")
	}
	return &dataError{what: fmt.Sprintf("no planting belongs to the winter %s", w), hint: hint}
}

// afterWindow refuses an as-of day for which there is nothing left to pick.
func afterWindow(goal forecast.Goal) error {
	if goal.AsOf <= goal.To {
		return nil
	}
	return &usageError{
		what: fmt.Sprintf("as-of %s is after the window of the winter %s, which ends on %s", goal.AsOf, goal.Winter, goal.To),
		hint: "give an earlier day with --as-of, or a later --window",
	}
}

// given gives one of the answers at all places that have it: as of a day after
// the window only the season is left.
func given[T any](looks []forecast.Outlook, answer func(forecast.Outlook) *T) []*T {
	var all []*T
	for _, look := range looks {
		if one := answer(look); one != nil {
			all = append(all, one)
		}
	}
	return all
}

func picks(looks []forecast.Outlook) []*forecast.Picks {
	return given(looks, func(o forecast.Outlook) *forecast.Picks { return o.Picks })
}

func seasons(looks []forecast.Outlook) []*forecast.Season {
	return given(looks, func(o forecast.Outlook) *forecast.Season { return o.Season })
}

func orders(looks []forecast.Outlook) []*forecast.Order {
	return given(looks, func(o forecast.Outlook) *forecast.Order { return o.Order })
}

func advices(looks []forecast.Outlook) []*forecast.Advice {
	return given(looks, func(o forecast.Outlook) *forecast.Advice { return o.Next })
}
