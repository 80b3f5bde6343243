package forecast

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"wintertop/weather/table"
)

// quantity is what a number in a trial file measures; it decides which units
// are understood and which range is possible.
type quantity struct {
	words    string // for messages
	units    map[string]scale
	low, top float64
}

// scale turns a value in some unit into ours: value*factor + shift.
type scale struct{ factor, shift float64 }

var (
	unitsLength = map[string]scale{"": {1, 0}, "cm": {1, 0}, "mm": {0.1, 0}, "m": {100, 0}, "in": {2.54, 0}, "inch": {2.54, 0}, "inches": {2.54, 0}}
	unitsMass   = map[string]scale{"": {1, 0}, "g": {1, 0}, "gram": {1, 0}, "grams": {1, 0}, "kg": {1000, 0}, "mg": {0.001, 0}, "oz": {28.349523125, 0}}
	unitsShare  = map[string]scale{"": {1, 0}, "1": {1, 0}, "share": {1, 0}, "%": {0.01, 0}, "percent": {0.01, 0}}
	unitsCount  = map[string]scale{"": {1, 0}, "1": {1, 0}, "leaves": {1, 0}}
	unitsTemp   = map[string]scale{"": {1, 0}, "°c": {1, 0}, "c": {1, 0}, "degc": {1, 0}, "°f": {5. / 9, -160. / 9}, "f": {5. / 9, -160. / 9}, "degf": {5. / 9, -160. / 9}}
	unitsDiff   = map[string]scale{"": {1, 0}, "°c": {1, 0}, "c": {1, 0}, "degc": {1, 0}, "k": {1, 0}, "°f": {5. / 9, 0}, "f": {5. / 9, 0}, "degf": {5. / 9, 0}}
	unitsAngle  = map[string]scale{"": {1, 0}, "deg": {1, 0}, "°": {1, 0}, "degrees": {1, 0}}
	unitsYield  = map[string]scale{"": {1, 0}, "kg": {1, 0}, "kg/m2": {1, 0}, "kg/m²": {1, 0}, "g": {0.001, 0}, "g/m2": {0.001, 0}, "g/m²": {0.001, 0}, "t/ha": {0.1, 0}}
	unitsArea   = map[string]scale{"": {1, 0}, "m2": {1, 0}, "m²": {1, 0}, "ha": {1e4, 0}, "acre": {4046.8564224, 0}, "acres": {4046.8564224, 0}}
	unitsDays   = map[string]scale{"": {1, 0}, "d": {1, 0}, "day": {1, 0}, "days": {1, 0}}
	unitsNone   = map[string]scale{"": {1, 0}, "1": {1, 0}}
)

// yieldPerM2 is the yield of site.csv and of lines.csv.
var yieldPerM2 = quantity{"a yield per m²", unitsYield, 0.1, 30}

// convert gives value in our unit, or a fault with its hint: a unit we do not
// know, or a value out of the quantity's range.
func (q quantity) convert(value float64, unit string) (ours float64, what, hint string) {
	s, known := q.units[strings.ToLower(strings.TrimSpace(unit))]
	if !known {
		names := slices.DeleteFunc(slices.Sorted(maps.Keys(q.units)), func(n string) bool { return n == "" })
		what = fmt.Sprintf("unit %q is not known for %s", unit, q.words)
		if near, ok := table.Nearest(strings.ToLower(unit), names); ok {
			return 0, what, fmt.Sprintf("did you mean %q? known: %s", near, strings.Join(names, ", "))
		}
		return 0, what, "known: " + strings.Join(names, ", ")
	}
	ours = value*s.factor + s.shift
	if ours < q.low || ours > q.top {
		what = fmt.Sprintf("%s of %g %s is out of range", q.words, value, unit)
		hint = fmt.Sprintf("it must lie between %g and %g", q.low, q.top)
		if unit == "" && value > 1 && value <= 100 && q.top == 1 {
			hint += "; write the unit % for percent"
		}
		return 0, strings.Replace(what, "  is", " is", 1), hint
	}
	return ours, "", ""
}
