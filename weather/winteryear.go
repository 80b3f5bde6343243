package weather

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// WinterYear names one winter: in the north 1 July to 30 June, "2012/13"; in
// the south the calendar year, "2014". Year is the year in which it begins.
type WinterYear struct {
	Year  int
	South bool
}

// WinterOf gives the winter that holds the day d.
func WinterOf(d Date, south bool) WinterYear {
	year, month, _ := d.YMD()
	if !south && month < time.July {
		year--
	}
	return WinterYear{year, south}
}

// WinterAfterSowing gives the winter whose frost season comes first on or
// after the day of sowing.
func WinterAfterSowing(sown Date, south bool) WinterYear {
	year, _, _ := sown.YMD()
	w := WinterYear{year, south}
	if start, _ := w.FrostSeason(); sown > start {
		w.Year++
	}
	return w
}

// ParseWinter reads "2012/13" (north) or "2014" (south).
func ParseWinter(s string, south bool) (WinterYear, error) {
	head, tail, slash := strings.Cut(s, "/")
	year, err := strconv.Atoi(head)
	w := WinterYear{year, south}
	if err != nil || slash == south || slash && tail != w.String()[5:] || w.String() != s {
		want := "2012/13"
		if south {
			want = "2014"
		}
		return WinterYear{}, fmt.Errorf("%q is not a winter such as %s", s, want)
	}
	return w, nil
}

// String gives "2012/13" in the north, "2014" in the south.
func (w WinterYear) String() string {
	if w.South {
		return fmt.Sprintf("%04d", w.Year)
	}
	return fmt.Sprintf("%04d/%02d", w.Year, (w.Year+1)%100)
}

// First gives the winter's first day.
func (w WinterYear) First() Date {
	if w.South {
		return NewDate(w.Year, time.January, 1)
	}
	return NewDate(w.Year, time.July, 1)
}

// Last gives the winter's last day.
func (w WinterYear) Last() Date {
	if w.South {
		return NewDate(w.Year, time.December, 31)
	}
	return NewDate(w.Year+1, time.June, 30)
}

// FrostSeason gives the first and the last day of October–March in the north,
// of April–September in the south.
func (w WinterYear) FrostSeason() (from, to Date) {
	if w.South {
		return NewDate(w.Year, time.April, 1), NewDate(w.Year, time.September, 30)
	}
	return NewDate(w.Year, time.October, 1), NewDate(w.Year+1, time.March, 31)
}

// Next gives the winter after w.
func (w WinterYear) Next() WinterYear { return WinterYear{w.Year + 1, w.South} }
