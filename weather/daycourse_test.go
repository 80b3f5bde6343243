package weather

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// plainC is the form as published, kept here to compare with: the night falls
// towards the coming minimum without reaching it. Parton & Logan 1981.
func plainC(c Course, day int, hour float64) float64 {
	a := c.arc(day)
	switch {
	case hour < a.minHour:
		return plainNightC(c.night(day), hour)
	case hour <= a.duskHour:
		return a.at(hour)
	}
	return plainNightC(c.night(day+1), hour-24)
}

func plainNightC(n night, hour float64) float64 {
	return n.minC + (n.duskC-n.minC)*math.Exp(-n.decay*(hour-n.duskHour)/(n.minHour-n.duskHour))
}

// halfCosineC goes from each extreme to the next by half a cosine.
func halfCosineC(c Course, day int, hour float64) float64 {
	a := c.arc(day)
	peak := a.minHour + a.spanH/2
	fromHour, fromC, toHour, toC := a.minHour, a.minC, peak, a.maxC
	if hour < a.minHour {
		before := c.arc(c.neighbour(day-1, day))
		fromHour, fromC, toHour, toC = before.minHour+before.spanH/2-24, before.maxC, a.minHour, a.minC
	} else if hour > peak {
		after := c.arc(c.neighbour(day+1, day))
		fromHour, fromC, toHour, toC = peak, a.maxC, after.minHour+24, after.minC
	}
	return fromC + (toC-fromC)*(1-math.Cos(math.Pi*(hour-fromHour)/(toHour-fromHour)))/2
}

// Worked case of the published form: recomputed from Parton & Logan 1981,
// minimum -2 on both days, maximum 8, sunrise 7.5, sunset 16.5.
func TestDayCourseWorkedCase(t *testing.T) {
	p := Standard()
	a := p.arcOf(7.5, 9, -2, 8)
	for hour, want := range map[float64]float64{9: 1.910, 12: 7.016, 15: 7.626} {
		if got := a.at(hour); math.Abs(got-want) > 0.001 {
			t.Errorf("%v h: %.4f °C, want %v", hour, got, want)
		}
	}
	// the night of the plain form, which the product mends
	c := Course{minC: []float64{-2, -2}, maxC: []float64{8, 8}, sky: newSky(0), params: p}
	n := c.night(1)
	n.duskHour, n.minHour, n.duskC = a.duskHour-24, a.minHour, a.at(a.duskHour)
	n.midnightC = n.minC + (n.duskC-n.minC)*n.left(0)
	for hour, want := range map[float64]float64{3: -0.304, 18 - 24: 4.444, 22 - 24: 1.560} {
		if got := plainNightC(n, hour); math.Abs(got-want) > 0.001 {
			t.Errorf("plain night, %v h: %.4f °C, want %v", hour, got, want)
		}
		if got := n.at(hour); math.Abs(got-want) > 0.001 {
			t.Errorf("night that nothing holds, %v h: %.4f °C, want %v", hour, got, want)
		}
	}
	if got := n.at(n.minHour); got != -2 {
		t.Errorf("the mended night ends at %v °C, want the minimum -2", got)
	}
	if got := n.at(n.minHour - 0.01); math.Abs(got+2) > 0.02 {
		t.Errorf("the mended night is %v °C just before its end", got)
	}
	if got := plainNightC(n, n.minHour); math.Abs(got+2-0.9) > 0.1 {
		t.Errorf("the plain night ends %.2f °C above the minimum, want about 0.9", got+2)
	}
}

// A colder day follows: the evening before comes down to its own day's minimum
// at midnight and no further. A warmer one: midnight is at the coming minimum.
func TestDayCourseHoldsMidnight(t *testing.T) {
	for _, c := range []struct {
		name       string
		minC, maxC [2]float64
		midnightC  float64
	}{
		{"colder", [2]float64{3, -6}, [2]float64{8, 4}, 3},
		{"warmer", [2]float64{-3, 5}, [2]float64{6, 9}, 5},
		{"no temperature in common, colder", [2]float64{3, -6}, [2]float64{8, -1}, 1},
		{"no temperature in common, warmer", [2]float64{-3, 7}, [2]float64{5, 9}, 6},
	} {
		course := NewCourse(NewDate(2012, time.December, 1), c.minC[:], c.maxC[:], 52, Standard())
		near(t, c.name+": midnight", course.At(1, 0), c.midnightC, 1e-12)
		near(t, c.name+": midnight of the day before", course.At(0, 24), c.midnightC, 1e-12)
	}
}

// The course is continuous, passes through every extreme, and keeps each
// calendar day within its extremes wherever that day shares a temperature with
// both its neighbours.
func TestDayCourseHoldsItsExtremes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-75, 75).Draw(t, "latitude")
		minC, maxC := make([]float64, 5), make([]float64, 5)
		for i := range minC {
			minC[i] = rapid.Float64Range(-20, 15).Draw(t, "min")
			maxC[i] = minC[i] + rapid.Float64Range(0, 20).Draw(t, "range")
		}
		c := NewCourse(NewDate(2012, time.November, 1), minC, maxC, lat, Standard())
		share := func(i, j int) bool { return maxC[i] >= minC[j] && maxC[j] >= minC[i] }
		for i := range minC {
			a := c.arc(i)
			if got := c.At(i, a.minHour); math.Abs(got-minC[i]) > 1e-9 {
				t.Fatalf("day %d: %v °C at the hour of the minimum %v", i, got, minC[i])
			}
			if got := c.At(i, a.minHour+a.spanH/2); math.Abs(got-maxC[i]) > 1e-9 {
				t.Fatalf("day %d: %v °C at the hour of the maximum %v", i, got, maxC[i])
			}
			for _, knot := range []float64{a.minHour, a.duskHour} {
				if before, after := c.At(i, knot-1e-9), c.At(i, knot+1e-9); math.Abs(after-before) > 1e-6 {
					t.Fatalf("day %d jumps from %v to %v °C at %v h", i, before, after, knot)
				}
			}
			if i > 0 && math.Abs(c.At(i-1, 24)-c.At(i, 0)) > 1e-9 {
				t.Fatalf("jumps from %v to %v °C at the midnight before day %d", c.At(i-1, 24), c.At(i, 0), i)
			}
			if i > 0 && !share(i-1, i) || i+1 < len(minC) && !share(i, i+1) {
				continue
			}
			for hour := 0.0; hour <= 24; hour += 1.0 / 16 {
				if got := c.At(i, hour); got < minC[i]-1e-9 || got > maxC[i]+1e-9 {
					t.Fatalf("day %d %v h: %v °C, extremes %v and %v", i, hour, got, minC[i], maxC[i])
				}
			}
		}
	})
}

// falls and rises are the inverse of At.
func TestDayCourseCrossings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minC, maxC := make([]float64, 3), make([]float64, 3)
		for i := range minC {
			minC[i] = rapid.Float64Range(-20, 5).Draw(t, "min")
			maxC[i] = minC[i] + rapid.Float64Range(0.1, 20).Draw(t, "range")
		}
		c := NewCourse(NewDate(2012, time.January, 1), minC, maxC, rapid.Float64Range(-66, 66).Draw(t, "latitude"), Standard())
		at := func(hour float64) float64 {
			if hour < 0 {
				return c.At(0, hour+24)
			}
			return c.At(1, hour)
		}
		if down := rapid.Float64Range(minC[1], math.Max(minC[1], maxC[0])).Draw(t, "down"); maxC[0] > minC[1] {
			if hour := c.falls(1, down); math.Abs(at(hour)-down) > 1e-6 {
				t.Fatalf("comes down to %v at %v h, where the course has %v", down, hour, at(hour))
			}
		}
		lowest := math.Min(minC[1], c.night(1).duskC) // on a warming night it passes before the minimum
		up := rapid.Float64Range(lowest, maxC[1]).Draw(t, "up")
		if hour := c.rises(1, up); math.Abs(at(hour)-up) > 1e-6 {
			t.Fatalf("comes up to %v at %v h, where the course has %v", up, hour, at(hour))
		}
	})
}
