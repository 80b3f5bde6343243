package weather

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestSeverities(t *testing.T) {
	var counts []WinterCount
	for year, complete := range []bool{true, true, false, true, true} {
		counts = append(counts, WinterCount{Winter: WinterYear{Year: 2000 + year}, Complete: complete})
	}
	event := func(year int, degreeHours, canopyC float64) Event {
		return Event{Winter: WinterYear{Year: 2000 + year}, FreezingDegreeHours: degreeHours, MinCanopyC: canopyC}
	}
	all := Severities(counts, []Event{event(0, 4, -3), event(0, 6, -5), event(0, 1, -4), event(2, 99, -20), event(3, 12, -2), event(4, 11, -2), event(7, 50, -9)})
	var ranks, numbers []int
	for _, s := range all {
		ranks, numbers = append(ranks, s.Rank), append(numbers, s.Events)
	}
	if diff := cmp.Diff([]int{2, 4, 0, 1, 2}, ranks); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]int{3, 0, 1, 1, 1}, numbers); diff != "" {
		t.Error(diff)
	}
	if s := all[0]; s.FreezingDegreeHours != 11 || s.MinCanopyC != -5 || s.First.MinCanopyC != -3 || s.Last.MinCanopyC != -4 {
		t.Errorf("%+v", s)
	}
	if all[1].MinCanopyC == all[1].MinCanopyC {
		t.Error("a coldest canopy without events")
	}
}

func TestBegunBySameDay(t *testing.T) {
	north, south := WinterYear{Year: 2010}, WinterYear{Year: 2010, South: true}
	for _, c := range []struct {
		in      WinterYear
		d, want Date
	}{
		{north, NewDate(2019, 11, 20), NewDate(2010, 11, 20)},
		{north, NewDate(2020, 2, 29), NewDate(2011, 2, 28)},
		{WinterYear{Year: 2011}, NewDate(2020, 2, 29), NewDate(2012, 2, 29)},
		{north, NewDate(2020, 1, 1), NewDate(2011, 1, 1)},
		{south, NewDate(2020, 8, 9), NewDate(2010, 8, 9)},
	} {
		if got := c.in.SameDay(c.d); got != c.want {
			t.Errorf("%s in %s: %s, want %s", c.d, c.in, got, c.want)
		}
	}
	begun := BegunBy([]Event{
		{Winter: north, Number: 1, Start: Hour{NewDate(2010, 11, 20), 23}},
		{Winter: north, Number: 2, Start: Hour{NewDate(2010, 11, 21), 0}},
		{Winter: WinterYear{Year: 2015}, Number: 1, Start: Hour{NewDate(2016, 2, 1), 0}},
	}, NewDate(2019, 11, 20))
	if len(begun) != 1 || begun[0].Number != 1 {
		t.Errorf("%v", begun)
	}
}
