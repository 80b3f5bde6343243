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
				k := kind{q, x}
				if count[k]++; count[k] == 1 {
					first[k] = *e
					order = append(order, k)
				}
				if trace {
					c.value = 0
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
	if !r.unitCannotBe() {
		r.refuseImpossible()
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
func (r *reader) refuseImpossible() {
	for i := range r.entries {
		e := &r.entries[i]
		for q := range quantities {
			c := &e.cells[q]
			if low, high := q.limits(); c.value < low || c.value > high {
				hint := "correct the cell or leave it blank"
				if likely := likelyUnit([]float64{c.number.Value}, r.units[q]); q <= maximum && likely != "" {
					hint += "; if the whole column is in " + unitInWords(likely) + ", " + r.sayUnit(q, likely)
				}
				r.note(c.line, e.isoDate(), r.columns[q], c.number.Text, table.Fault, "refused", hint,
					"%s %s %s cannot be: it is outside %g to %g %s", r.columns[q], c.number.Text, r.units[q], low, high, q.target())
				c.value = math.NaN()
			}
		}
	}
}

// unitCannotBe decides on the file as a whole whether its temperatures can be
// in the unit in which they are read, and adds the fault where they cannot.
func (r *reader) unitCannotBe() bool {
	var raw, maxima []float64
	var worst *cell
	var worstOf quantity
	var worstDate string
	beyond, fractions := 0, 0
	var months [13]bool
	for i := range r.entries {
		e := &r.entries[i]
		for q := minimum; q <= maximum; q++ {
			c := &e.cells[q]
			if math.IsNaN(c.value) {
				continue
			}
			raw = append(raw, c.number.Value)
			if c.number.Value != math.Trunc(c.number.Value) {
				fractions++
			}
			if c.value < coldestEverC || c.value > hottestEverC {
				beyond++
				if worst == nil || math.Abs(c.value) > math.Abs(worst.value) {
					worst, worstOf, worstDate = c, q, e.isoDate()
				}
			}
		}
		if x := e.cells[maximum].value; !math.IsNaN(x) && e.dated {
			maxima = append(maxima, x)
			_, month, _ := e.date.YMD()
			months[month] = true
		}
	}
	few := beyond < 3 || 20*beyond <= len(raw) // single slips of the pen, not a unit
	if beyond > 0 && (!few || 2*beyond > len(maxima) && len(raw) < 20) {
		unit := r.units[worstOf]
		hint := "look up the file's unit and put it into the header, such as " + fieldOf[worstOf] + " (°C)"
		if likely := likelyUnit(raw, unit); likely != "" {
			hint = "the values look like " + unitInWords(likely) + ": " + r.sayUnit(worstOf, likely)
		}
		r.note(worst.line, worstDate, r.columns[worstOf], worst.number.Text, table.Fault, "refused", hint,
			"%s %s cannot be in %s: %d of %d temperatures in the file are outside %g to %g °C", r.columns[worstOf], worst.number.Text, unit,
			beyond, len(raw), coldestEverC, hottestEverC)
		return true
	}
	refuse := func(hint, format string, args ...any) bool {
		r.note(r.s.HeaderLine(), "", r.columns[maximum], "", table.Fault, "refused", hint, format, args...)
		return true
	}
	if r.units[maximum] == "0.1 °C" && 10*fractions > len(raw) {
		return refuse("the values look like whole degrees: add --units metric or --units us",
			"%d of %d temperatures have decimals, so they cannot be tenths of °C", fractions, len(raw))
	}
	wholeYear := len(maxima) >= 300
	for m := time.January; m <= time.December; m++ {
		wholeYear = wholeYear && months[m]
	}
	if wholeYear {
		slices.Sort(maxima)
		if warm := maxima[len(maxima)*99/100]; warm < coolestSummerC {
			return refuse("check the unit, in the header or by --units metric, us or tenths",
				"read in %s, only one day in a hundred is warmer than %.1f °C", r.units[maximum], warm)
		}
	}
	return false
}

// likelyUnit guesses the unit in which temperatures that cannot be in the unit
// read would be right; "" where none would. It looks at all but the most extreme
// hundredth.
func likelyUnit(raw []float64, read string) string {
	sorted := slices.Sorted(slices.Values(raw))
	low, high := sorted[len(sorted)/100], sorted[(len(sorted)-1)*99/100]
	for _, unit := range []string{"K", "°F", "0.1 °C", "°C"} {
		lowC, _ := Convert(low, unit, "°C")
		highC, _ := Convert(high, unit, "°C")
		if unit != read && lowC >= coldestEverC && highC <= hottestEverC && (unit != "K" || low > 180) {
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
