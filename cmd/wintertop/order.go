package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"wintertop/forecast"
	"wintertop/plots"
	"wintertop/weather/table"
)

func orderCommand() *command {
	return &command{
		name: "order",
		does: "what to lift this week and in which order, with the crew you have",
		examples: []example{
			{"wintertop order --in my-trial", "every planting that stands, in the order to lift it"},
			{"wintertop order --in my-trial --since 2025-11-01", "what has changed since a day"},
			{"wintertop order --in my-trial --out order", "every column as a file, and the picture"},
		},
		more: "The last safe date is the last day of the first unbroken run on which p_all of pick reaches the assurance:\n" +
			"the stand lifts, the row is shaded and no root has frozen. A planting without one says look first, and so\n" +
			"does a line without notes.\n" +
			"For a schedule the site file says what the crew lifts on a day fit for machines (area_per_day, m2) and on how\n" +
			"many days a week it works (crew_days_per_week, 5), and the plantings file what still stands (area_m2; 0 once it\n" +
			"is lifted). The crew begins on the day after as-of, not before October (south: April), and works through the\n" +
			"order in each past winter: on a fit day the first planting of which at least half would lift, as anyone sees\n" +
			"on the day, then the next. What is lifted yields its lift share of that day, nothing once its roots have\n" +
			"frozen; what still stands at the window's end is lost. The order is made before and knows no winter. Lift now:\n" +
			"safe for a week at most, or a week's wait would make it, or one behind it in the order, late in too many winters;\n" +
			"without a schedule, safe for a week at most, or less than one fit day expected before its last safe date.\n" +
			"Several places have a crew each.",
		files: []string{"order.csv", "order-rules.csv", "order.svg", "order-since.csv (with --since)"},
		flags: trialFlags | sinceFlag | detrendFlag | outFlags | pngFlag,
		run:   runOrder,
	}
}

const wantOrder = forecast.WantPicks | forecast.WantOrder

func runOrder(ctx context.Context, j *job) (*outcome, error) {
	k, looks, err := j.knowAndLook(ctx, wantOrder, noDayLeft)
	if err != nil {
		return nil, err
	}
	now := orders(looks)
	if !slices.ContainsFunc(now, func(o *forecast.Order) bool { return len(o.Rows) > 0 }) {
		return nil, &dataError{what: "nothing is left to lift: area_m2 is 0 for every planting of the winter", hint: "area_m2 in the plantings file is what still stands"}
	}
	o, err := orderOutcome(k, now)
	if err != nil || !j.asked.hasSince {
		return o, err
	}
	then, err := k.earlier(ctx, wantOrder)
	if err != nil {
		return nil, err
	}
	t := forecast.OrderSinceTable(now, orders(then))
	short := withoutPlantings(t).Only("order_then", "order", "line", "planting", "action_then", "action", "p_in_time_then", "p_in_time", "changed", "place")
	o.table, o.text = t, []section{{table: fitted(short, pickColumns, "order_then", "p_in_time_then", "changed")}}
	o.files = append(o.files, tableFile(t))
	return o, nil
}

// noDayLeft refuses an as-of day after which no day of the window is left.
func noDayLeft(goal forecast.Goal) error {
	if goal.AsOf == goal.To {
		return &usageError{
			what: fmt.Sprintf("as-of %s is the last day of the window: no day is left to lift on", goal.AsOf),
			hint: "give an earlier day with --as-of, or a later --window",
		}
	}
	return afterWindow(goal)
}

// mostSaid is how many plantings are put into words below the table.
const mostSaid = 12

// orderOutcome makes the tables and the charts of the order command.
func orderOutcome(k *known, orders []*forecast.Order) (*outcome, error) {
	t := forecast.OrderTable(orders)
	rules := forecast.RulesTable(orders)
	o := &outcome{table: t, text: []section{{table: shortOrder(t, orders)}}, findings: k.findings, files: []file{tableFile(t), tableFile(rules)}}
	said, rows := 0, 0
	for _, one := range orders {
		place := ""
		if one.Place != "" {
			place = one.Place + ": "
		}
		names := one.Names()
		o.before = append(o.before, fold(place+one.Answer(names))...)
		if one.NoSchedule != "" {
			o.before = append(o.before, fold(place+"No schedule, only last safe dates: "+one.NoSchedule+".")...)
		}
		rows += len(one.Rows)
		for _, i := range one.Said(mostSaid - said) {
			o.after = append(o.after, fold(place+names[i]+": "+one.Rows[i].Say)...)
			said++
		}
	}
	if rows > said {
		o.after = append(o.after, fmt.Sprintf("And %d more, each in a sentence in order.csv.", rows-said))
	}
	for _, one := range orders {
		if words := one.RulesWords(); words != "" {
			if one.Place != "" {
				words = one.Place + ": " + words
			}
			o.after = append(append(o.after, ""), fold(words)...)
		}
		chart, err := plots.Order(one)
		if err != nil {
			return nil, err
		}
		files, err := chartFiles(k.asked, placeName("order", one.Place), chart)
		if err != nil {
			return nil, err
		}
		o.files = append(o.files, files...)
	}
	o.after = append(append(o.after, ""), cautions...)
	return o, nil
}

// textWidth is how many letters of a terminal's line sentences take.
const textWidth = 100

// fold breaks a sentence at its blanks, the lines after the first set in.
func fold(sentence string) (lines []string) {
	line := ""
	for word := range strings.FieldsSeq(sentence) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > textWidth {
			lines, line = append(lines, line), "   "
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// foldAll folds sentences, each on a line of its own.
func foldAll(sentences []string) (lines []string) {
	for _, s := range sentences {
		lines = append(lines, fold(s)...)
	}
	return lines
}

// shortOrder keeps the columns that fit a terminal.
func shortOrder(t *table.Table, orders []*forecast.Order) *table.Table {
	keep := []string{"order", "line", "action", "last_safe", "fit_days", "reason"}
	if slices.ContainsFunc(orders, func(o *forecast.Order) bool { return o.NoSchedule == "" }) {
		keep = []string{"order", "line", "area_m2", "action", "fit_days", "p_in_time", "share_lost"}
	}
	return fitted(withoutPlantings(t).Only(append(keep, "planting", "place")...), pickColumns)
}
