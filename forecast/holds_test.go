package forecast

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wintertop/weather"
)

// The days that hold are the first unbroken run, and the verdict follows from
// the same days, read off a string of good (g) and short (s) days: the
// definitions, no source.
func TestHoldsAreTheFirstUnbrokenRun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.StringOfN(rapid.RuneFrom([]rune("gs")), 1, 30, -1).Draw(t, "days")
		lead := rapid.IntRange(0, len(days)-1).Draw(t, "days before the window")
		asOf := weather.NewDate(2014, 12, 1)
		goal := Goal{AsOf: asOf, From: asOf + weather.Date(lead), To: asOf + weather.Date(len(days)-1)}
		var dates []PickDate
		for i, c := range days {
			odds := rapid.SampledFrom([]float64{0, 0.5, 0.799}).Draw(t, "short")
			if c == 'g' {
				odds = rapid.SampledFrom([]float64{0.8, 0.801, 1}).Draw(t, "good")
			}
			dates = append(dates, PickDate{Date: asOf + weather.Date(i), All: odds})
		}
		from, until, ok := firstRun(dates, 0.8, func(d PickDate) float64 { return d.All })
		first := strings.Index(days, "g")
		if ok != (first >= 0) {
			t.Fatalf("%s: holds %v", days, ok)
		}
		if ok {
			run := len(days[first:]) - len(strings.TrimLeft(days[first:], "g"))
			if from != asOf+weather.Date(first) || until != asOf+weather.Date(first+run-1) {
				t.Fatalf("%s: from day %d to day %d, want %d to %d", days, from-asOf, until-asOf, first, first+run-1)
			}
		}
		want := TooWeak
		switch {
		case !strings.Contains(days[lead:], "s"):
			want = Hold
		case ok:
			want = LiftEarly
		}
		if got := verdict(dates, goal, 0.8, 1); got != want {
			t.Fatalf("%s, window from day %d: %s, want %s", days, lead, got, want)
		}
		if got := verdict(dates, goal, 0.8, 0); got != NotKnownYet {
			t.Fatalf("%s without notes: %s", days, got)
		}
	})
}
