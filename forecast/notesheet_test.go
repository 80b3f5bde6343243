package forecast

import (
	"math"
	"strings"
	"testing"
)

// The answer never tells to take notes of a line and to stop measuring it, says
// what a first note is for, and that none comes in time.
func TestAnswerOnNotes(t *testing.T) {
	day, nan := day(t, "2024-01-23"), math.NaN()
	note := func(line string, first bool) NextNote {
		return NextNote{Planting: line, Line: line, Trait: LeafMass, From: day, Plants: 10, First: first}
	}
	row := func(line, advice string, mean float64) NextRow {
		return NextRow{Line: line, Advice: advice, Mean: mean}
	}
	for _, c := range []struct {
		of   Advice
		want string
		not  string
	}{
		{Advice{Take: []NextNote{note("A", false)}, Rows: []NextRow{row("A", ThenStop, 0.5), row("A", StopHere, 0.5), row("B", StopHere, 0.5)}}, "stop measuring B,", "measuring A"},
		{Advice{Take: []NextNote{note("A", true)}, Rows: []NextRow{row("A", ThenStop, 0.5)}}, "has no verdict: weigh the leaves of 10 plants of A", "Most is learned"},
		{Advice{Rows: []NextRow{row("A", StopHere, nan)}}, "no note comes in time", "this winter still allows"},
		{Advice{For: ForHardiness, Rows: []NextRow{row("A", StopHere, -9)}}, "change much in which lines are taken to be hardier", "for any line"},
		{Advice{}, "No planting is left", "Stop"},
	} {
		if said := c.of.Answer(); !strings.Contains(said, c.want) || strings.Contains(said, c.not) {
			t.Errorf("said %q, wanted %q and not %q", said, c.want, c.not)
		}
	}
}
