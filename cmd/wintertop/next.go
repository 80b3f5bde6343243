package main

import (
	"context"
	"fmt"
	"slices"

	"wintertop/forecast"
	"wintertop/weather/table"
)

func nextCommand() *command {
	return &command{
		name: "next",
		does: "which notes to take next, where to stop measuring, and a sheet to fill in",
		examples: []example{
			{"wintertop next --in my-trial", "the notes that narrow most what can be left standing in the window"},
			{"wintertop next --in my-trial --for hardiness", "those that narrow most which line is hardier than the check"},
			{"wintertop next --in my-trial --out walk", "next.csv, and note-sheet.csv to fill in and read back as notes"},
		},
		more: "Each note is taken on the first day from its date on with thawed tops, as the mean of so many plants. gain is by how\n" +
			"much it lowers the loss to be expected of a wrong decision, over the notes above it: for the pick in shares of winters\n" +
			"(0.01 is one winter in a hundred in which a row is left standing in vain or lifted without need), for hardiness in °C,\n" +
			"added up over all lines that are set against the check.\n" +
			"gain_low and gain_high: with plots that differ more or less than supposed. doubt_now and doubt_after: SD of the row's\n" +
			"odds in the window that comes of what is not known of its traits, or of its hardiness. left: what all further notes of\n" +
			"the winter together would still gain. Dates are weeks apart (mid October at the earliest, up to the window's end); a\n" +
			"walk of twelve notes is the longest. Both are common practice, not a result.",
		files: []string{"next.csv", "note-sheet.csv"},
		flags: trialFlags | detrendFlag | forFlag | outFlags,
		run:   runNext,
	}
}

func runNext(ctx context.Context, j *job) (*outcome, error) {
	var goal forecast.Goal
	k, err := j.know(ctx, func(k *known) (err error) {
		goal, err = k.notesGoal()
		return err
	})
	if err != nil {
		return nil, err
	}
	looks, err := k.look(ctx, goal)
	if err != nil {
		return nil, err
	}
	return nextOutcome(k, advices(looks)), nil
}

// notesGoal gives the goal of notes to be taken in the winter in progress.
func (k *known) notesGoal() (forecast.Goal, error) {
	goal, err := k.goalFor(afterWindow)
	if err != nil {
		return goal, err
	}
	if goal.Winter.First() > goal.AsOf || goal.Winter.Last() < goal.AsOf {
		return goal, &usageError{what: "notes are taken in the winter in progress: as-of " + goal.AsOf.String() + " is not in " + goal.Winter.String(),
			hint: "leave --winter out, or give --as-of a day of it"}
	}
	goal.Want, goal.Notes = forecast.WantNext, forecast.Decision(k.asked.decision)
	if goal.Notes == forecast.ForHardiness && !slices.ContainsFunc(k.trial.Lines, func(l forecast.Line) bool { return l.Kind == "check" }) {
		return goal, &dataError{what: "no line is a check to be compared with", hint: "write check as the kind of a known line in the lines file, or leave --for hardiness out"}
	}
	return goal, nil
}

// nextOutcome makes the tables of the next command.
func nextOutcome(k *known, all []*forecast.Advice) *outcome {
	t := forecast.NextTable(all)
	o := &outcome{table: t, findings: k.findings, files: []file{tableFile(t), tableFile(forecast.NoteSheetTable(all))}}
	for _, a := range all {
		alone := *a
		alone.Place = ""
		o.text = append(o.text, section{fold(placed(a.Place, a.Answer())), shortNext(&alone)})
	}
	if !slices.ContainsFunc(all, func(a *forecast.Advice) bool { return len(a.Take) > 0 || a.For != forecast.ForPick }) {
		o.after = append(o.after, "Which line is hardier is another question: --for hardiness asks it.", "")
	}
	o.after = append(o.after,
		"Dates are the first: go when the tops have thawed. Weigh and measure in every plot alike, weakest",
		"plants included. The gains suppose that plots, winters and plants vary as `wintertop constants`",
		"says; gain_low and gain_high (--format csv, --out) are those with plots that differ more or less.")
	return o
}

// shortNext gives a place's advice for a terminal: of many rows not those where
// nothing is left to learn, which the sentence above counts.
func shortNext(a *forecast.Advice) *table.Table {
	const most = 24
	if len(a.Rows) > most {
		a.Rows = slices.DeleteFunc(slices.Clone(a.Rows), func(r forecast.NextRow) bool { return r.Advice == forecast.StopHere })
	}
	a.Rows = slices.Clone(a.Rows)
	for i, r := range a.Rows {
		if r.Plots > 1 {
			a.Rows[i].Planting = fmt.Sprintf("%s ×%d", r.Line, r.Plots)
		}
	}
	t := forecast.NextTable([]*forecast.Advice{a}).Only("rank", "advice", "planting", "trait", "plants", "from", "gain", "expected", "doubt_now", "doubt_after")
	return fitted(t, pickColumns, "rank")
}
