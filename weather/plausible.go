package weather

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"wintertop/weather/table"
)

// What the weather has never gone beyond: WMO extremes (from memory). The snow
// depth is Mount Ibuki's in 1927, the rain La Réunion's in 1966.
const (
	coldestEverC   = -89.2
	hottestEverC   = 56.7
	wettestEverMM  = 1825
	deepestSnowCM  = 1182
	coolestSummerC = 12 // below it the warmest hundredth of days of a whole year leaves no crop to grow: a judgement
)

// limits gives the lowest and highest value a quantity can have.
func (q quantity) limits() (low, high float64) {
	switch q {
	case rain:
		return 0, wettestEverMM
	case snowDepth:
		return 0, deepestSnowCM
	}
	return coldestEverC, hottestEverC
}

// sentinel says whether a number stands for no value. Where a value of that
// size can be right in the unit, it is a value.
func sentinel(q quantity, unit string, x float64) bool {
	fine := unit == "0.1 mm" || unit == "mm" && q == snowDepth // 999 is 99.9 mm of rain or 99.9 cm of snow
	switch {
	case slices.Contains([]float64{9999, 9999.9, 99999, 99999.9}, math.Abs(x)), x == -999, x == -999.9, x == -99.9:
		return true
	case x == 999, x == 999.9:
		return !fine
	case x == -99:
		return unit != "0.1 °C"
	case x == 99.9:
		return unit == "°C"
	case x == 99.99:
		return unit == "in"
	}
	return false
}

// assignValues turns what is written into °C, mm and cm. Sentinels become
// missing, one finding for each kind. Where the temperatures as a whole cannot
// be right in their unit one fault says so with the likely unit; else each value
// beyond what weather can do is a fault of its own.
func (r *reader) assignValues() {
	type kind struct {
		q quantity
		x float64
	}
	first, count := map[kind]entry{}, map[kind]int{}
	var order []kind
	for i := range r.entries {
		e := &r.entries[i]
		for q := range quantities {
			c := &e.cells[q]
			x := c.number.Value
			if c.line == 0 || !c.number.Known {
				continue
			}
			trace := x == -1 && q == rain && r.units[q] == "0.1 mm" // KNMI: below 0.05 mm
			if trace || sentinel(q, r.units[q], x) {
				if trace {
					c.value = 0
				}
				k := kind{q, x}
				if count[k]++; count[k] == 1 {
					first[k] = *e
					order = append(order, k)
				}
				continue
			}
			c.value, _ = Convert(x, r.units[q], q.target())
		}
	}
	for _, k := range order {
		what, treated := "stands for no value", "missing"
		if first[k].cells[k.q].value == 0 {
			what, treated = "stands for less than can be measured", "0"
		}
		c := first[k].cells[k.q]
		r.note(c.line, first[k].isoDate(), r.columns[k.q], c.number.Text, table.Note, treated, "",
			"%s in %s %s and is taken as %s (%s)", table.Quote(c.number.Text), r.columns[k.q], what, treated, counted(count[k], "cell"))
	}
	if all := r.temperatures(); !r.unitCannotBe(all) {
		r.refuseImpossible(all)
	}
}

// counted gives "1 cell" or "12 cells".
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (e entry) isoDate() string {
	if !e.dated {
		return ""
	}
	return e.date.String()
}

// refuseImpossible refuses every value that no weather can bring.
func (r *reader) refuseImpossible(all temperatures) {
	for i := range r.entries {
		e := &r.entries[i]
		for q := range quantities {
			c := &e.cells[q]
			if low, high := q.limits(); c.value < low || c.value > high {
				hint := "correct the cell or leave it blank"
				if likely := all.likelyUnit(r.units[min(q, maximum)]); q <= maximum && likely != "" {
					hint += "; if the whole column is in " + unitInWords(likely) + ", " + r.sayUnit(q, likely)
				}
				r.note(c.line, e.isoDate(), r.columns[q], c.number.Text, table.Fault, "refused", hint,
					"%s %s %s cannot be: it is outside %g to %g %s", r.columns[q], c.number.Text, r.units[q], low, high, q.target())
				c.value = math.NaN()
			}
		}
	}
}

// temperatures is what the whole file says about its unit.
type temperatures struct {
	raw       []float64 // as written, both extremes
	maxima    []float64 // °C, of days with a date
	ranges    []float64 // maximum less minimum as written
	months    [13]bool  // that have a maximum
	fractions int       // of raw with decimals
	beyond    int       // of raw outside what weather can do
	worst     cell      // the furthest of those
	worstOf   quantity
	worstDate string
}

func (r *reader) temperatures() (all temperatures) {
	n := len(r.entries)
	all.raw, all.maxima, all.ranges = make([]float64, 0, 2*n), make([]float64, 0, n), make([]float64, 0, n)
	for i := range r.entries {
		e := &r.entries[i]
		for q := minimum; q <= maximum; q++ {
			c := &e.cells[q]
			if math.IsNaN(c.value) {
				continue
			}
			all.raw = append(all.raw, c.number.Value)
			if c.number.Value != math.Trunc(c.number.Value) {
				all.fractions++
			}
			if c.value < coldestEverC || c.value > hottestEverC {
				if all.beyond++; all.beyond == 1 || math.Abs(c.value) > math.Abs(all.worst.value) {
					all.worst, all.worstOf, all.worstDate = *c, q, e.isoDate()
				}
			}
		}
		if low, high := &e.cells[minimum], &e.cells[maximum]; !math.IsNaN(low.value) && !math.IsNaN(high.value) {
			all.ranges = append(all.ranges, high.number.Value-low.number.Value)
		}
		if x := e.cells[maximum].value; !math.IsNaN(x) && e.dated {
			all.maxima = append(all.maxima, x)
			_, month, _ := e.date.YMD()
			all.months[month] = true
		}
	}
	return all
}

// unitCannotBe decides on the file as a whole whether its temperatures can be
// in the unit in which they are read, and adds the fault where they cannot.
func (r *reader) unitCannotBe(all temperatures) bool {
	fault := func(hint, format string, args ...any) bool {
		r.note(r.s.HeaderLine(), "", r.columns[maximum], "", table.Fault, "refused", hint, format, args...)
		return true
	}
	switch {
	case all.unitNotSlips():
		unit, column := r.units[all.worstOf], r.columns[all.worstOf]
		hint := "look up the file's unit and put it into the header, such as " + fieldOf[all.worstOf] + " (°C)"
		if likely := all.likelyUnit(unit); likely != "" {
			hint = "the values look like " + unitInWords(likely) + ": " + r.sayUnit(all.worstOf, likely)
		}
		r.note(all.worst.line, all.worstDate, column, all.worst.number.Text, table.Fault, "refused", hint,
			"%s %s cannot be in %s: %d of %d temperatures in the file are outside %g to %g °C", column, all.worst.number.Text, unit,
			all.beyond, len(all.raw), coldestEverC, hottestEverC)
		return true
	case r.units[maximum] == "0.1 °C" && 10*all.fractions > len(all.raw):
		return fault("the values look like whole degrees: add --units metric or --units us",
			"%d of %d temperatures have decimals, so they cannot be tenths of °C", all.fractions, len(all.raw))
	case all.wholeYear():
		slices.Sort(all.maxima)
		if warm := all.maxima[len(all.maxima)*99/100]; warm < coolestSummerC {
			return fault("check the unit, in the header or by --units metric, us or tenths",
				"read in %s, only one day in a hundred is warmer than %.1f °C", r.units[maximum], warm)
		}
	}
	return false
}

// unitNotSlips says whether so many temperatures cannot be that the unit is
// wrong: more than one in twenty; of a few days more than every other day.
func (all temperatures) unitNotSlips() bool {
	const fewDays, slips = 10, 3
	if len(all.maxima) < fewDays && 2*all.beyond > len(all.maxima) && all.beyond > 0 {
		return true
	}
	return all.beyond >= slips && 20*all.beyond > len(all.raw)
}

// wholeYear says whether every month is there, and most of a year's days.
func (all temperatures) wholeYear() bool {
	const mostDays = 300
	for m := time.January; m <= time.December; m++ {
		if !all.months[m] {
			return false
		}
	}
	return len(all.maxima) >= mostDays
}

// likelyUnit guesses the unit in which temperatures that cannot be in the unit
// read would be right; "" where none would. It looks at all but the most extreme
// hundredth. Where both °F and tenths of °C would do, the range of the days
// decides: their median is 3.8 °C or more in most climates, and 38 °F in none.
func (all temperatures) likelyUnit(read string) string {
	const widestF = 38
	sorted := slices.Sorted(slices.Values(all.raw))
	if len(sorted) == 0 {
		return ""
	}
	low, high := sorted[len(sorted)/100], sorted[(len(sorted)-1)*99/100]
	units := []string{"K", "°F", "0.1 °C", "°C"}
	if n := len(all.ranges); n > 0 && slices.Sorted(slices.Values(all.ranges))[n/2] >= widestF {
		units = []string{"K", "0.1 °C", "°F", "°C"}
	}
	for _, unit := range units {
		if unit == "0.1 °C" && all.fractions > 0 {
			continue
		}
		lowC, _ := Convert(low, unit, "°C")
		highC, _ := Convert(high, unit, "°C")
		if unit != read && lowC >= coldestEverC && highC <= hottestEverC {
			return unit
		}
	}
	return ""
}

func unitInWords(symbol string) string { return strings.Replace(symbol, "0.1 ", "tenths of ", 1) }

// sayUnit tells how to say that a column is in a unit.
func (r *reader) sayUnit(q quantity, unit string) string {
	header := fmt.Sprintf("put the unit into the header, such as %s (%s)", fieldOf[q], unit)
	word := map[string]string{"°F": "us", "0.1 °C": "tenths", "°C": "metric"}[unit]
	if column, _ := r.s.Column(fieldOf[q]); word == "" || column.Unit != "" {
		return header
	}
	return "add --units " + word + " or " + header
}
