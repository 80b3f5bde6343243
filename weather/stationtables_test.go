package weather

import (
	"math"
	"strings"
	"testing"

	"wintertop/weather/table"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// recordOf draws a record with gaps as Read gives it: values with one decimal,
// the last day observed.
func recordOf(t *rapid.T) Record {
	tenths := func(low, high int, label string) float64 {
		return float64(rapid.IntRange(low, high).Draw(t, label)) / 10
	}
	r := Record{File: "clean.csv"}
	first := Date(rapid.IntRange(-80000, 60000).Draw(t, "first"))
	n := rapid.IntRange(1, 40).Draw(t, "days")
	for i := range n {
		low := tenths(-300, 200, "min")
		d := Day{Date: first + Date(i), MinC: low, MaxC: math.Round(10*low+10*tenths(0, 200, "range")) / 10, RainMM: math.NaN(), SnowCM: math.NaN()}
		if i < n-1 && rapid.IntRange(0, 2).Draw(t, "missing") == 0 {
			d.MinC, d.MaxC, d.State = math.NaN(), math.NaN(), Missing
		}
		if rapid.Bool().Draw(t, "rain") {
			d.RainMM, r.HasRain = tenths(0, 500, "mm"), true
		}
		if rapid.Bool().Draw(t, "snow") {
			d.SnowCM, r.HasSnow = tenths(0, 500, "cm"), true
		}
		r.Days = append(r.Days, d)
	}
	return r
}

func TestCleanTableReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := recordOf(t)
		filled, _ := r.Filled()
		var b strings.Builder
		if err := CleanTable(filled).CSV(&b); err != nil {
			t.Fatal(err)
		}
		back, _, err := Read(strings.NewReader(b.String()), "clean.csv", Reading{})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(r, back, cmpopts.EquateNaNs()); diff != "" {
			t.Fatal(diff)
		}
	})
}

func TestCleanTable(t *testing.T) {
	r := mustRead(t, "date,tmin_f,tmax_f,rain_in\n2012-01-01,28,40,0.1\n2012-01-02,,,\n2012-01-03,32,41,\n", Reading{})
	filled, _ := r.Filled()
	want := "date,tmin_c,tmax_c,rain_mm,snow_depth_cm,state\r\n" +
		"2012-01-01,-2.22,4.44,2.54,,observed\r\n2012-01-02,-1.11,4.72,,,filled\r\n2012-01-03,0.00,5.00,,,observed\r\n"
	if diff := cmp.Diff(want, rendering(t, CleanTable(filled))); diff != "" {
		t.Error(diff)
	}
}

func TestFindingsTable(t *testing.T) {
	want := "file,file_line,date,column,value,finding,treated_as\r\ns.csv,3,2012-01-02,tmin,9,odd,missing\r\ns.csv,,,,,gone,\r\n"
	got := rendering(t, FindingsTable(table.Findings{
		{File: "s.csv", Line: 3, Date: "2012-01-02", Column: "tmin", Value: "9", What: "odd", TreatedAs: "missing"}, {File: "s.csv", What: "gone"}}))
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestWintersTable(t *testing.T) {
	counts := []WinterCount{
		{Winter: WinterYear{1999, false}, Days: 366, Missing: 2, FrostDays: 5, IceDays: 1, FreezeThawDays: 4, SevereFreezeThawDays: 3, ColdestC: -7.25, RainMM: 800.04, Complete: true},
		{Winter: WinterYear{2000, false}, Days: 1, Missing: 1, ColdestC: math.NaN(), RainMM: math.NaN()},
	}
	events := []Event{
		{Winter: WinterYear{1999, false}, Number: 1, Start: Hour{NewDate(1999, 11, 3), 22}, MinCanopyC: -2.25, FreezingDegreeHours: 10.5},
		{Winter: WinterYear{1999, false}, Number: 2, Start: Hour{NewDate(2000, 3, 9), 4}, MinCanopyC: -4, FreezingDegreeHours: 3, Open: true},
	}
	want := "winter,days,missing,frost_days,ice_days,freeze_thaw_days,severe_freeze_thaw_days,events,coldest_c,rain_mm,complete," +
		"severity_rank,freezing_degree_hours,min_canopy_c,first_event,last_event\r\n" +
		"1999/00,366,2,5,1,4,3,2,-7.2,800.0,yes,1,13.5,-4.0,1999-11-03,2000-03-09\r\n2000/01,1,1,0,0,0,0,0,,,no,,0.0,,,\r\n"
	if diff := cmp.Diff(want, rendering(t, WintersTable(counts, events))); diff != "" {
		t.Error(diff)
	}
}
