package forecast

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// SheetRow is one walk to one planting.
type SheetRow struct {
	Date     weather.Date
	Planting string
	Line     string
	Plants   int // the most that any of its notes needs
	Traits   []Trait
}

// Sheet gathers the recommended notes into walks: by date, then in the order of
// plantings.csv, which is taken for the order of the plots in the field.
func (a *Advice) Sheet() []SheetRow {
	var rows []SheetRow
	for _, n := range a.Take {
		at := slices.IndexFunc(rows, func(r SheetRow) bool { return r.Date == n.From && r.Planting == n.Planting })
		if at < 0 {
			at = len(rows)
			rows = append(rows, SheetRow{Date: n.From, Planting: n.Planting, Line: n.Line})
		}
		rows[at].Plants = max(rows[at].Plants, n.Plants)
		rows[at].Traits = append(rows[at].Traits, n.Trait)
	}
	walk := func(r SheetRow) int { return slices.Index(a.walk, r.Planting) }
	slices.SortStableFunc(rows, func(x, y SheetRow) int {
		if x.Date != y.Date {
			return int(x.Date - y.Date)
		}
		return walk(x) - walk(y)
	})
	return rows
}

// SheetTraits gives the traits that any row of some sheets asks for, in the
// order of surveyed.
func SheetTraits(rows []SheetRow) []Trait {
	var asked []Trait
	for _, t := range surveyed {
		if slices.ContainsFunc(rows, func(r SheetRow) bool { return slices.Contains(r.Traits, t) }) {
			asked = append(asked, t)
		}
	}
	return asked
}

// NoteSheetTable gives note-sheet.csv: wide notes to fill in, NA where nothing
// is asked for, which reads as no note. With nothing to note it keeps the
// commonest column.
func NoteSheetTable(all []*Advice) *table.Table {
	var rows []SheetRow
	for _, a := range all {
		rows = append(rows, a.Sheet()...)
	}
	asked := SheetTraits(rows)
	if len(asked) == 0 {
		asked = surveyed[:1]
	}
	columns := []string{"date", "planting", "plants", "state"}
	for _, t := range asked {
		columns = append(columns, columnOf(t))
	}
	t := table.New("note-sheet", columns...)
	for _, r := range rows {
		cells := []table.Cell{table.Text(r.Date.String()), table.Text(r.Planting), table.Int(r.Plants), table.Blank()}
		for _, trait := range asked {
			if slices.Contains(r.Traits, trait) {
				cells = append(cells, table.Blank())
			} else {
				cells = append(cells, table.Text("NA"))
			}
		}
		t.Add(cells...)
	}
	return t
}

// columnOf gives a trait's column of a wide notes file, its unit in it.
func columnOf(t Trait) string {
	switch t {
	case TopHeight, TopLength:
		return string(t) + "_cm"
	case LeafMass:
		return string(t) + "_g"
	case GroundCover, LiftedShare:
		return string(t) + " (%)"
	}
	return string(t)
}

// NextTable gives next.csv: the notes to take by rank, then a row for every
// planting with what is left to learn of it.
func NextTable(all []*Advice) *table.Table {
	t := table.New("next", "rank", "advice", "planting", "line", "trait", "plants", "from", "gain", "gain_low", "gain_high",
		"expected", "doubt_now", "doubt_after", "left", "for", "place")
	for _, a := range all {
		for _, n := range a.Take {
			t.Add(table.Int(n.Rank), table.Text("take"), table.Text(n.Planting), table.Text(n.Line), table.Text(string(n.Trait)), table.Int(n.Plants), table.Text(n.From.String()),
				table.Num(n.Gain, 4), table.Num(n.Low, 4), table.Num(n.High, 4), table.Blank(), table.Num(n.Before, 3), table.Num(n.After, 3), table.Blank(), table.Text(string(a.For)), table.Text(a.Place))
		}
		for _, r := range a.Rows {
			t.Add(table.Blank(), table.Text(r.Advice), table.Text(r.Planting), table.Text(r.Line), table.Blank(), table.Blank(), table.Blank(),
				table.Blank(), table.Blank(), table.Blank(), table.Num(r.Mean, 3), table.Num(r.Doubt, 3), table.Num(r.After, 3), table.Num(r.Left, 4), table.Text(string(a.For)), table.Text(a.Place))
		}
	}
	return placed(t)
}

// Answer says in one sentence which notes to take next and where to stop.
func (a *Advice) Answer() string {
	var parts []string
	if len(a.Take) > 0 {
		n := a.Take[0]
		why := "most is learned if you"
		if n.First {
			why = "no note is expected to change much, but a line without any has no verdict:"
			if a.For == ForHardiness {
				why = "no note is expected to change much, but of a line without any only what is assumed is known:"
			}
		}
		parts = append(parts, fmt.Sprintf("%s %s of %s from %s on", why, n.What(), n.Line, dayMonth(n.From)))
	}
	var more []string
	for _, n := range a.Take[min(1, len(a.Take)):] {
		if !slices.Contains(more, n.Line) {
			more = append(more, n.Line)
		}
	}
	if len(more) > 0 {
		parts = append(parts, "next come notes of "+several(more, ", ", 4))
	}
	var stop []string
	for _, r := range a.Rows {
		// A line of which one plot is still worth the walk is not done with.
		other := func(o NextRow) bool { return o.Line == r.Line && o.Advice != StopHere }
		if r.Advice == StopHere && !slices.Contains(stop, r.Line) && !slices.ContainsFunc(a.Rows, other) {
			stop = append(stop, r.Line)
		}
	}
	about, ofAny := "the odds in the window", "in the odds in the window for any line"
	if a.For == ForHardiness {
		about = "which lines are taken to be hardier than the check"
		ofAny = "in " + about
	}
	switch {
	case len(a.Rows) > 0 && math.IsNaN(a.Rows[0].Mean):
		return "Stop measuring here: no note comes in time for the window any more."
	case len(a.Take) == 0 && len(stop) == 0:
		return "No planting is left to note this winter."
	case len(a.Take) == 0:
		return "Stop measuring here: no note that this winter still allows would change much " + ofAny + "."
	case len(stop) > 0:
		parts = append(parts, "stop measuring "+several(stop, ", ", 5)+", whose notes would hardly change "+about)
	}
	s := strings.Join(parts, "; ") + "."
	return strings.ToUpper(s[:1]) + s[1:]
}

// What says what is measured: weigh the leaves of 10 plants.
func (n NextNote) What() string {
	return fmt.Sprintf(map[Trait]string{
		LeafMass: "weigh the leaves of %d plants", TopHeight: "measure the top height of %d plants", TopLength: "stretch and measure the longest leaf of %d plants",
		LiveLeaves: "count the live leaves of %d plants", GroundCover: "judge the ground cover over %d plants", LiftedShare: "try to lift %d plants",
	}[n.Trait], n.Plants)
}
