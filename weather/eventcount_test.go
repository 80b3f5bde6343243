package weather

import (
	"math"
	"strings"
	"testing"
	"time"
)

// Mean number of events opened and closed from 1 July to 31 January,
// recomputed on the open records by this daily rule with three canopy drops:
// of De Bilt, the default, and of an open windy coast. De Bilt's 17.625 is
// printed as 17.63.
func TestEventsByTheEndOfJanuary(t *testing.T) {
	type figure struct{ base, perDegree, want, tolerance float64 }
	for _, c := range []struct {
		name     string
		record   func(t *testing.T) Record
		lat      float64
		from, to int
		figures  []figure
	}{
		{"De Bilt", func(t *testing.T) Record {
			return record(t, openFile(t, "debilt-daily-2000-2022.csv"), "tmin_c", "tmax_c")
		}, 52.10, 2000, 2015, []figure{{0.30, 0.22, 21.56, 0.005}, {0.19, 0.13, 17.63, 0.005 + 1e-9}}},
		{"Norderney", func(t *testing.T) Record {
			return record(t, openFile(t, "norderney-daily-1947-2020.csv"), "tmin_c", "tmax_c")
		}, 53.71, 1990, 2015, []figure{{0.30, 0.22, 9.23, 0.005}, {0.19, 0.13, 6.96, 0.005}, {0.75, 0, 6.88, 0.005}}},
		{"Seattle", func(t *testing.T) Record {
			return record(t, open(t, "../testdata/seattle-newyork-daily-2012-2015.csv"), "temp_min", "temp_max", "location", "Seattle")
		}, 47.44, 2012, 2014, []figure{{0.30, 0.22, 15.0, 0.05}, {0.19, 0.13, 11.3, 0.05}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := c.record(t)
			for _, f := range c.figures {
				site := Site{LatitudeDeg: c.lat, Params: Standard()}
				site.Params.DropBaseC, site.Params.DropPerDegree = f.base, f.perDegree
				n := 0
				for _, e := range Events(r, site) {
					year := e.Winter.Year
					if year >= c.from && year <= c.to && !e.Open && r.Days[e.CloseDay].Date <= NewDate(year+1, time.January, 31) {
						n++
					}
				}
				near(t, "events by 31 January", float64(n)/float64(c.to-c.from+1), f.want, f.tolerance)
			}
		})
	}
}

// The same figures from the product, over the complete winters of a record cut
// to those years; 1999/00, of which it has the second half, takes no part.
func TestEventsByMidwinter(t *testing.T) {
	deBilt := record(t, openFile(t, "debilt-daily-2000-2022.csv"), "tmin_c", "tmax_c").Upto(NewDate(2016, time.June, 30))
	filled, _ := deBilt.Filled()
	site := Site{LatitudeDeg: 52.10, Params: Standard()}
	mean, winters := EventsByMidwinter(filled, site)
	near(t, "De Bilt, default drop", mean, 17.63, 0.005+1e-9)
	if winters != 16 {
		t.Errorf("%d winters, want 2000/01 to 2015/16", winters)
	}
	if mean, winters := EventsByMidwinter(Record{Days: filled.Slice(filled.First(), filled.First()+100)}, site); !math.IsNaN(mean) || winters != 0 {
		t.Errorf("mean %v of %d winters in a hundred days", mean, winters)
	}
	if mean, winters := EventsByMidwinter(Record{}, site); !math.IsNaN(mean) || winters != 0 {
		t.Errorf("mean %v of %d winters of an empty record", mean, winters)
	}
}

// In the south the winter is the calendar year and the count ends with July.
func TestEventsByMidwinterInTheSouth(t *testing.T) {
	r := Record{}
	for d := NewDate(2013, time.January, 1); d <= NewDate(2014, time.December, 31); d++ {
		r.Days = append(r.Days, Day{Date: d, MinC: 4, MaxC: 9})
	}
	freeze := func(year int, month time.Month, day int) {
		r.Days[NewDate(year, month, day)-r.First()].MinC = -3
	}
	freeze(2013, time.January, 1)
	freeze(2013, time.July, 31)
	freeze(2013, time.August, 1)
	freeze(2014, time.June, 5)
	r.Days[len(r.Days)-1].MinC, r.Days[len(r.Days)-1].MaxC = -5, -1 // open at the end
	site := still()
	site.LatitudeDeg = -40
	mean, winters := EventsByMidwinter(r, site)
	near(t, "events by 31 July", mean, 1.5, 0)
	if winters != 2 {
		t.Errorf("%d winters", winters)
	}
	site.LatitudeDeg = 40
	mean, winters = EventsByMidwinter(r, site)
	near(t, "events from 1 July to 31 January", mean, 2, 0)
	if winters != 1 {
		t.Errorf("%d winters in the north", winters)
	}
}

// The rows of events.csv, with a blank end and thaw peak while open.
func TestEventsTable(t *testing.T) {
	first := NewDate(2012, time.December, 1)
	events := Events(Record{Days: daysOf(first, [2]float64{2, 8}, [2]float64{-4, 6}, [2]float64{-3, 0})}, still())
	var out strings.Builder
	if err := EventsTable(events).CSV(&out); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(out.String(), "\r", "")), "\n")
	want := "winter,event,start,end,nights,hours_frozen,min_screen_c,min_canopy_c,freezing_degree_hours,thaw_peak_c,open"
	if len(lines) != 3 || lines[0] != want {
		t.Fatalf("events.csv:\n%s", out.String())
	}
	closed, open := strings.Split(lines[1], ","), strings.Split(lines[2], ",")
	if got := strings.Join([]string{closed[0], closed[1], closed[4], closed[6], closed[9], closed[10]}, " "); got != "2012/13 1 1 -4.0 6.0 no" {
		t.Errorf("closed event: %s", lines[1])
	}
	if open[3] != "" || open[9] != "" || open[10] != "yes" || open[1] != "2" {
		t.Errorf("open event: %s", lines[2])
	}
}
