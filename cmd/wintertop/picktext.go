package main

import (
	"slices"

	"wintertop/forecast"
	"wintertop/weather/table"
)

// What the printed tables of pick and season fit in, terminal columns.
const (
	pickColumns   = 100
	seasonColumns = 120
)

// section is one table of the text form, with the lines above it.
type section struct {
	before []string
	table  *table.Table
}

// perPlace gives a section for each place: the answer and a table of its own.
func perPlace(picks []*forecast.Picks, tableOf func(*forecast.Picks) *table.Table) []section {
	var all []section
	for _, p := range picks {
		alone := *p
		alone.Place = ""
		all = append(all, section{fold(answer(p)), tableOf(&alone)})
	}
	return all
}

// answer gives the answer in one sentence.
func answer(p *forecast.Picks) string { return placed(p.Place, p.Answer(p.Names())) }

// placed sets the place before a sentence where there are several.
func placed(place, words string) string {
	if place == "" {
		return words
	}
	return place + ": " + words
}

// shortPick gives the pick of a place for a terminal; the other formats and the
// file have all.
func shortPick(p *forecast.Picks) *table.Table {
	t := forecast.PickTable([]*forecast.Picks{p})
	tied := slices.Index(t.Columns, "tied")
	for i, r := range p.Rows {
		t.Rows[i][tied] = table.Text(r.Tied.Short(12))
	}
	t = withoutPlantings(t).Without("holds_from", "leaf_mass_end_g", "notes", "winters", "basis")
	return fitted(t, pickColumns, "shaded_until")
}

// shortSince gives for a terminal what has changed.
func shortSince(t *table.Table) *table.Table {
	return fitted(withoutPlantings(t), pickColumns, "rank", "changed")
}

// fitted leaves columns out, the first named first, until names need no cutting
// to fit a width; where that does not do, they are cut.
func fitted(t *table.Table, width int, least ...string) *table.Table {
	for _, column := range least {
		if t.Width() <= width {
			break
		}
		t = t.Without(column)
	}
	return t.Narrow(width, "line", "planting")
}

// withoutPlantings tells plantings apart only where a line has several at a
// place.
func withoutPlantings(t *table.Table) *table.Table {
	lineAt, placeAt := slices.Index(t.Columns, "line"), slices.Index(t.Columns, "place")
	lines := map[[2]table.Cell]bool{}
	for _, row := range t.Rows {
		of := [2]table.Cell{row[lineAt]}
		if placeAt >= 0 {
			of[1] = row[placeAt]
		}
		lines[of] = true
	}
	if len(lines) == len(t.Rows) {
		return t.Without("planting")
	}
	return t
}
