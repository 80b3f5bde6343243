package forecast

import (
	"fmt"
	"io"
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// Planting is one row of plantings.csv: one line sown at one place on one day.
type Planting struct {
	Name           string
	Line           string
	Place          string
	Plot           string
	Sown           weather.Date
	LastCultivated weather.Date // Sown where the file does not say
	PlantsPerM2    float64
	AreaM2         float64 // NaN where the file does not say
	HilledCM       float64 // NaN where the file does not say
	Winter         weather.WinterYear
	FileLine       int
}

type plantingRow struct {
	Planting   string       `csv:"planting"`
	Line       string       `csv:"line"`
	Place      string       `csv:"place"`
	Plot       string       `csv:"plot"`
	Sown       string       `csv:"sown"`
	Cultivated string       `csv:"last_cultivated"`
	Density    table.Number `csv:"plants_per_m2"`
	Area       table.Number `csv:"area_m2"`
	Hilled     table.Number `csv:"hilled_cm"`
}

var plantingsLayout = table.Layout{What: "plantings file", MostRows: 20_000, Fields: []table.Field{
	{Name: "planting", Required: true}, {Name: "line", Required: true}, {Name: "place"}, {Name: "plot"},
	{Name: "sown", Required: true}, {Name: "last_cultivated"},
	{Name: "plants_per_m2", Required: true, Number: true}, {Name: "area_m2", Number: true}, {Name: "hilled_cm", Number: true},
}}

// mostAreaM2 is the most that a planting may measure: 50 ha.
const mostAreaM2 = 500_000

// readPlantings reads plantings.csv. The winters they belong to are set by the
// caller, who knows the hemisphere.
func readPlantings(r io.Reader, name string) ([]Planting, table.Findings, error) {
	source, err := table.Open(r, name, plantingsLayout)
	if err != nil {
		return nil, nil, err
	}
	var plantings []Planting
	var faults table.Findings
	first := map[string]int{}
	err = weather.Decode(source, func(at int, row plantingRow) error {
		report := func(column, value, what, hint string) {
			faults = append(faults, table.Finding{File: name, Line: at, Column: column, Value: value, What: what, Hint: hint, TreatedAs: "refused", Severity: table.Fault})
		}
		p := Planting{
			Name: strings.TrimSpace(row.Planting), Line: strings.TrimSpace(row.Line), Place: strings.TrimSpace(row.Place),
			Plot: strings.TrimSpace(row.Plot), FileLine: at,
		}
		switch {
		case p.Name == "":
			report("planting", "", "a planting without a name", "")
		case first[p.Name] != 0:
			report("planting", p.Name, fmt.Sprintf("planting %q stands on line %d already", p.Name, first[p.Name]), "give each planting a name of its own, the year in it")
		default:
			first[p.Name] = at
		}
		date := func(column, text string) (weather.Date, bool) {
			d, err := weather.ParseDate(strings.TrimSpace(text))
			if err != nil {
				report(column, text, fmt.Sprintf("%s: %v", column, err), "write dates as year-month-day")
			}
			return d, err == nil
		}
		sownOK := false
		p.Sown, sownOK = date("sown", row.Sown)
		p.LastCultivated = p.Sown
		if strings.TrimSpace(row.Cultivated) != "" {
			var ok bool
			if p.LastCultivated, ok = date("last_cultivated", row.Cultivated); ok && sownOK && p.LastCultivated < p.Sown {
				report("last_cultivated", row.Cultivated, fmt.Sprintf("last cultivated on %s, before it was sown on %s", p.LastCultivated, p.Sown), "")
			}
		}
		number := func(column string, n table.Number, required bool, low, high float64) float64 {
			switch {
			case n.Fault != "":
				report(column, n.Text, column+": "+n.Fault, "")
			case n.Missing() && required:
				report(column, n.Text, "no "+column, "")
			case n.Known && (n.Value < low || n.Value > high):
				report(column, n.Text, fmt.Sprintf("%s is %s", column, n.Text), fmt.Sprintf("it must lie between %g and %g", low, high))
			}
			return n.OrNaN()
		}
		p.PlantsPerM2 = number("plants_per_m2", row.Density, true, 0.5, 1000)
		p.AreaM2 = number("area_m2", row.Area, false, 0, mostAreaM2)
		p.HilledCM = number("hilled_cm", row.Hilled, false, 0, 50)
		plantings = append(plantings, p)
		return nil
	})
	if err != nil {
		return nil, source.Findings(), err
	}
	return plantings, append(source.Findings(), faults...), nil
}
