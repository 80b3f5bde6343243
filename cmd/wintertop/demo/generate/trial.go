package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"time"

	"wintertop/canopy"
	"wintertop/weather"
)

func site() weather.Site {
	return weather.Site{Name: "Brinnowmouth valley (invented)", LatitudeDeg: 49.6, Coast: true, Params: weather.Standard()}
}

func siteCSV(s weather.Site) []byte {
	return csvBytes([][]string{
		{"item", "value", "unit"},
		{"name", s.Name, ""},
		{"latitude", fmt.Sprint(s.LatitudeDeg), "deg"},
		{"coast", "yes", ""},
		{"area_per_day", "150", "m2"},
		{"crew_days_per_week", "5", "days"},
		{"yield_per_m2", "5", "kg"},
		{"crew", "150", "m2"},
		{"area_max", "2000", "m2"},
	})
}

// demandCSV is what is wanted of the next sowing.
const demandCSV = `# Invented: what the growers who try these lines would sell in late winter.
from,until,kg
02-01,02-14,600
02-15,02-28,500
03-01,03-14,300
`

// line is one invented line with what the forecaster is to find out: its true
// traits.
type line struct {
	name, kind, pedigree, note string
	traits                     canopy.Traits
	topLengthCM                float64
	from                       int    // year of its first planting
	noted                      bool   // whether anybody took notes of it
	rootScore, flavourScore    string // of 5; "" where nobody looked
}

func lines() []line {
	return []line{
		{"BRN-C1", "check", "local standard", "sound most winters", canopy.Traits{TopSize: 1.00, HardinessC: -9.8}, 41, 2022, true, "4", "4"},
		{"BRN-C2", "check", "summer type", "kept as the soft check", canopy.Traits{TopSize: 0.80, HardinessC: -8.2}, 36, 2022, true, "4", "3"},
		{"BRN-14", "candidate", "BRN-C1 x WT-6, third overwintered selection", "big upright top", canopy.Traits{TopSize: 1.60, HardinessC: -12.2}, 47, 2022, true, "3", "4"},
		{"BRN-27", "candidate", "BRN-C1 x WT-6, second overwintered selection", "", canopy.Traits{TopSize: 1.45, HardinessC: -11.4}, 46, 2022, true, "4", "4"},
		{"BRN-33", "candidate", "OP-3 x WT-2", "large top in autumn, melts after hard frost", canopy.Traits{TopSize: 1.50, HardinessC: -8.8}, 47, 2022, true, "3", "2"},
		{"BRN-48", "candidate", "WT-6 x WT-9", "short top", canopy.Traits{TopSize: 0.62, HardinessC: -10.6}, 32, 2022, true, "4", "5"},
		{"BRN-52", "candidate", "BRN-14 x BRN-27", "first sown 2025, nothing noted yet", canopy.Traits{TopSize: 1.60, HardinessC: -12.0}, 47, 2025, false, "", ""},
		{"OP-3", "commercial", "open pollinated", "bought seed", canopy.Traits{TopSize: 1.00, HardinessC: -9.0}, 40, 2022, true, "2", "3"},
	}
}

func linesCSV(lines []line) []byte {
	rows := [][]string{{"line", "kind", "pedigree", "note", "root_score", "flavour_score"}}
	for _, l := range lines {
		note := "invented"
		if l.note != "" {
			note += "; " + l.note
		}
		rows = append(rows, []string{l.name, l.kind, l.pedigree, note, l.rootScore, l.flavourScore})
	}
	return csvBytes(rows)
}

// field is one winter's trial: all its lines are sown and cultivated alike.
type field struct {
	sown, lastCultivated weather.Date
	plantsPerM2          float64
	areaM2               int // of a plot
	plots                int
	walks                []weather.Date // days planned for notes
}

func fields() []field {
	date := func(year int, month time.Month, day int) weather.Date { return weather.NewDate(year, month, day) }
	through := func(year int, days ...[2]int) (walks []weather.Date) {
		for _, d := range days {
			y := year
			if d[0] < 7 {
				y++
			}
			walks = append(walks, date(y, time.Month(d[0]), d[1]))
		}
		return walks
	}
	return []field{
		{date(2022, 7, 4), date(2022, 9, 2), 78, 36, 1, through(2022, [2]int{10, 17}, [2]int{11, 10}, [2]int{12, 5}, [2]int{1, 4}, [2]int{1, 30}, [2]int{2, 20}, [2]int{3, 8})},
		{date(2023, 6, 29), date(2023, 8, 30), 82, 24, 2, through(2023, [2]int{10, 16}, [2]int{11, 13}, [2]int{12, 6}, [2]int{1, 3}, [2]int{1, 25}, [2]int{2, 15}, [2]int{3, 7})},
		{date(2024, 7, 8), date(2024, 9, 6), 80, 36, 1, through(2024, [2]int{10, 15}, [2]int{11, 11}, [2]int{12, 3}, [2]int{12, 30}, [2]int{1, 22}, [2]int{2, 12}, [2]int{3, 5})},
		{date(2025, 7, 3), date(2025, 9, 4), 80, 48, 1, through(2025, [2]int{10, 15}, [2]int{11, 10})},
	}
}

// planting is one plot of one line in one winter.
type planting struct {
	name string
	line *line
	field
	plot string
}

func plantings(lines []line, fields []field) (all []planting) {
	for _, f := range fields {
		year, _, _ := f.sown.YMD()
		for i := range lines {
			l := &lines[i]
			if year < l.from {
				continue
			}
			name := fmt.Sprintf("%02d-%s", year%100, l.name)
			if f.plots == 1 {
				all = append(all, planting{name, l, f, ""})
				continue
			}
			for p := range f.plots {
				plot := string(rune('A' + p))
				all = append(all, planting{name + "-" + plot, l, f, plot})
			}
		}
	}
	return all
}

// hilledCM is how deep the last cultivation covers the crowns everywhere in the
// trial; bare crowns would freeze in most winters before any line is lost.
const hilledCM = "4"

func plantingsCSV(plantings []planting) []byte {
	rows := [][]string{{"planting", "line", "place", "sown", "plants_per_m2", "last_cultivated", "area_m2", "plot", "hilled_cm"}}
	for _, p := range plantings {
		rows = append(rows, []string{p.name, p.line.name, "", p.sown.String(), fmt.Sprint(p.plantsPerM2), p.lastCultivated.String(), fmt.Sprint(p.areaM2), p.plot, hilledCM})
	}
	return csvBytes(rows)
}

func csvBytes(rows [][]string) []byte {
	var out bytes.Buffer
	if err := csv.NewWriter(&out).WriteAll(rows); err != nil {
		panic(err)
	}
	return out.Bytes()
}
