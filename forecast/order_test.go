package forecast

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// openFields is a trial at an open station: lines of known traits, the soft
// ones short of leaf, on fields of mixed size.
func openFields(t testing.TB, station, since, head string, perDayM2 float64) fstest.MapFS {
	t.Helper()
	folder := os.Getenv("OPEN_DATA")
	if folder == "" {
		t.Skip("OPEN_DATA is not set: it names the folder with " + station)
	}
	text, err := os.ReadFile(filepath.Join(folder, station))
	if err != nil {
		t.Fatal(err)
	}
	var rows strings.Builder
	for i, row := range strings.SplitAfter(string(text), "\n") {
		if i == 0 || row >= since {
			rows.WriteString(row)
		}
	}
	lines := "line,top_size,top_size_sd,top_length_cm,top_length_cm_sd,hardiness_c,hardiness_c_sd\n"
	plantings := "planting,line,sown,plants_per_m2,area_m2,hilled_cm\n"
	for i, areaM2 := range []float64{300, 800, 400, 200, 600, 900} {
		lines += fmt.Sprintf("L%d,%.2f,0.1,%.1f,2,%.1f,0.5\n", i, 0.9+0.15*float64(i), 38+1.5*float64(i), -8.2-0.5*float64(i))
		plantings += fmt.Sprintf("P%d,L%d,%s-07-05,80,%g,5\n", i, i, head[:4], areaM2)
	}
	return fstest.MapFS{
		"station.csv": {Data: []byte(rows.String())}, "lines.csv": {Data: []byte(lines)}, "plantings.csv": {Data: []byte(plantings)},
		"site.csv": {Data: []byte(fmt.Sprintf("item,value,unit\ncoast,yes,\narea_per_day,%g,m2\n%s\n", perDayM2, head[5:]))},
	}
}

func orderAt(t testing.TB, fsys fstest.MapFS, asOf string) *Order {
	t.Helper()
	trial := loadAsOf(t, fsys, asOf)
	goal := goalOf(t, asOf)
	goal.Want = WantPicks | WantOrder
	looks, _, err := Look(context.Background(), trial, learn(t, trial), goal)
	if err != nil {
		t.Fatal(err)
	}
	return looks[0].Order
}

// lostBy gives what a rule loses.
func (o *Order) lostBy(rule Rule) float64 {
	i := slices.IndexFunc(o.Rules, func(r RuleResult) bool { return r.Rule == rule })
	return o.Rules[i].LostM2
}

// On open winters, with a crew that cannot be everywhere, the recommended order
// loses less than the largest field or the best top first, and as little as the
// best of all orders. Made on every other winter it still does so on the rest.
func TestOrderLosesLeast(t *testing.T) {
	for _, c := range []struct {
		station, since, head, asOf string
		perDayM2                   []float64
	}{
		{"norderney-daily-1947-2020.csv", "2007-07-01", "2019 latitude,53.71,deg", "2019-10-05", []float64{400, 200, 800}},
		{"debilt-daily-2000-2022.csv", "2009-07-01", "2020 latitude,52.1,deg", "2020-10-05", []float64{200, 400, 100}},
	} {
		if long() {
			c.since = ""
		} else {
			c.perDayM2 = c.perDayM2[:1]
		}
		for _, perDayM2 := range c.perDayM2 {
			o := orderAt(t, openFields(t, c.station, c.since, c.head, perDayM2), c.asOf)
			best := slices.IndexFunc(o.Rules, func(r RuleResult) bool { return r.Recommended })
			lost, largest, top := o.Rules[best].LostM2, o.lostBy(LargestFirst), o.lostBy(BestTopFirst)
			least := everyOrder(o.crew, 0)
			t.Logf("%s, %d winters, %.0f m² a day of %.0f: %.1f m² lost (all orders: %.1f; earliest %.1f; largest %.1f; best top %.1f)",
				c.station, o.Traces, perDayM2, o.AreaM2, lost, least, o.lostBy(EarliestFirst), largest, top)
			atOnce := 0.0
			for _, l := range o.crew.lots {
				for _, days := range l.yield {
					atOnce += l.areaM2 * (1 - days[0]) / float64(len(l.yield))
				}
			}
			if lost < 1.1*atOnce {
				t.Errorf("%s: %.1f m² lost, %.1f were all lifted at once: the capacity does not bind", c.station, lost, atOnce)
			}
			if !(lost < largest && lost < top) {
				t.Errorf("%s: %.1f m² lost, largest field first %.1f, best top first %.1f", c.station, lost, largest, top)
			}
			if lost > 1.002*least {
				t.Errorf("%s: %.1f m² lost, %.1f by the best of all orders", c.station, lost, least)
			}
			o.leftOut(t, c.station)
		}
	}
}

// leftOut makes the order on every other winter and judges it on the rest.
func (o *Order) leftOut(t *testing.T, station string) {
	t.Helper()
	var halves [2]*crew
	for h := range halves {
		part := *o.crew
		part.fit, part.lots = nil, nil
		for k := h; k < len(o.crew.fit); k += 2 {
			part.fit = append(part.fit, o.crew.fit[k])
		}
		for _, l := range o.crew.lots {
			one := lot{areaM2: l.areaM2}
			for k := h; k < len(l.yield); k += 2 {
				one.yield = append(one.yield, l.yield[k])
			}
			part.lots = append(part.lots, one)
		}
		halves[h] = &part
	}
	lost, largest, top := 0.0, 0.0, 0.0
	for h, made := range halves {
		judged := halves[1-h]
		order, _ := made.move(o.by(EarliestFirst, made, 0), 0)
		lost += judged.play(order, 0).lost() / 2
		largest += judged.play(o.by(LargestFirst, made, 0), 0).lost() / 2
		top += judged.play(o.by(BestTopFirst, made, 0), 0).lost() / 2
	}
	t.Logf("%s, winters left out: %.1f m² lost (largest %.1f, best top %.1f)", station, lost, largest, top)
	if !(lost < largest && lost < top) {
		t.Errorf("%s, winters left out: %.1f m² lost, largest field first %.1f, best top first %.1f", station, lost, largest, top)
	}
}

// Where rain, the crew's day or an area is not known there is no schedule, only
// last safe dates, and it says why; nothing that stands no more is in the order.
func TestOrderWithoutSchedule(t *testing.T) {
	const perDay = siteCSV + "area_per_day,100,m2\n"
	areas := strings.NewReplacer("last_cultivated\n", "last_cultivated,area_m2\n", "09-10\n", "09-10,60\n").Replace(plantingsCSV)
	for _, c := range []struct{ site, plantings, station, want string }{
		{siteCSV, areas, "", "lacks area_per_day"},
		{perDay, areas, "rain", "the record has no rain"},
		{perDay, plantingsCSV, "", "gives no area (area_m2)"},
		{perDay, strings.Replace(areas, "plain14,plain,,2014-07-05,80,2014-09-10,60", "plain14,plain,,2014-07-05,80,2014-09-10,", 1), "", "gives no area of plain14"},
		{perDay, strings.Replace(areas, "plain14,plain,,2014-07-05,80,2014-09-10,60", "plain14,plain,,2014-07-05,80,2014-09-10,0", 1), "", ""},
		{perDay, strings.ReplaceAll(areas, "09-10,60", "09-10,0"), "rain", ""},
	} {
		fsys := with(t, "site.csv", c.site)
		fsys["plantings.csv"] = &fstest.MapFile{Data: []byte(c.plantings)}
		if c.station != "" {
			fsys["station.csv"] = &fstest.MapFile{Data: []byte(strings.Replace(seattle(t), "date,rain", "date,gauge", 1))}
		}
		o := orderAt(t, fsys, "2015-02-10")
		if !strings.Contains(o.NoSchedule, c.want) || (c.want == "") != (o.NoSchedule == "") {
			t.Errorf("no schedule as %q, want %q", o.NoSchedule, c.want)
		}
		rows := 3
		if c.want == "" {
			rows = 2
		}
		if c.want == "" && c.station != "" { // nothing stands, and so nothing lacks
			rows = 0
		}
		if len(o.Rows) != rows {
			t.Errorf("%q: %d rows, want %d", c.want, len(o.Rows), rows)
		}
		if (len(o.Rules) > 0) != (c.want == "" && rows > 0) || (len(o.FitDays) > 0) != (c.station == "") {
			t.Errorf("%q: %d rules, %d fit days", c.want, len(o.Rules), len(o.FitDays))
		}
		for _, r := range o.Rows {
			if c.want != "" && (r.ShareLost == r.ShareLost || r.InTime == r.InTime || r.HasDoneBy) {
				t.Errorf("%q: %s has a schedule", c.want, r.Planting)
			}
			if r.HasHold && r.LastSafe != r.HoldsUntil {
				t.Errorf("%s is safe to %s, holds until %s", r.Planting, r.LastSafe, r.HoldsUntil)
			}
		}
	}
}
