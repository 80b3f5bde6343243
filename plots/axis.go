package plots

import (
	"math"
	"strconv"
	"strings"

	"wintertop/weather"
)

// number prints x to so many decimals with a real minus sign, a dash where it
// is not a number.
func number(x float64, decimals int) string {
	if !finite(x) {
		return "–"
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		if strings.Trim(rest, "0.") == "" {
			return rest
		}
		return "−" + rest
	}
	return s
}

// ticks gives round values from 0 up to top, about so many steps, and the
// decimals that print them apart.
func ticks(top float64, steps int) (values []float64, decimals int) {
	if !(top > 0) {
		top = 1
	}
	raw := top / float64(steps)
	unit := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * unit
	for _, m := range []float64{1, 2, 5} {
		if m*unit >= raw*0.999 {
			step = m * unit
			break
		}
	}
	decimals = max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	for i := 0; float64(i)*step <= top; i++ {
		values = append(values, float64(i)*step)
	}
	if len(values) < 3 && steps > 2 {
		return ticks(top, 2*steps) // one step alone makes no scale
	}
	return values, decimals
}

// month is the part of a calendar month that an axis shows.
type month struct {
	from, to weather.Date // first day, and the day after the last
	name     string       // Oct
	year     int
}

// months gives the months that the days from to to touch.
func months(from, to weather.Date) []month {
	var out []month
	for d := from; d <= to; {
		y, m, _ := d.YMD()
		next := weather.NewDate(y, m+1, 1)
		out = append(out, month{d, min(next, to+1), m.String()[:3], y})
		d = next
	}
	return out
}

// dayMonth prints a date as 5 Feb, fullDate as 5 Feb 2013.
func dayMonth(d weather.Date) string {
	_, m, day := d.YMD()
	return strconv.Itoa(day) + " " + m.String()[:3]
}

func fullDate(d weather.Date) string {
	y, _, _ := d.YMD()
	return dayMonth(d) + " " + strconv.Itoa(y)
}
