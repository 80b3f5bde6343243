package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Single sine, lower 50 °F, upper 70 °F horizontal, and lower 12 °C:
// Baskerville & Emin 1969, Allen 1976, as the open degree-day comparison data
// of the University of California print them.
func TestDegreeDaysPublished(t *testing.T) {
	for _, c := range []struct{ low, high, want float64 }{
		{38, 55, 1.19}, {36, 67, 5.71}, {33, 59, 2.34}, {30, 53, 0.47}, {41, 50, 0.00}, {31, 51, 0.10}, {46, 62, 4.87}, {54, 67, 10.50},
		{52, 73, 12.01}, {44, 76, 10.00}, {38, 75, 8.72}, {46, 81, 11.37}, {59, 84, 16.74}, {63, 101, 18.70}, {71, 103, 20.00}, {29, 63, 3.56},
	} {
		near(t, "°F d from 50 to 70", DegreeDays(c.low, c.high, 50, 70), c.want, 0.01)
	}
	for _, c := range []struct{ low, high, want float64 }{
		{7.8, 19.4, 2.72}, {4.4, 22.2, 3.51}, {6.1, 15.0, 0.77}, {1.1, 16.1, 0.94}, {1.7, 17.2, 1.33}, {15, 23.9, 7.45},
	} {
		near(t, "°C d above 12", DegreeDays(c.low, c.high, 12, math.Inf(1)), c.want, 0.01)
	}
	// the chickweed's thresholds, Storkey & Cussans 2000, Weed Science
	// 48:467–473: green area above -1.7, mass above -3.3 °C; recomputed
	for _, c := range []struct{ low, high, lower, want float64 }{
		{-5, 3, -1.7, 1.6428}, {1, 8, -1.7, 6.2}, {-5, 3, -3.3, 2.6402}, {1, 8, -3.3, 7.8},
	} {
		near(t, "°C d of chickweed", DegreeDays(c.low, c.high, c.lower, math.Inf(1)), c.want, 0.001)
	}
}

// Closed form of Allen 1976 and its mirror image, recomputed.
func TestDegreesBelowWorked(t *testing.T) {
	for _, c := range []struct{ low, high, below, hours, hoursTolerance float64 }{
		{-5, 3, 1.8132, 13.93, 0.01}, {-2, 6, 0.4360, 8, 0.001}, {-4, 4, 4 / math.Pi, 12, 0.001}, {-8, -1, 4.5, 24, 0.001},
	} {
		below, hours := DegreesBelow(c.low, c.high, 0)
		near(t, "°C d below 0", below, c.below, 0.001)
		near(t, "hours below 0", hours, c.hours, c.hoursTolerance)
	}
	near(t, "°C d above 0", DegreeDays(-5, 3, 0, math.Inf(1)), 0.8132, 0.001)
	below, _ := DegreesBelow(-5, 3, 0)
	near(t, "°C h below 0", 24*below, 43.52, 0.01)
}

// Against the midpoint sum over one sine a day. Where the sine crosses a
// threshold its kink costs at most range·π/n of one cell; twice that for two.
func TestDegreeDaysAgainstIntegral(t *testing.T) {
	const n = 4000
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-30, 40).Draw(t, "minimum")
		high := low + rapid.Float64Range(0, 40).Draw(t, "range")
		lower := rapid.Float64Range(-30, 40).Draw(t, "lower")
		upper := lower + rapid.Float64Range(0, 30).Draw(t, "width")
		var capped, below, hours float64
		for i := range n {
			x := (high+low)/2 + (high-low)/2*math.Sin(2*math.Pi*(float64(i)+0.5)/n)
			capped += math.Max(0, math.Min(x, upper)-lower) / n
			if x < lower {
				below += (lower - x) / n
				hours += 24.0 / n
			}
		}
		tolerance := 4*math.Pi*(high-low)/(n*n)*math.Pi + 1e-9 // two kinks and the curvature of the sine, derived
		if got := DegreeDays(low, high, lower, upper); math.Abs(got-capped) > tolerance {
			t.Fatalf("%v °C d, the integral has %v", got, capped)
		}
		gotBelow, gotHours := DegreesBelow(low, high, lower)
		if math.Abs(gotBelow-below) > tolerance || math.Abs(gotHours-hours) > 2*24.0/n+1e-9 {
			t.Fatalf("%v °C d and %v h below, the integral has %v and %v", gotBelow, gotHours, below, hours)
		}
		// what lies above less what lies below is the mean
		if above := DegreeDays(low, high, lower, math.Inf(1)); math.Abs(above-gotBelow-((low+high)/2-lower)) > 1e-9 {
			t.Fatalf("above %v - below %v is not the mean's distance", above, gotBelow)
		}
	})
}
