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
	trial    *forecast.Trial
	asOf     weather.Date
	learning *forecast.Learning
	findings table.Findings
}

// know reads the trial and learns from its notes.
func (j *job) know(ctx context.Context) (*known, error) {
	if err := j.need(stationRole, siteRole, linesRole, plantingsRole); err != nil {
		return nil, err
	}
	whole, findings, err := forecast.Load(j.inputs.open, j.files(), j.reading())
	if err != nil {
		return nil, err
	}
	return learn(ctx, j.asked, whole, findings)
}

// learn cuts a trial at its as-of day and learns from the notes up to it.
func learn(ctx context.Context, a *asked, whole *forecast.Trial, findings table.Findings) (*known, error) {
	k := &known{asked: a, asOf: whole.LastDay(), findings: findings}
	if a.hasAsOf {
		k.asOf = a.asOf
	}
	var found table.Findings
	var err error
	if k.trial, found, err = whole.AsOf(k.asOf); err != nil {
		return nil, err
	}
	k.findings = append(k.findings, found...)
	if k.learning, found, err = forecast.Learn(ctx, k.trial); err != nil {
		return nil, err
	}
	k.findings = append(k.findings, found...)
	return k, nil
}

// look plays the winter asked for at every place.
func (k *known) look(ctx context.Context) ([]forecast.Outlook, error) {
	goal := forecast.Goal{AsOf: k.asOf}
	var err error
	if goal.Winter, err = k.asked.winterAt(k.asOf, k.trial.Places[0].Site.Weather.South()); err != nil {
		return nil, err
	}
	if goal.From, goal.To, err = k.asked.window.inWinter(goal.Winter); err != nil {
		return nil, err
	}
	for _, p := range k.trial.Places {
		if goal.Winter.Last() < p.Record.First() || goal.Winter.First() > p.Record.Last() {
			return nil, notInRecord(goal.Winter, p.Record)
		}
	}
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

// picks gives the pick of every place; an as-of day after the window has none.
func (k *known) picks(looks []forecast.Outlook) ([]*forecast.Picks, error) {
	var picks []*forecast.Picks
	for _, look := range looks {
		if look.Picks == nil {
			w := look.Season.Winter
			_, to, err := k.asked.window.inWinter(w)
			if err != nil {
				return nil, err
			}
			return nil, &usageError{
				what: fmt.Sprintf("as-of %s is after the window of the winter %s, which ends on %s", k.asOf, w, to),
				hint: "give an earlier day with --as-of, or a later --window",
			}
		}
		picks = append(picks, look.Picks)
	}
	return picks, nil
}

func seasons(looks []forecast.Outlook) []*forecast.Season {
	var all []*forecast.Season
	for _, look := range looks {
		all = append(all, look.Season)
	}
	return all
}
