package weather

import (
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
