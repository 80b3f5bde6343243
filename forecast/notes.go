package forecast

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// Note is one observation of one trait of one planting.
type Note struct {
	Date     weather.Date
	Planting string
	Trait    Trait
	Value    float64 // cm, FRESH g per plant (leaf_mass), dry g (leaf_dry_mass), leaves, or a share 0–1
	Plants   int     // plants the value is the mean of, or that were tried
	FileLine int
}

// Trait names what a note measures.
type Trait string

// The traits of notes.
const (
	TopHeight    Trait = "top_height"    // cm, standing as it is
	TopLength    Trait = "top_length"    // cm, longest leaf stretched from the crown
	LeafMass     Trait = "leaf_mass"     // FRESH g per plant
	LeafDryMass  Trait = "leaf_dry_mass" // dry g per plant
	LiveLeaves   Trait = "live_leaves"
	GroundCover  Trait = "ground_cover"
	WeedCover    Trait = "weed_cover"
	LiftedShare  Trait = "lifted_share"
	FrostedRoots Trait = "frosted_roots"
)

var traitOrder = []Trait{TopHeight, TopLength, LeafMass, LeafDryMass, LiveLeaves, GroundCover, WeedCover, LiftedShare, FrostedRoots}

var traitQuantity = map[Trait]quantity{
	TopHeight:    {"top_height", unitsLength, 0, 150},
	TopLength:    {"top_length", unitsLength, 0, 150},
	LeafMass:     {"leaf_mass", unitsMass, 0, 1000},
	LeafDryMass:  {"leaf_dry_mass", unitsMass, 0, 200},
	LiveLeaves:   {"live_leaves", unitsCount, 0, 100},
	GroundCover:  {"ground_cover", unitsShare, 0, 1},
	WeedCover:    {"weed_cover", unitsShare, 0, 1},
	LiftedShare:  {"lifted_share", unitsShare, 0, 1},
	FrostedRoots: {"frosted_roots", unitsShare, 0, 1},
}

// noteRow is a row of either form: long (trait, value, unit) or wide (a column
// per trait).
type noteRow struct {
	Date     string       `csv:"date"`
	Planting string       `csv:"planting"`
	Plants   table.Number `csv:"plants"`
	State    string       `csv:"state"`
	Trait    string       `csv:"trait"`
	Value    table.Number `csv:"value"`
	Unit     string       `csv:"unit"`

	TopHeight    table.Number `csv:"top_height"`
	TopLength    table.Number `csv:"top_length"`
	LeafMass     table.Number `csv:"leaf_mass"`
	LeafDryMass  table.Number `csv:"leaf_dry_mass"`
	LiveLeaves   table.Number `csv:"live_leaves"`
	GroundCover  table.Number `csv:"ground_cover"`
	WeedCover    table.Number `csv:"weed_cover"`
	LiftedShare  table.Number `csv:"lifted_share"`
	FrostedRoots table.Number `csv:"frosted_roots"`
}

// wide gives the cells of the wide form in traitOrder.
func (r *noteRow) wide() []table.Number {
	return []table.Number{r.TopHeight, r.TopLength, r.LeafMass, r.LeafDryMass, r.LiveLeaves, r.GroundCover, r.WeedCover, r.LiftedShare, r.FrostedRoots}
}

var notesLayout = func() table.Layout {
	fields := []table.Field{
		{Name: "date", Required: true}, {Name: "planting", Required: true}, {Name: "plants", Number: true}, {Name: "state"},
		{Name: "trait"}, {Name: "value", Number: true}, {Name: "unit"},
	}
	for _, t := range traitOrder {
		fields = append(fields, table.Field{Name: string(t), Number: true})
	}
	return table.Layout{What: "notes file", MostRows: 200_000, Fields: fields}
}()

// noteReader turns the rows of notes.csv into notes and findings.
type noteReader struct {
	file     string
	source   *table.Source
	isLong   bool
	notes    []Note
	first    map[Note]int // the line of each note; the note without it
	findings table.Findings
}

// readNotes reads notes.csv, long or wide.
func readNotes(r io.Reader, name string) ([]Note, table.Findings, error) {
	source, err := table.Open(r, name, notesLayout)
	if err != nil {
		return nil, nil, err
	}
	has := func(field string) bool {
		return slices.ContainsFunc(source.Columns(), func(c table.Column) bool { return c.Name == field })
	}
	n := noteReader{file: name, source: source, first: map[Note]int{}, isLong: has("trait") || has("value")}
	anyTrait := slices.ContainsFunc(traitOrder, func(t Trait) bool { return has(string(t)) })
	switch {
	case n.isLong && !(has("trait") && has("value")):
		n.report(table.Fault, 1, "trait", "", "notes need both columns trait and value, or a column per trait", "")
	case n.isLong && anyTrait:
		n.report(table.Fault, 1, "trait", "", "notes have the columns trait and value and a column per trait as well", "use one form or the other")
	case !n.isLong && !anyTrait:
		n.report(table.Fault, 1, "trait", "", "notes have neither the columns trait and value nor a column of a trait we know", "traits: "+strings.Join(traitNames(), ", "))
	}
	if n.findings.Err() != nil {
		return nil, n.findings, nil
	}
	if err := weather.Decode(source, n.row); err != nil {
		return nil, source.Findings(), err
	}
	return n.notes, append(source.Findings(), n.findings...), nil
}

func (n *noteReader) report(severity table.Severity, line int, column, value, what, hint string) {
	treated := "refused"
	if severity != table.Fault {
		treated = "set aside"
	}
	n.findings = append(n.findings, table.Finding{File: n.file, Line: line, Column: column, Value: value, What: what, Hint: hint, TreatedAs: treated, Severity: severity})
}

// row reads one row of either form.
func (n *noteReader) row(line int, row noteRow) error {
	note := Note{Planting: strings.TrimSpace(row.Planting), Plants: 1, FileLine: line}
	date, err := weather.ParseDate(strings.TrimSpace(row.Date))
	if err != nil {
		n.report(table.Fault, line, "date", row.Date, "date: "+err.Error(), "write dates as year-month-day")
	}
	note.Date = date
	switch p := row.Plants; {
	case p.Fault != "":
		n.report(table.Fault, line, "plants", p.Text, "plants: "+p.Fault, "")
	case p.Missing():
	case p.Value < 1 || p.Value > 1e6 || p.Value != float64(int(p.Value)):
		n.report(table.Fault, line, "plants", p.Text, fmt.Sprintf("plants is %s", p.Text), "give the whole number of plants that the value is the mean of")
	default:
		note.Plants = int(p.Value)
	}
	frozen := false
	switch state := strings.ToLower(strings.TrimSpace(row.State)); state {
	case "", "thawed":
	case "frozen":
		frozen = true
	default:
		n.report(table.Warning, line, "state", row.State, fmt.Sprintf("state %q is not known and was not read", row.State), "known: frozen, thawed")
	}
	if frozen {
		n.report(table.Warning, line, "state", row.State, fmt.Sprintf("note of %s taken on frozen tops is set aside", note.Planting), "note again after the thaw")
		return nil
	}
	if n.isLong {
		n.long(line, note, row)
		return nil
	}
	for i, cell := range row.wide() {
		note.Trait = traitOrder[i]
		n.value(line, note, cell, n.source.Unit(string(note.Trait)))
	}
	return nil
}

// long reads trait, value and unit of the long form.
func (n *noteReader) long(line int, note Note, row noteRow) {
	at := slices.IndexFunc(traitOrder, func(t Trait) bool { return table.Fold(string(t)) == table.Fold(row.Trait) })
	if at < 0 {
		hint := "known: " + strings.Join(traitNames(), ", ")
		if near, ok := table.Nearest(strings.ToLower(row.Trait), traitNames()); ok {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		n.report(table.Fault, line, "trait", row.Trait, fmt.Sprintf("trait %q is not known", row.Trait), hint)
		return
	}
	note.Trait = traitOrder[at]
	unit := row.Unit
	if strings.TrimSpace(unit) == "" {
		unit = n.source.Unit("value")
	}
	n.value(line, note, row.Value, unit)
}

// value checks and keeps one value; a blank one is no note.
func (n *noteReader) value(line int, note Note, cell table.Number, unit string) {
	if cell.Fault != "" {
		n.report(table.Fault, line, string(note.Trait), cell.Text, fmt.Sprintf("%s: %s", note.Trait, cell.Fault), "")
		return
	}
	if cell.Missing() {
		return
	}
	value, what, hint := traitQuantity[note.Trait].convert(cell.Value, unit)
	if what != "" {
		n.report(table.Fault, line, string(note.Trait), cell.Text, what, hint)
		return
	}
	note.Value = value
	same := note
	same.FileLine = 0
	if first := n.first[same]; first > 0 {
		n.report(table.Warning, line, string(note.Trait), cell.Text, fmt.Sprintf("%s of %s on %s, %s, stands on line %d already: it counts once", note.Trait, note.Planting, note.Date, cell.Text, first),
			"of two samples that came out alike make one note with all their plants")
		return
	}
	n.first[same] = line
	n.notes = append(n.notes, note)
}

// traitNames gives the traits as words.
func traitNames() []string {
	names := make([]string, len(traitOrder))
	for i, t := range traitOrder {
		names[i] = string(t)
	}
	return names
}
