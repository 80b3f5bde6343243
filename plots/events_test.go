package plots

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wintertop/weather"
)

// hardWinters are four winters with known frost; the last is in progress on
// 20 January.
func hardWinters() Frosts {
	f := Frosts{Winter: weather.WinterYear{Year: 2013}, AsOf: weather.NewDate(2014, 1, 20)}
	add := func(year int, month, day int, hours, canopyC float64) {
		d := weather.NewDate(year, 1, 1)
		for range 400 {
			if _, m, dd := d.YMD(); int(m) == month && dd == day {
				break
			}
			d++
		}
		w := weather.WinterOf(d, false)
		f.Events = append(f.Events, weather.Event{Winter: w, Number: 1, Start: weather.Hour{Date: d, Hour: 4}, End: weather.Hour{Date: d, Hour: 10},
			FreezingDegreeHours: hours, MinCanopyC: canopyC})
	}
	add(2010, 12, 1, 100, -6)
	add(2011, 1, 21, 900, -14) // after the as-of day
	add(2011, 11, 9, 250, -5)
	add(2012, 2, 2, 10, -2.5)
	add(2013, 3, 3, 700, -9)
	add(2013, 12, 5, 120, -4.5)
	for year := 2010; year <= 2013; year++ {
		f.Counts = append(f.Counts, weather.WinterCount{Winter: weather.WinterYear{Year: year}, Complete: year < 2013})
	}
	return f
}

func TestEventsSayWhereTheWinterStands(t *testing.T) {
	f := hardWinters()
	c := Events(f)
	mustDraw(t, c, nil)
	for _, want := range []string{
		"2013/14 up to 20 Jan: 1 freezing event, on 5 Dec, coldest canopy −4.5 °C; 1 of 3 complete winters had more frost",
		"Hardest of all was 2010/11 (2 events), mildest 2011/12 (2 events)",
	} {
		if !strings.Contains(c.Finding, want) {
			t.Errorf("%q lacks %q", c.Finding, want)
		}
	}
	f.Winter = weather.WinterYear{Year: 2012}
	c = Events(f)
	mustDraw(t, c, nil)
	if want := "2012/13: 1 freezing event, on 3 Mar, coldest canopy −9.0 °C; rank 2 of 3 complete winters"; !strings.Contains(c.Finding, want) {
		t.Errorf("%q lacks %q", c.Finding, want)
	}
}

func TestEventsPrintTheWinters(t *testing.T) {
	f := frosts(20, weather.NewDate(2013, 1, 20))
	d := mustDraw(t, Events(f), nil)
	var printed []string
	for _, x := range d.texts {
		printed = append(printed, x.text)
	}
	all := "|" + strings.Join(printed, "|") + "|"
	severities := weather.Severities(f.Counts, f.Events)
	slices.SortFunc(severities, func(a, b weather.Severity) int { return a.Rank - b.Rank })
	at := 0
	for _, s := range severities {
		if s.Rank == 0 {
			continue
		}
		row := "|" + strings.Join([]string{
			strconv.Itoa(s.Rank), s.Winter.String(), number(s.FreezingDegreeHours, 0), strconv.Itoa(s.Events),
			number(s.MinCanopyC, 1), dayMonth(s.First.Start.Date), dayMonth(s.Last.Start.Date),
		}, "|") + "|"
		next := strings.Index(all, row)
		if next < at {
			t.Errorf("%s is not printed, or not in its rank", row)
		}
		at = max(at, next)
	}
}

func TestOddWinters(t *testing.T) {
	south := weather.WinterYear{Year: 2014, South: true}
	for name, f := range map[string]Frosts{
		"no record": {Winter: weather.WinterYear{Year: 2012}, AsOf: november},
		"no frost": {Winter: weather.WinterYear{Year: 2012}, AsOf: november, Counts: []weather.WinterCount{
			{Winter: weather.WinterYear{Year: 2011}, Complete: true}, {Winter: weather.WinterYear{Year: 2012}},
		}},
		"south": {Winter: south, AsOf: weather.NewDate(2014, 7, 1), Counts: []weather.WinterCount{{Winter: weather.WinterYear{Year: 2013, South: true}, Complete: true}, {Winter: south}},
			Events: []weather.Event{
				{Winter: weather.WinterYear{Year: 2013, South: true}, Start: weather.Hour{Date: weather.NewDate(2013, 1, 1)}, End: weather.Hour{Date: weather.NewDate(2013, 12, 31)}, MinCanopyC: -38, FreezingDegreeHours: 1e6},
				{Winter: south, Start: weather.Hour{Date: weather.NewDate(2014, 6, 30)}, Open: true, MinCanopyC: math.NaN()},
			}},
		"one winter":      frosts(1, november),
		"three centuries": frosts(300, november),
	} {
		t.Run(name, func(t *testing.T) {
			f.Place = "<b>North & South</b>"
			mustDraw(t, Events(f), nil)
			mustDraw(t, phoneEvents(f), nil)
		})
	}
	if c := Events(frosts(300, november)); !strings.Contains(string(draws(t, c).raw), "209 earlier winters are in winters.csv") {
		t.Error("nothing is said of winters left out")
	}
}
