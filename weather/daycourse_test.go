package weather

import (
	"math"
	"strconv"
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
	n := night{a.duskHour - 24, a.minHour, a.at(a.duskHour), -2, p.NightDecay, p.NightTurn}
	for hour, want := range map[float64]float64{3: -0.304, 18 - 24: 4.444, 22 - 24: 1.560} {
		if got := plainNightC(n, hour); math.Abs(got-want) > 0.001 {
			t.Errorf("plain night, %v h: %.4f °C, want %v", hour, got, want)
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

// The course is continuous, stays within the day's extremes where they order
// and passes through each of them.
func TestDayCourseHoldsItsExtremes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-75, 75).Draw(t, "latitude")
		minC, maxC := make([]float64, 5), make([]float64, 5)
		for i := range minC {
			minC[i] = rapid.Float64Range(-20, 15).Draw(t, "min")
			maxC[i] = minC[i] + rapid.Float64Range(0, 20).Draw(t, "range")
		}
		c := NewCourse(NewDate(2012, time.November, 1), minC, maxC, lat, Standard())
		low, high := minC[0], maxC[0]
		for i := range minC {
			low, high = math.Min(low, minC[i]), math.Max(high, maxC[i])
		}
		const step = 1.0 / 64
		last := c.At(0, 0)
		for i := range minC {
			a := c.arc(i)
			if got := c.At(i, a.minHour); math.Abs(got-minC[i]) > 1e-9 {
				t.Fatalf("day %d: %v °C at the hour of the minimum %v", i, got, minC[i])
			}
			if got := c.At(i, a.minHour+a.spanH/2); math.Abs(got-maxC[i]) > 1e-9 {
				t.Fatalf("day %d: %v °C at the hour of the maximum %v", i, got, maxC[i])
			}
			for hour := 0.0; hour <= 24; hour += step {
				now := c.At(i, hour)
				// steepest at the start of the shortest night, 1 h less the lag
				if math.Abs(now-last) > step*60*2.5/0.8 || now < low-1e-9 || now > high+1e-9 {
					t.Fatalf("day %d %v h: %v °C after %v, extremes %v to %v", i, hour, now, last, low, high)
				}
				last = now
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

// Hourly air temperature of Dublin Airport 2017, January–March and
// October–December (Met Éireann, CC BY 4.0). The plain form is printed with a
// mean absolute error of 1.26 to 1.29 °C, a half-cosine with 1.53 to 1.64.
func TestDayCourseAgainstDublinHours(t *testing.T) {
	const eastDeg = -6.24
	_, all := rows(t, openFile(t, "dublin-hourly-2017.csv"))
	first := NewDate(2017, time.January, 1)
	var minC, maxC []float64
	type reading struct {
		day        int
		hour, airC float64
	}
	var readings []reading
	for _, row := range all {
		at, err := time.Parse("2006-01-02T15:04:05", row[0])
		if err != nil {
			t.Fatal(err)
		}
		airC, err := strconv.ParseFloat(row[1], 64)
		if err != nil {
			continue
		}
		day := int(at.Unix()/86400) - int(first)
		for len(minC) <= day {
			minC, maxC = append(minC, math.NaN()), append(maxC, math.NaN())
		}
		minC[day], maxC[day] = fmin(minC[day], airC), -fmin(-maxC[day], -airC)
		readings = append(readings, reading{day, float64(at.Hour()), airC})
	}
	c := NewCourse(first, minC, maxC, 53.43, Standard())
	forms := []struct {
		name string
		at   func(day int, hour float64) float64
		sum  float64
	}{
		{"mended", c.At, 0},
		{"plain", func(day int, hour float64) float64 { return plainC(c, day, hour) }, 0},
		{"half-cosine", func(day int, hour float64) float64 { return halfCosineC(c, day, hour) }, 0},
	}
	n := 0
	for _, r := range readings {
		date := first + Date(r.day)
		if _, month, _ := date.YMD(); month > time.March && month < time.October {
			continue
		}
		// equation of time, minutes, FAO-56 eqs 32 and 33
		b := 2 * math.Pi * float64(date.DayOfYear()-81) / 364
		equationH := 0.1645*math.Sin(2*b) - 0.1255*math.Cos(b) - 0.025*math.Sin(b)
		hour := r.hour + eastDeg/15 + equationH
		day := r.day
		if hour < 0 {
			day, hour = day-1, hour+24
		}
		if day < 0 {
			continue
		}
		n++
		for i := range forms {
			forms[i].sum += math.Abs(forms[i].at(day, hour) - r.airC)
		}
	}
	mended, plain, cosine := forms[0].sum/float64(n), forms[1].sum/float64(n), forms[2].sum/float64(n)
	t.Logf("mean absolute error over %d hours, °C: mended %.3f, plain %.3f, half-cosine %.3f", n, mended, plain, cosine)
	if mended > 1.295 {
		t.Errorf("the course is off by %.3f °C, want at most the 1.29 of the plain form", mended)
	}
	if mended >= cosine {
		t.Errorf("the course is off by %.3f °C, no better than a half-cosine, %.3f", mended, cosine)
	}
}

// fmin is the lesser of two numbers, or the one that is one.
func fmin(a, b float64) float64 {
	if math.IsNaN(a) {
		return b
	}
	return math.Min(a, b)
}
