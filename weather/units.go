package weather

import (
	"math"

	"wintertop/weather/table"
)

// Convert gives x, written in the unit from, in the unit to; both are symbols
// of table.Unit. ok is false where one cannot become the other. Temperatures
// become °C, lengths mm or cm, masses g, shares (to = "") a fraction of 1. The
// result is rounded to a millionth, so that 28.04 °F is −2.2 °C to the last
// digit and the same record in two units has the same days at a threshold.
func Convert(x float64, from, to string) (y float64, ok bool) {
	if from == to {
		return x, true
	}
	const millionth = 1e6
	y, ok = convert(x, from, to)
	return math.Round(y*millionth) / millionth, ok
}

func convert(x float64, from, to string) (float64, bool) {
	switch to {
	case "°C":
		switch from {
		case "°F":
			return (x - 32) / 1.8, true
		case "K":
			return x - 273.15, true
		case "0.1 °C":
			return x / 10, true
		}
	case "mm", "cm":
		mm := map[string]float64{"mm": 1, "0.1 mm": 0.1, "cm": 10, "m": 1000, "in": 25.4}
		if mm[from] > 0 {
			return x * mm[from] / mm[to], true
		}
	case "g":
		if g := map[string]float64{"kg": 1000, "oz": 28.349523125, "lb": 453.59237}[from]; g > 0 {
			return x * g, true
		}
	case "":
		if from == "%" {
			return x / 100, true
		}
	}
	return 0, false
}

// quantity is one of the values that a station reports.
type quantity int

const (
	minimum quantity = iota
	maximum
	rain
	snowDepth
	quantities // how many there are
)

// fieldOf gives the canonical column of a quantity.
var fieldOf = [quantities]string{"tmin", "tmax", "rain", "snow_depth"}

// target gives the unit in which a Day holds a quantity.
func (q quantity) target() string {
	return [quantities]string{"°C", "°C", "mm", "cm"}[q]
}

// unitsWords are the words of --units with the unit of each quantity.
var unitsWords = map[string][quantities]string{
	"metric": {"°C", "°C", "mm", "cm"},
	"us":     {"°F", "°F", "in", "in"},
	"tenths": {"0.1 °C", "0.1 °C", "0.1 mm", "cm"},
}

// ghcnDaily are the units of the GHCN-Daily format (NOAA, GHCN-Daily readme).
var ghcnDaily = [quantities]string{"0.1 °C", "0.1 °C", "0.1 mm", "mm"}

// columnUnits decides the unit of each quantity: the header's, else the one
// asked for, else the layout's own, else °C, mm and cm. A unit in the header
// that cannot be one of the quantity is a fault, one that nobody knows a note.
func columnUnits(s *table.Source, asked string, ghcn bool) (units [quantities]string, seen table.Findings) {
	units = unitsWords["metric"]
	if ghcn {
		units = ghcnDaily
	}
	if asked != "" {
		snow := units[snowDepth]
		units = unitsWords[asked]
		if ghcn && asked != "us" {
			units[snowDepth] = snow
		}
	}
	for q := range quantities {
		column, has := s.Column(fieldOf[q])
		if !has || column.Unit == "" {
			continue
		}
		f := table.Finding{File: s.Name(), Line: s.HeaderLine(), Column: column.Raw, Value: column.Unit}
		symbol, known := table.Unit(column.Unit)
		if _, fits := Convert(0, symbol, q.target()); known && fits {
			units[q] = symbol
			continue
		}
		if known {
			f.What = "column " + table.Quote(column.Raw) + " cannot be in " + symbol
			f.TreatedAs, f.Severity = "refused", table.Fault
		} else {
			f.What = table.Quote(column.Unit) + " in the header is no unit known here; column " + table.Quote(column.Raw) + " is read in " + units[q]
			f.TreatedAs, f.Severity = "ignored", table.Warning
			f.Hint = "if that is not its unit, change the header to one of °C, °F, K, mm, cm, in, or say what the file holds with --units"
		}
		seen = append(seen, f)
	}
	return units, seen
}
