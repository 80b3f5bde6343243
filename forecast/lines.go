package forecast

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// Line is one row of lines.csv.
type Line struct {
	Name     string
	Kind     string // check, candidate, commercial or ""
	Pedigree string
	Note     string
	// Prior is what the grower or breeder knew before any note; NaN where
	// lines.csv does not say.
	Prior LinePrior
	// YieldKGPerM2 is what a stand gives in roots that can be sold; NaN where
	// lines.csv does not say.
	YieldKGPerM2 float64
	// Ratings are the cells of every column that holds numbers, ours or not, in
	// the file's order.
	Ratings  []Rating
	FileLine int
}

// LinePrior holds a line's own prior means and standard deviations.
type LinePrior struct {
	TopSize, TopSizeSD         float64 // 1 = standard
	TopLengthCM, TopLengthSDCM float64
	HardinessC, HardinessSDC   float64
}

var kinds = []string{"check", "candidate", "commercial"}

type lineRow struct {
	Line        string       `csv:"line"`
	Kind        string       `csv:"kind"`
	Pedigree    string       `csv:"pedigree"`
	Note        string       `csv:"note"`
	TopSize     table.Number `csv:"top_size"`
	TopSizeSD   table.Number `csv:"top_size_sd"`
	Length      table.Number `csv:"top_length_cm"`
	LengthSD    table.Number `csv:"top_length_cm_sd"`
	Hardiness   table.Number `csv:"hardiness_c"`
	HardinessSD table.Number `csv:"hardiness_c_sd"`
	YieldPerM2  table.Number `csv:"yield_per_m2"`
}

var linesLayout = table.Layout{What: "lines file", MostRows: 2_000, Fields: []table.Field{
	{Name: "line", Required: true}, {Name: "kind"}, {Name: "pedigree"}, {Name: "note"},
	{Name: "top_size", Number: true}, {Name: "top_size_sd", Number: true},
	{Name: "top_length_cm", Aliases: []string{"top_length"}, Number: true},
	{Name: "top_length_cm_sd", Aliases: []string{"top_length_sd"}, Number: true},
	{Name: "hardiness_c", Aliases: []string{"hardiness"}, Number: true},
	{Name: "hardiness_c_sd", Aliases: []string{"hardiness_sd"}, Number: true},
	{Name: "yield_per_m2", Aliases: []string{"yield"}, Number: true},
}}

// readLines reads lines.csv.
func readLines(r io.Reader, name string) ([]Line, table.Findings, error) {
	content, err := io.ReadAll(r)
	if err != nil {
		return nil, nil, err
	}
	layout, ratings := ratingsOf(content, name)
	source, err := table.Open(bytes.NewReader(content), name, layout)
	if err != nil {
		return nil, nil, err
	}
	var lines []Line
	var faults table.Findings
	first := map[string]int{}
	err = weather.Decode(source, func(at int, row lineRow) error {
		report := func(column, value, what, hint string) {
			faults = append(faults, table.Finding{File: name, Line: at, Column: column, Value: value, What: what, Hint: hint, TreatedAs: "refused", Severity: table.Fault})
		}
		line := Line{Name: strings.TrimSpace(row.Line), Kind: strings.ToLower(strings.TrimSpace(row.Kind)), Pedigree: row.Pedigree, Note: row.Note, Ratings: ratings[at], FileLine: at}
		switch {
		case line.Name == "":
			report("line", "", "a line without a name", "")
		case first[line.Name] != 0:
			report("line", line.Name, fmt.Sprintf("line %q stands on line %d already", line.Name, first[line.Name]), "")
		default:
			first[line.Name] = at
		}
		if line.Kind != "" && !slices.Contains(kinds, line.Kind) {
			hint := "known: " + strings.Join(kinds, ", ")
			if near, ok := table.Nearest(line.Kind, kinds); ok {
				hint = fmt.Sprintf("did you mean %q?", near)
			}
			report("kind", row.Kind, fmt.Sprintf("kind %q is not known", row.Kind), hint)
		}
		number := func(column string, n table.Number, low, high float64) float64 {
			if n.Fault != "" {
				report(column, n.Text, column+": "+n.Fault, "")
			} else if n.Known && (n.Value < low || n.Value > high) {
				report(column, n.Text, fmt.Sprintf("%s is %s", column, n.Text), fmt.Sprintf("it must lie between %g and %g", low, high))
			}
			return n.OrNaN()
		}
		line.Prior = LinePrior{
			TopSize: number("top_size", row.TopSize, 0.1, 10), TopSizeSD: number("top_size_sd", row.TopSizeSD, 0.01, 10),
			TopLengthCM: number("top_length_cm", row.Length, 5, 150), TopLengthSDCM: number("top_length_cm_sd", row.LengthSD, 0.1, 100),
			HardinessC: number("hardiness_c", row.Hardiness, -25, -2), HardinessSDC: number("hardiness_c_sd", row.HardinessSD, 0.05, 10),
		}
		line.YieldKGPerM2 = number("yield_per_m2", row.YieldPerM2, yieldPerM2.low, yieldPerM2.top)
		lines = append(lines, line)
		return nil
	})
	if err != nil {
		return nil, source.Findings(), err
	}
	findings := append(source.Findings(), faults...)
	findings = append(findings, ratingsFinding(layout, name, source.HeaderLine())...)
	return lines, findings, nil
}

// orElse gives x, or the standard value where x is NaN.
func orElse(x, standard float64) float64 {
	if math.IsNaN(x) {
		return standard
	}
	return x
}
