package plots

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wintertop/forecast"
	"wintertop/weather"
)

var november = weather.NewDate(2012, 11, 15)

func TestChartsOfAnySize(t *testing.T) {
	for _, n := range []int{0, 1, 2, 4, 5, 8, 20, 60} {
		for _, hostileNames := range []bool{false, true} {
			t.Run(fmt.Sprintf("%d lines, hostile %v", n, hostileNames), func(t *testing.T) {
				s, p := season(n, november), picks(n, november)
				if hostileNames {
					rename(s, p)
				}
				var lines []string
				for _, r := range p.Rows {
					lines = append(lines, r.Line)
				}
				calendar, err := Calendar(p)
				if err != nil {
					t.Fatal(err)
				}
				traits := learned(n)
				for i := range traits {
					traits[i].Line = lines[i]
				}
				charts := []Chart{LeafMass(s), Shade(s), calendar, phoneCalendar(p), Traits(traits), phoneTraits(traits)}
				for _, c := range charts {
					d := mustDraw(t, c, nil)
					d.names(t, lines)
					const most = 500_000 // bytes, for 8 lines
					if n == 8 && len(d.raw) > most {
						t.Errorf("%s: %d bytes", c.Title, len(d.raw))
					}
				}
				if n > 0 {
					mustDraw(t, leafPanel(s, n-1), nil).names(t, lines[n-1:])
					mustDraw(t, shadePanel(s, n-1), nil).names(t, lines[n-1:])
				}
			})
		}
	}
}

func TestChartsAtAnyDate(t *testing.T) {
	for _, day := range []weather.Date{
		weather.NewDate(2012, 7, 17), weather.NewDate(2012, 7, 20), weather.NewDate(2012, 9, 30), weather.NewDate(2013, 1, 30),
		weather.NewDate(2013, 2, 10), weather.NewDate(2013, 3, 12), weather.NewDate(2013, 3, 15), weather.NewDate(2013, 6, 30),
	} {
		for _, n := range []int{3, 6} {
			s := season(n, day)
			mustDraw(t, LeafMass(s), nil)
			mustDraw(t, Shade(s), nil)
			mustDraw(t, Events(frosts(5, day)), nil)
			mustDraw(t, phoneEvents(frosts(5, day)), nil)
			p := picks(n, day)
			c, err := Calendar(p)
			if day > p.To {
				if err == nil {
					t.Errorf("%s: a calendar after its window", day)
				}
				continue
			}
			mustDraw(t, c, err)
			mustDraw(t, phoneCalendar(p), nil)
		}
	}
}

func TestOddSeasons(t *testing.T) {
	cases := map[string]func(s *forecast.Season){
		"no leaf at all": func(s *forecast.Season) {
			for i := range s.Plantings {
				for j := range s.Plantings[i].Days {
					d := &s.Plantings[i].Days[j]
					d.LeafG, d.LeafLoG, d.LeafHiG, d.GroundLight = 0, 0, 0, 1
				}
				s.Plantings[i].Notes = nil
			}
		},
		"holes in the numbers": func(s *forecast.Season) {
			for j := 40; j < 90; j += 7 {
				s.Plantings[0].Days[j].LeafG = math.NaN()
				s.Plantings[0].Days[j+1].LeafHiG = math.Inf(1)
				s.Plantings[0].Days[j+2].GroundLight, s.Plantings[0].Days[j+3].WeedCover = math.NaN(), math.NaN()
			}
			s.Plantings[0].Notes[0].Value = math.NaN()
			s.Events[0].MinCanopyC = math.NaN()
		},
		"no days":   func(s *forecast.Season) { s.Plantings[0].Days = nil },
		"one day":   func(s *forecast.Season) { s.Plantings[0].Days = s.Plantings[0].Days[:1] },
		"sown late": func(s *forecast.Season) { s.Plantings[0].Days = s.Plantings[0].Days[260:] },
		"still frozen": func(s *forecast.Season) {
			e := &s.Events[len(s.Events)-1]
			e.Open, e.End, e.ThawPeakC = true, weather.Hour{}, math.NaN()
		},
		"bitter cold": func(s *forecast.Season) { s.Events[0].MinCanopyC = -31.4 },
		"no names": func(s *forecast.Season) {
			s.Plantings[0].Line, s.Plantings[0].Planting = "", ""
		},
		"twins": func(s *forecast.Season) {
			s.Plantings = append(s.Plantings, s.Plantings[0])
			s.Plantings[len(s.Plantings)-1].Planting = "P99"
		},
		"no grip": func(s *forecast.Season) { s.GripG = 0 },
	}
	for name, change := range cases {
		for _, n := range []int{1, 6} {
			t.Run(fmt.Sprintf("%s, %d", name, n), func(t *testing.T) {
				s := season(n, november)
				change(s)
				mustDraw(t, LeafMass(s), nil)
				mustDraw(t, Shade(s), nil)
				mustDraw(t, leafPanel(s, 0), nil)
				mustDraw(t, shadePanel(s, 0), nil)
			})
		}
	}
}

func TestCalendarPrintsTheOdds(t *testing.T) {
	p := picks(8, november)
	p.Rows[2].Dates[7].All = 0.7999 // 22 November: still under the assurance
	p.Rows[3].Dates[0].All = 1
	p.Rows[4].Dates[0].All = math.NaN()
	c, err := Calendar(p)
	d := mustDraw(t, c, err)
	var printed []string
	for _, x := range d.texts {
		printed = append(printed, x.text)
	}
	all := "|" + strings.Join(printed, "|") + "|"
	dates := calendarDates(p, 20)
	if !slices.Contains(dates, p.From) || !slices.Contains(dates, p.To) || dates[0] != p.AsOf {
		t.Errorf("columns %v", dates)
	}
	for _, r := range p.Rows {
		var want []string
		for _, day := range dates {
			odds := r.Dates[day-p.AsOf].All
			text := "–"
			if !math.IsNaN(odds) {
				text = strconv.Itoa(int(math.Trunc(odds*100 + 1e-9)))
			}
			want = append(want, text)
		}
		if row := "|" + strings.Join(want, "|") + "|"; !strings.Contains(all, row) {
			t.Errorf("%s: %s is not printed", r.Line, row)
		}
	}
}

func TestPercent(t *testing.T) {
	for _, c := range []struct {
		odds  float64
		want  string
		class int
	}{
		{0, "0", 0}, {0.199, "19", 0}, {0.2, "20", 1}, {0.29, "29", 1}, {0.5, "50", 2}, {0.7999, "79", 2}, {0.8, "80", 3},
		{0.999, "99", 3}, {1, "100", 3}, {math.NaN(), "–", -1},
	} {
		if got := percent(c.odds); got != c.want {
			t.Errorf("%v: %s, want %s", c.odds, got, c.want)
		}
		if got := oddsClass(c.odds, 0.8); got != c.class {
			t.Errorf("%v: class %d, want %d", c.odds, got, c.class)
		}
	}
}

func TestSameBytesEachTime(t *testing.T) {
	var first []byte
	for range 3 {
		var b bytes.Buffer
		if err := page(5, november, true).HTML(&b); err != nil {
			t.Fatal(err)
		}
		for _, c := range []Chart{LeafMass(season(3, november)), Shade(season(3, november)), Events(frosts(6, november)), Traits(learned(6))} {
			if err := c.SVG(&b); err != nil {
				t.Fatal(err)
			}
		}
		if err := Traits(learned(2)).PNG(&b); err != nil {
			t.Fatal(err)
		}
		if first != nil && !bytes.Equal(first, b.Bytes()) {
			t.Fatal("the same results gave other bytes")
		}
		first = b.Bytes()
	}
}
