package forecast

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"wintertop/weather"
)

// Decision is what notes are to narrow.
type Decision string

// The decisions.
const (
	ForPick      Decision = "pick"      // whether a row can be left standing, week by week of the window
	ForHardiness Decision = "hardiness" // whether a line is hardier than the check
)

// Advice says which notes to take next at one place.
type Advice struct {
	Place  string // "" where the trial has one place
	Winter weather.WinterYear
	AsOf   weather.Date
	For    Decision
	Take   []NextNote // best first
	Rows   []NextRow  // what is left to learn, in the order of plantings.csv
	walk   []string   // plantings in the order of plantings.csv
}

// What to do about a row.
const (
	StopHere = "stop"      // its notes would hardly change the decision
	ThenStop = "then stop" // as soon as the recommended ones are taken
	Later    = "later"     // there are better ones to take first
)

// NextNote is one note to take. Each gain is over the notes before it in rank.
type NextNote struct {
	Rank     int
	Planting string
	Line     string
	Trait    Trait
	From     weather.Date // on the first day from here on with thawed tops
	Plants   int
	// Gain is by how much the expected loss of deciding wrongly falls: for the
	// pick in shares of winters in which the row stands, for hardiness in °C of
	// the line taken for the hardier. Low and High: with the deviations of plots
	// at the high and at the low end of their range.
	Gain, Low, High float64
	// Doubt of the row's odds in the window, as SD over what its traits may be, or
	// of the line's hardiness in °C, before and after the note.
	Before, After float64
	// First: the row has no note yet and no verdict without one, whatever it is
	// worth.
	First bool
	row   int
}

// NextRow is one row and whether anything is left to be learned of it.
type NextRow struct {
	Planting string // all of the row's
	Plots    int    // how many those are
	Line     string
	Mean     float64 // odds in the window, NaN where no note comes in time; or hardiness, °C
	Doubt    float64 // of it now, SD
	After    float64 // and after the recommended notes
	Left     float64 // gain of all further notes that the winter allows, together
	Advice   string
}

// mostNotes is the longest list of notes: a long walk. Common practice, no
// source.
const mostNotes = 12

// plantsOf lists the numbers of plants from which one is chosen; a note is
// worth the most if enough is as good as nearly all.
var plantsTried = []int{5, 10, 20}

const (
	plantsAtFirst = 10
	nearly        = 0.9
)

// worth is the fall of the expected loss where a decision turns on whether a
// quantity, gap away from where the decision turns, is above or below, and
// notes take away cut of its variance: the unit normal loss integral (Raiffa &
// Schlaifer 1961).
func worth(gap, cut float64) float64 {
	if !(cut > 0) {
		return 0
	}
	sd := math.Sqrt(cut)
	u := math.Abs(gap) / sd
	return sd * (distuv.UnitNormal.Prob(u) - u*distuv.UnitNormal.Survival(u))
}
