package weather

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// marked makes the days from first to last whose minimum is their own date
// and whose maximum is mark above it, so that a day tells where it came from.
func marked(first, last Date, mark float64) []Day {
	var days []Day
	for d := first; d <= last; d++ {
		days = append(days, Day{Date: d, MinC: float64(d), MaxC: float64(d) + mark, SnowCM: math.NaN()})
	}
	return days
}

const fromObserved, fromAhead, fromTrace = 1, 2, 3

func TestSpliceJoinsTheCalendars(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		south := rapid.Bool().Draw(t, "south")
		now := WinterYear{rapid.IntRange(1995, 2030).Draw(t, "winter"), south}
		past := WinterYear{rapid.IntRange(1950, 2029).Draw(t, "past"), south}
		first := now.First() + Date(rapid.IntRange(-90, 60).Draw(t, "first"))
		last := now.Last()
		asOf := first + Date(rapid.IntRange(0, int(last-first)).Draw(t, "as of"))
		observed := marked(first, asOf+Date(rapid.IntRange(-3, 30).Draw(t, "more")), fromObserved)
		ahead := marked(asOf-2, asOf+Date(rapid.IntRange(0, 9).Draw(t, "ahead")), fromAhead)
		trace := marked(past.First()-100, past.Last(), fromTrace)
		if len(observed) == 0 {
			return
		}
		if hole := rapid.IntRange(1, len(observed)).Draw(t, "hole"); hole < len(observed) {
			observed[hole].MinC, observed[hole].MaxC, observed[hole].State = math.NaN(), math.NaN(), Missing
		}
		joined, err := Splice(nil, observed, ahead, trace, past, asOf, last)
		if err != nil {
			t.Fatal(err)
		}
		if len(joined) != int(last-first)+1 {
			t.Fatalf("%d days from %s to %s", len(joined), first, last)
		}
		for i, day := range joined {
			d := first + Date(i)
			source, from := Date(day.MinC), math.Round(day.MaxC-day.MinC)
			_, seen := dayOf(observed, d)
			_, forecast := dayOf(ahead, d)
			want := float64(fromTrace)
			switch {
			case d <= asOf && seen:
				want = fromObserved
			case d > asOf && forecast:
				want = fromAhead
			}
			if day.Date != d || from != want || (day.State == Observed) != (want == fromObserved) {
				t.Fatalf("%s comes from run %v as %+v, want run %v", d, from, day, want)
			}
			year, month, dom := d.YMD()
			sourceYear, sourceMonth, sourceDom := source.YMD()
			if want != fromTrace {
				if source != d {
					t.Fatalf("%s carries the values of %s", d, source)
				}
				continue
			}
			leapGone := month == time.February && dom == 29 && sourceDom == 28
			if sourceMonth != month || sourceDom != dom && !leapGone || sourceYear-year != past.Year-now.Year {
				t.Fatalf("%s carries the values of %s", d, source)
			}
		}
	})
}

func TestSpliceLeapDays(t *testing.T) {
	date := NewDate
	for _, c := range []struct {
		name       string
		past       int
		last       Date
		want28, on Date // where 28 February and the day after it come from
		wantOn     Date
	}{
		{"28 February repeated", 2012, date(2012, time.June, 30), date(2013, time.February, 28), date(2012, time.February, 29), date(2013, time.February, 28)},
		{"29 February kept", 2007, date(2012, time.June, 30), date(2008, time.February, 28), date(2012, time.February, 29), date(2008, time.February, 29)},
		{"29 February dropped", 2007, date(2013, time.June, 30), date(2008, time.February, 28), date(2013, time.March, 1), date(2008, time.March, 1)},
	} {
		past := WinterYear{Year: c.past}
		first := WinterOf(c.last, false).First()
		joined, err := Splice(nil, marked(first, first+100, fromObserved), nil, marked(past.First(), past.Last(), fromTrace), past, first+100, c.last)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		year, _, _ := c.last.YMD()
		for d, want := range map[Date]Date{date(year, time.February, 28): c.want28, c.on: c.wantOn} {
			if got := Date(joined[d-first].MinC); got != want {
				t.Errorf("%s: %s carries the values of %s, want %s", c.name, d, got, want)
			}
		}
	}
}

func TestSpliceRefuses(t *testing.T) {
	now, past := WinterYear{Year: 2012}, WinterYear{Year: 2005}
	observed := marked(now.First(), now.First()+50, fromObserved)
	short := marked(past.First(), past.Last()-1, fromTrace)
	hole := marked(past.First(), past.Last(), fromTrace)
	hole[200].State = Missing
	for name, c := range map[string]struct {
		observed, trace []Day
		want            string
	}{
		"short trace":     {observed, short, past.Last().String()},
		"hole in a trace": {observed, hole, hole[200].Date.String()},
		"nothing seen":    {nil, hole, "no observed day"},
	} {
		if _, err := Splice(nil, c.observed, nil, c.trace, past, now.First()+50, now.Last()); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one that says %s", name, err, c.want)
		}
	}
}
