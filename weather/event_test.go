package weather

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// still is a site whose canopy is as warm as the screen, so that cases can be
// written in canopy temperatures.
func still() Site {
	s := Site{LatitudeDeg: 52, Params: Standard()}
	s.Params.DropBaseC, s.Params.DropPerDegree = 0, 0
	return s
}

// daysOf makes a run of days from pairs of minimum and maximum; NaN is a
// missing day.
func daysOf(first Date, extremes ...[2]float64) []Day {
	days := make([]Day, len(extremes))
	for i, e := range extremes {
		days[i] = Day{Date: first + Date(i), MinC: e[0], MaxC: e[1], RainMM: math.NaN(), SnowCM: math.NaN()}
		if math.IsNaN(e[0]) {
			days[i].State = Missing
		}
	}
	return days
}

func TestEventsByTheDaysExtremes(t *testing.T) {
	nan := math.NaN()
	type span struct{ open, coldest, close, nights int }
	for _, c := range []struct {
		name string
		days [][2]float64
		want []span
	}{
		{"thaw on the same day", [][2]float64{{3, 9}, {-2, 4}, {3, 9}}, []span{{1, 1, 1, 1}}},
		{"just above the freezing point", [][2]float64{{3, 9}, {-1.9, 4}}, nil},
		{"just below the thaw point", [][2]float64{{-2, 0.9}, {-1, 1}}, []span{{0, 0, 1, 1}}},
		{"several nights without a thaw", [][2]float64{{-4, 0}, {-6, -1}, {-1, 0.5}, {-6, 0}, {1, 7}}, []span{{0, 1, 4, 3}}},
		{"a thaw every day", [][2]float64{{-4, 2}, {-6, 1}, {-3, 5}}, []span{{0, 0, 0, 1}, {1, 1, 1, 1}, {2, 2, 2, 1}}},
		{"open at the end", [][2]float64{{4, 9}, {-3, 0}, {-5, -1}}, []span{{1, 2, -1, 2}}},
		{"a gap leaves it open", [][2]float64{{-3, 0}, {nan, nan}, {2, 6}, {-3, 6}}, []span{{0, 0, -1, 1}, {3, 3, 3, 1}}},
	} {
		got := Events(Record{Days: daysOf(NewDate(2012, time.December, 1), c.days...)}, still())
		if len(got) != len(c.want) {
			t.Errorf("%s: %d events, want %d", c.name, len(got), len(c.want))
			continue
		}
		for i, e := range got {
			if s := (span{e.OpenDay, e.ColdestDay, e.CloseDay, e.Nights}); s != c.want[i] {
				t.Errorf("%s: event %d spans %v, want %v", c.name, i, s, c.want[i])
			}
			if e.Open != (e.CloseDay < 0) || e.Open != math.IsNaN(e.ThawPeakC) || e.Open != (e.End == Hour{}) || e.Number != i+1 {
				t.Errorf("%s: event %d disagrees with itself: %+v", c.name, i, e)
			}
		}
	}
}

func TestEventKeepsWhatItSaw(t *testing.T) {
	days := daysOf(NewDate(2012, time.December, 1), [2]float64{2, 8}, [2]float64{-4, 0.5}, [2]float64{-5, 0.8}, [2]float64{0, 3})
	days[2].SnowCM = 7
	site := Site{LatitudeDeg: 52, MinOffsetC: -1, Params: Standard()}
	w, err := NewWinter(days, site)
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Events) != 1 {
		t.Fatalf("%d events, want 1", len(w.Events))
	}
	e := w.Events[0]
	drop1, drop2, drop3 := 0.19+0.13*(8+5), 0.19+0.13*(0.5+6), 0.19+0.13*(0.8+1)
	near(t, "lowest screen minimum, of the field", e.MinScreenC, -6, 1e-12)
	near(t, "lowest canopy minimum", e.MinCanopyC, math.Min(-5-drop1, -6-drop2), 1e-12)
	if e.ColdestDay != 2 || e.SnowCM != 7 || e.Hardening != w.Hardening[2] || !(e.Hardening > 0) {
		t.Errorf("coldest day %d with %v cm of snow and hardening %v, want day 2, 7 cm and %v", e.ColdestDay, e.SnowCM, e.Hardening, w.Hardening[2])
	}
	near(t, "thaw peak", e.ThawPeakC, 3, 0)
	var hours, degreeDays float64
	for _, x := range [][2]float64{{-5 - drop1, 0.5}, {-6 - drop2, 0.8}, {-1 - drop3, 3}} {
		d, h := DegreesBelow(x[0], x[1], 0)
		hours, degreeDays = hours+h, degreeDays+d
	}
	near(t, "hours below 0 °C from the opening to the closing day", e.HoursFrozen, hours, 1e-9)
	near(t, "degree-hours below 0 °C over the same days", e.FreezingDegreeHours, 24*degreeDays, 1e-9)
	if w.Closing[3] != 0 || w.Closing[0] != -1 || w.Closing[1] != -1 || w.Closing[2] != -1 {
		t.Errorf("closing %v", w.Closing)
	}
}

// One worked case: dusk on the first day at 16:00, near 8 °C, -4 °C at 7:50.
func TestEventHours(t *testing.T) {
	first := NewDate(2012, time.December, 1)
	days := daysOf(first, [2]float64{2, 8}, [2]float64{-4, 6})
	e := Events(Record{Days: days}, still())[0]
	course := NewCourse(first, []float64{2, -4}, []float64{8, 6}, 52, Standard())
	// walk minute by minute from noon to noon
	const minutes = 60
	var start, end float64
	last := course.At(0, 12)
	for m := 1; m <= 24*minutes; m++ {
		hour := 12 + float64(m)/minutes
		now := 0.0
		if hour < 24 {
			now = course.At(0, hour)
		} else {
			now = course.At(1, hour-24)
		}
		if last > -2 && now <= -2 {
			start = hour
		}
		if last < 1 && now >= 1 {
			end = hour
		}
		last = now
	}
	at := func(h Hour) float64 { return 24*float64(h.Date-first) + float64(h.Hour) }
	if got := at(e.Start); !(got <= start && start < got+1+1.0/minutes) {
		t.Errorf("starts at %s, the course passes -2 °C %.2f h after the first midnight", e.Start, start)
	}
	if got := at(e.End); !(got <= end && end < got+1+1.0/minutes) {
		t.Errorf("ends at %s, the course passes 1 °C %.2f h after the first midnight", e.End, end)
	}
	if got := (Hour{first, 5}).String(); got != "2012-12-01T05:00" {
		t.Errorf("hour written %s", got)
	}
	// nothing is known of the evening before the first day
	cold := daysOf(first, [2]float64{-3, 6}, [2]float64{-9, 6})
	if e := Events(Record{Days: cold}, still())[1]; e.Start.Date != first || e.Start.Hour < 17 || e.Start.Hour > 23 {
		t.Errorf("starts at %s, want the evening before a night of -9 °C", e.Start)
	}
	// that evening belongs to a day whose minimum lies above the freezing point
	if e := Events(Record{Days: daysOf(first, [2]float64{-1, 6}, [2]float64{-9, 6})}, still())[0]; e.Start != (Hour{first + 1, 0}) {
		t.Errorf("starts at %s, want the first hour after a day that did not freeze", e.Start)
	}
	if e := Events(Record{Days: cold[1:]}, still())[0]; e.Start != (Hour{first + 1, 0}) {
		t.Errorf("starts at %s, want the first hour of the record", e.Start)
	}
	// the night before the closing day already rises above the thaw point
	e = Events(Record{Days: daysOf(first, [2]float64{-8, -6}, [2]float64{12, 15})}, still())[0]
	if e.End.Date != first+1 || e.End.Hour != 0 {
		t.Errorf("ends at %s, want the first hour of the closing day", e.End)
	}
}

func TestEventWinters(t *testing.T) {
	cold := func(first Date) []Day {
		return daysOf(first, [2]float64{-3, 4}, [2]float64{-3, 4}, [2]float64{-3, 4})
	}
	south := still()
	south.LatitudeDeg = -44
	for _, c := range []struct {
		site  Site
		first Date
		want  [3]string
	}{
		{still(), NewDate(2013, time.June, 29), [3]string{"2012/13 1", "2012/13 2", "2013/14 1"}},
		{south, NewDate(2013, time.June, 29), [3]string{"2013 1", "2013 2", "2013 3"}},
		{south, NewDate(2013, time.December, 30), [3]string{"2013 1", "2013 2", "2014 1"}},
	} {
		for i, e := range Events(Record{Days: cold(c.first)}, c.site) {
			if got := e.Winter.String() + " " + string(rune('0'+e.Number)); got != c.want[i] {
				t.Errorf("day %d after %s: winter and number %s, want %s", i, c.first, got, c.want[i])
			}
		}
	}
}

// drawDays makes a run of days, now and then with a gap.
func drawDays(t *rapid.T, gaps bool) []Day {
	n := rapid.IntRange(1, 80).Draw(t, "days")
	extremes := make([][2]float64, n)
	for i := range extremes {
		low := rapid.Float64Range(-12, 8).Draw(t, "minimum")
		extremes[i] = [2]float64{low, low + rapid.Float64Range(0, 12).Draw(t, "range")}
		if gaps && rapid.IntRange(0, 19).Draw(t, "gap") == 0 {
			extremes[i] = [2]float64{math.NaN(), math.NaN()}
		}
	}
	return daysOf(NewDate(2012, time.October, 1), extremes...)
}

// Written again from the words alone: take the frozen nights one by one, skip
// those that an earlier event covers, and look ahead for the thaw.
func TestEventsAgainstLookingAhead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := drawDays(t, true)
		site := Site{LatitudeDeg: 52, MinOffsetC: -0.5, MaxOffsetC: 0.5, Params: Standard()}
		canopyC := make([]float64, len(days))
		for i, d := range days {
			yesterday := d
			if i > 0 && days[i-1].State != Missing {
				yesterday = days[i-1]
			}
			night := d.MinC - 0.5
			canopyC[i] = night - math.Max(0, math.Min(5, 0.19+0.13*(yesterday.MaxC+0.5-night)))
		}
		got := Events(Record{Days: days}, site)
		covered, n := -1, 0
		for i := range days {
			if !(canopyC[i] <= -2) || i <= covered {
				continue
			}
			end, closed, nights, coldest := i, false, 0, i
			for end < len(days) && days[end].State != Missing && !closed {
				if canopyC[end] <= -2 {
					nights++
				}
				if canopyC[end] < canopyC[coldest] {
					coldest = end
				}
				closed = days[end].MaxC+0.5 >= 1
				end++
			}
			covered = end - 1
			if n >= len(got) {
				t.Fatalf("%d events found, there are more", len(got))
			}
			e, wantClose := got[n], -1
			if closed {
				wantClose = covered
			}
			if e.OpenDay != i || e.CloseDay != wantClose || e.Nights != nights || e.ColdestDay != coldest {
				t.Fatalf("event %d: %+v, want days %d to %d, %d nights, coldest %d", n, e, i, wantClose, nights, coldest)
			}
			n++
		}
		if n != len(got) {
			t.Fatalf("%d events found, there are %d", len(got), n)
		}
		for i, e := range got {
			if !e.Open && e.End != e.End.notBefore(e.Start) {
				t.Fatalf("event %d ends at %s before it starts at %s", i, e.End, e.Start)
			}
			if !e.Open && e.End.Date != days[e.CloseDay].Date {
				t.Fatalf("event %d ends on %s, not on its closing day %s", i, e.End, days[e.CloseDay].Date)
			}
			if i > 0 && (e.OpenDay <= got[i-1].CloseDay || e.Start != e.Start.notBefore(got[i-1].End) || e.Number != got[i-1].Number+1) {
				t.Fatalf("event %d does not follow the one before: %+v", i, e)
			}
			if !(e.HoursFrozen > 0) || !(e.FreezingDegreeHours > 0) || e.MinCanopyC > e.MinScreenC || !(e.Hardening >= 0 && e.Hardening <= 1) {
				t.Fatalf("event %d: %+v", i, e)
			}
		}
	})
}

// Every frozen night belongs to an event, so colder nights never give fewer.
func TestColderNightsNeverFreezeLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := drawDays(t, false)
		site := Site{LatitudeDeg: 52, Params: Standard()}
		nights := func() (n int) {
			for _, e := range Events(Record{Days: days}, site) {
				n += e.Nights
			}
			return n
		}
		before := nights()
		site.MinOffsetC = -rapid.Float64Range(0, 5).Draw(t, "colder")
		if after := nights(); after < before {
			t.Fatalf("%d frozen nights, %d with nights colder by %v °C", before, after, -site.MinOffsetC)
		}
	})
}

// Even where a site puts its freezing point above its thaw point, events
// follow one another in time.
func TestEventsFollowOneAnother(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := Site{LatitudeDeg: rapid.Float64Range(-70, 70).Draw(t, "latitude"), Params: Standard()}
		site.Params.FreezingPointC = rapid.Float64Range(-4, 4).Draw(t, "freezing point")
		site.Params.ThawPointC = rapid.Float64Range(-4, 4).Draw(t, "thaw point")
		events := Events(Record{Days: drawDays(t, true)}, site)
		for i, e := range events {
			if !e.Open && e.End != e.End.notBefore(e.Start) || i > 0 && e.Start != e.Start.notBefore(events[i-1].End) {
				t.Fatalf("event %d runs from %s to %s", i, e.Start, e.End)
			}
		}
	})
}
