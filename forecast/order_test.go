package forecast

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"wintertop/weather"
)

// openFields is a trial at an open station: lines whose traits are known, sown
// on fields of different size.
func openFields(t testing.TB, station, latitude string, areaPerDay float64, areas ...float64) fstest.MapFS {
	t.Helper()
	folder := os.Getenv("OPEN_DATA")
	if folder == "" {
		t.Skip("OPEN_DATA is not set: it names the folder with " + station)
	}
	text, err := os.ReadFile(filepath.Join(folder, station))
	if err != nil {
		t.Fatal(err)
	}
	lines := "line,top_size,top_size_sd,top_length_cm,top_length_cm_sd,hardiness_c,hardiness_c_sd\n"
	plantings := "planting,line,sown,plants_per_m2,area_m2,hilled_cm\n"
	for i, area := range areas {
		// The small fields carry the soft lines.
		lines += fmt.Sprintf("L%d,%.2f,0.1,%.0f,2,%.1f,0.5\n", i, 0.9+0.15*float64(i), 38+1.5*float64(i), -8.2-0.5*float64(i))
		plantings += fmt.Sprintf("P%d,L%d,YEAR-07-05,80,%g,5\n", i, i, area)
	}
	return fstest.MapFS{
		"station.csv":   {Data: text},
		"site.csv":      {Data: []byte(fmt.Sprintf("item,value,unit\nlatitude,%s,deg\ncoast,yes,\narea_per_day,%g,m2\ncrew_days_per_week,5,\n", latitude, areaPerDay))},
		"lines.csv":     {Data: []byte(lines)},
		"plantings.csv": {Data: []byte(plantings)},
	}
}

func orderAt(t testing.TB, fsys fstest.MapFS, asOf string) *Order {
	t.Helper()
	p := fsys["plantings.csv"]
	fsys["plantings.csv"] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(string(p.Data), "YEAR", asOf[:4]))}
	trial := loadAsOf(t, fsys, asOf)
	goal := goalOf(t, asOf)
	goal.Want = WantPicks | WantOrder
	looks, _, err := Look(context.Background(), trial, learn(t, trial), goal)
	if err != nil {
		t.Fatal(err)
	}
	return looks[0].Order
}

func TestX(t *testing.T) {
	for _, s := range []struct{ file, lat, year string }{{"norderney-daily-1947-2020.csv", "53.71", "2019"}, {"debilt-daily-2000-2022.csv", "52.1", "2020"}} {
		for _, md := range []string{"-10-05", "-10-25", "-11-20"} {
			for _, per := range []float64{800, 400, 200} {
				o := orderAt(t, openFields(t, s.file, s.lat, per, 300, 800, 400, 200, 600, 900), s.year+md)
				fmt.Printf("%.6s %s per %.0f: week %.1f fit %d, brute %.1f |", s.file, md, per, o.WeekFitDays, len(o.FitDays), bruteBest)
				for _, r := range o.Rules {
					fmt.Printf(" %.9s %.1f", r.Rule, r.LostM2)
				}
				fmt.Println()
			}
		}
	}
}

var _ = weather.Date(0)
var bruteBest float64

func init() {
	Dbg = func(c *crew, from int) {
		n := len(c.lots)
		order := make([]int, n)
		for i := range order {
			order[i] = i
		}
		best := 1e18
		var rec func(k int)
		rec = func(k int) {
			if k == n {
				if l := c.play(order, from).lost(); l < best {
					best = l
				}
				return
			}
			for i := k; i < n; i++ {
				order[k], order[i] = order[i], order[k]
				rec(k + 1)
				order[k], order[i] = order[i], order[k]
			}
		}
		rec(0)
		bruteBest = best
	}
}
