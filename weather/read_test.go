package weather

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"wintertop/weather/table"

	"github.com/google/go-cmp/cmp"
)

// said gives the findings as "line severity: what", without the notes about
// columns that are not used.
func said(seen table.Findings) []string {
	var lines []string
	for _, f := range seen {
		if !strings.HasPrefix(f.What, "columns not used") {
			lines = append(lines, fmt.Sprintf("%d %s: %s", f.Line, f.Severity, f.What))
		}
	}
	return lines
}

// july gives a plain file of n days from 1 July 2012 at 12 to 21 °C, its
// replaced rows, counted from 1, put in.
func july(n int, replaced map[int]string) string {
	var b strings.Builder
	b.WriteString("date,tmin,tmax,rain\n")
	for i := 1; i <= n; i++ {
		row, ok := replaced[i]
		if !ok {
			row = fmt.Sprintf("%s,12.%d,21,0", NewDate(2012, 7, i), i%7)
		}
		b.WriteString(row + "\n")
	}
	return b.String()
}

func TestFindingsThatLeaveARecord(t *testing.T) {
	for _, c := range []struct {
		name, text string
		how        Reading
		want       []string
		day        Date
		state      State
	}{
		{"minimum above maximum", july(9, map[int]string{4: "2012-07-04,22,21,3"}), Reading{},
			[]string{"5 warning: the minimum 22 is above the maximum 21: both are taken as missing"}, NewDate(2012, 7, 4), Missing},
		// A real record of a coastal airport, 20 November 1951, in °F (NOAA daily record).
		{"a real one", "date,tmax (°F),tmin (°F)\n1951-11-19,50,39\n1951-11-20,4,39\n1951-11-21,45,39\n", Reading{},
			[]string{"3 warning: the minimum 39 is above the maximum 4: both are taken as missing"}, NewDate(1951, 11, 20), Missing},
		{"same day, same values", july(9, map[int]string{4: "2012-07-03,12.3,21.0,0"}), Reading{},
			[]string{"5 note: 2012-07-03 stands on line 4 already, with the same values"}, NewDate(2012, 7, 4), Missing},
		{"out of order", july(9, map[int]string{4: "2012-07-05,12,21,0", 5: "2012-07-04,12,21,0"}), Reading{},
			[]string{"6 warning: the dates are not in order: 1 row with a date before that of the row above"}, NewDate(2012, 7, 4), Observed},
		{"sentinels", july(9, map[int]string{4: "2012-07-04,-99.9,21,9999", 5: "2012-07-05,-99.9,21,0"}), Reading{},
			[]string{`5 note: "-99.9" in tmin stands for no value and is taken as missing (2 cells)`,
				`5 note: "9999" in rain stands for no value and is taken as missing (1 cell)`}, NewDate(2012, 7, 4), Missing},
		{"dates that wait for values", july(9, map[int]string{8: "2012-07-08,,,", 9: "2012-07-09,,,"}), Reading{},
			[]string{"9 note: no values from 2012-07-08 on (2 dates): the record ends before"}, NewDate(2012, 7, 7), Observed},
		{"a row of remarks", "date,tmin,tmax,remark\n2012-07-01,12,21,\n,,,dry month\n", Reading{},
			[]string{"3 note: a row without date and values"}, NewDate(2012, 7, 1), Observed},
		{"an unknown unit", "date,tmin (screen),tmax\n2012-07-01,12,21\n", Reading{},
			[]string{`1 warning: "screen" in the header is no unit known here; column "tmin (screen)" is read in °C`}, NewDate(2012, 7, 1), Observed},
		{"a spike", july(9, map[int]string{4: "2012-07-04,-19,21,0"}), Reading{},
			[]string{"5 warning: -19.0 °C lies 31.3 °C off the days before and after it", "5 warning: the minimum -19.0 °C lies 40.0 °C below every maximum of three days"}, NewDate(2012, 7, 4), Observed},
		{"a trace of rain", july(9, map[int]string{4: "2012-07-04,12,21,T"}), Reading{}, nil, NewDate(2012, 7, 4), Observed},
		{"a time of day after the date", "date,tmin,tmax\n2012-07-01T00:00:00Z,12,21\n2012-07-02 09:00,12,21\n", Reading{}, nil, NewDate(2012, 7, 2), Observed},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, seen, err := Read(strings.NewReader(c.text), "s.csv", c.how)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c.want, said(seen)); diff != "" {
				t.Error(diff)
			}
			if day, ok := r.Day(c.day); !ok || day.State != c.state || (day.State == Observed) == (math.IsNaN(day.MinC) || math.IsNaN(day.MaxC)) {
				t.Errorf("got %+v, %v", day, ok)
			}
		})
	}
}

// Each fault that a grower's spreadsheet, or a wrong file, brings: the message
// names the line and says what is wrong, the hint what to do.
func TestFaults(t *testing.T) {
	one := func(row string) string { return july(9, map[int]string{4: row}) }
	year := func(low, high float64, header string) string {
		var b strings.Builder
		b.WriteString(header + "\n")
		for d := NewDate(2012, 1, 1); d <= NewDate(2012, 12, 31); d++ {
			season := -math.Cos(2 * math.Pi * float64(d.DayOfYear()) / 366)
			mean := low + (high-low)*(1+season)/2
			fmt.Fprintf(&b, "%s,%.0f,%.0f\n", d, mean-(high-low)/8, mean+(high-low)/8)
		}
		return b.String()
	}
	for _, c := range []struct {
		name, text string
		how        Reading
		want       string // "line: what", the start of the first fault
		hint       string // part of it
	}{
		{"text for a number", one("2012-07-04,cold,21,0"), Reading{}, `5: tmin: "cold" is not a number`, ""},
		{"decimal comma in a comma file", one(`2012-07-04,"12,5",21,0`), Reading{}, `5: tmin: "12,5" is not a number`, "decimal comma"},
		{"cells run on", one("2012-07-04,12,5,21,0"), Reading{}, "5: 5 cells where the header has 4", "as many cells as the header"},
		{"a cell left out", one("2012-07-04,12,21"), Reading{}, "5: 3 cells where the header has 4", ""},
		{"infinite", one("2012-07-04,12,Inf,0"), Reading{}, `5: tmax: "Inf" is not a number`, ""},
		{"hexadecimal", one("2012-07-04,0x1F,21,0"), Reading{}, `5: tmin: "0x1F" is not a number`, ""},
		{"too large", one("2012-07-04,12,1e400,0"), Reading{}, `5: tmax: "1e400" is too large`, ""},
		{"with its unit", one("2012-07-04,12 °C,21,0"), Reading{}, `5: tmin: "12 °C" is not a number`, ""},
		{"a slip of the pen", one("2012-07-04,12,75,0"), Reading{}, "5: tmax 75 °C cannot be", "correct the cell or leave it blank; if the whole column is in °F, add --units us"},
		{"rain below zero", one("2012-07-04,12,21,-3"), Reading{}, "5: rain -3 mm cannot be", "correct the cell"},
		{"a flood", one("2012-07-04,12,21,2500"), Reading{}, "5: rain 2500 mm cannot be", ""},
		{"another day's date", one("2012-07-03,15,21,0"), Reading{}, `5: 2012-07-03 stands on line 4 already, with other values: tmin is "12.3" there and "15" here`, "keep one"},
		{"no date", one(",12,21,0"), Reading{}, "5: a row with values has no date", ""},
		{"a word for a date", one("yesterday,12,21,0"), Reading{}, `5: "yesterday" is not a date`, "2012-03-04"},
		{"a day that is not", one("2012-06-31,12,21,0"), Reading{}, `5: "2012-06-31": there is no day 31 in month 6 of 2012`, ""},
		{"a leap day that is not", one("2011-02-29,12,21,0"), Reading{}, `5: "2011-02-29": there is no day 29`, ""},
		{"month 13", one("2012-13-04,12,21,0"), Reading{}, `5: "2012-13-04": there is no day 4 in month 13`, ""},
		{"a year too early", one("1699-07-04,12,21,0"), Reading{}, `5: "1699-07-04": year 1699 is outside 1700 to 2199`, ""},
		{"a year too late", one("2200-07-04,12,21,0"), Reading{}, `5: "2200-07-04": year 2200`, ""},
		{"two-digit year", one("04/07/12,12,21,0"), Reading{}, `5: the year in "04/07/12" does not have four digits`, "four digits"},
		{"two-digit year after a name", one("04-Jul-12,12,21,0"), Reading{}, `5: the year in "04-Jul-12" does not`, "four digits"},
		{"a spreadsheet's day number", one("41094,12,21,0"), Reading{}, `5: "41094" is not a date`, "day number"},
		{"a loose quotation mark", one(`2012-07-04,12,21,0"`), Reading{}, "5: a quotation mark stands alone", "double"},
		{"day or month first", "date,tmin,tmax\n03/04/2012,1,9\n04/05/2012,1,9\n", Reading{}, `2: "03/04/2012" may have the day or the month first`, "--date-order dmy or --date-order mdy"},
		{"day and month first", "date,tmin,tmax\n03/24/2012,1,9\n24/05/2012,1,9\n", Reading{}, `3: "24/05/2012" here and "03/24/2012" on line 2 cannot both`, ""},
		{"order told wrongly", "date,tmin,tmax\n03/24/2012,1,9\n", Reading{DateOrder: "dmy"}, `2: "03/24/2012": there is no day 3 in month 24`, ""},
		{"two columns for one field", "date,tmin,tmax,Temp max\n2012-07-01,1,9,9\n", Reading{}, `1: two columns for tmax: "tmax" and "Temp max"`, ""},
		{"no maximum", "date,tmin,tmean\n2012-07-01,1,9\n", Reading{}, `1: no column for tmax; found "date", "tmin", "tmean"`, ""},
		{"no date column", "when,tmin,tmax\n2012-07-01,1,9\n", Reading{}, `1: no column for date (or year, month and day, or year and day_of_year)`, ""},
		{"another file", "line,kind,pedigree\nL1,check,\n", Reading{}, `1: no column of a station history; found "line", "kind", "pedigree"`, "date, tmin, tmax"},
		{"empty", "", Reading{}, "0: is empty", "date, tmin, tmax"},
		{"header only", "# mine\ndate,tmin,tmax\n\n,,\n", Reading{}, "2: has no rows below the header", ""},
		{"no values", "date,tmin,tmax\n2012-07-01,,\n2012-07-02,NA,\n", Reading{}, "1: no day has any value", ""},
		{"no pair", "date,tmin,tmax\n2012-07-01,1,\n2012-07-02,,7\n", Reading{}, "1: no day has both a minimum and a maximum", ""},
		{"columns swapped", "date,tmin,tmax\n2012-07-01,21,12\n2012-07-02,20,11\n", Reading{}, "1: the minimum is above the maximum on every day", "swapped"},
		{"example left in", one("EXAMPLE 2012-07-04,12,21,0"), Reading{}, `5: still the example row that start wrote: "EXAMPLE 2012-07-04"`, "delete the row"},
		{"unit of something else", "date,tmin_mm,tmax\n2012-07-01,1,9\n", Reading{}, `1: column "tmin_mm" cannot be in mm`, ""},
		{"two places", "station,date,tmin,tmax\nA,2012-07-01,1,9\nB,2012-07-01,2,9\n", Reading{}, `3: a row of "B" in a file of "A"`, "each place"},
		{"year column of two digits", "year,month,day,tmin,tmax\n12,7,1,1,9\n", Reading{}, `2: the year "12" does not have four digits`, ""},
		{"day 366 of a common year", "year,doy,tmin,tmax\n2011,366,1,9\n", Reading{}, "2: there is no day 366 in 2011", ""},
		{"words in a date column", "year,month,day,tmin,tmax\n2012,7,x,1,9\n", Reading{}, `2: "x" in the date "2012-7-x" is not a whole number`, ""},
		{"tenths as °C", year(0, 240, "date,tmin,tmax"), Reading{}, "179: tmax 270 cannot be in °C", "tenths of"},
		{"°F as °C", year(33, 72, "date,tmin,tmax"), Reading{}, "173: tmax 77 cannot be in °C", "the values look like °F: add --units us or put the unit into the header, such as tmax (°F)"},
		{"°F under a header of °C", year(33, 72, "date,tmin_c,tmax_c"), Reading{}, "173: tmax_c 77 cannot be in °C", "the values look like °F: put the unit into the header, such as tmax (°F)"},
		{"kelvin as °C", year(273, 295, "date,tmin,tmax"), Reading{}, "172: tmax 298 cannot be in °C", "look like K"},
		{"three days of July at 300", "date,tmin,tmax\n2012-07-01,120,300\n2012-07-02,130,290\n2012-07-03,110,280\n", Reading{}, "2: tmax 300 cannot be in °C", "tenths"},
		{"one day of July at 75", "date,tmin,tmax\n2012-07-01,55,75\n", Reading{}, "2: tmax 75 cannot be in °C", "--units us"},
		{"°C as °F", year(0, 22, "date,tmin,tmax"), Reading{Units: "us"}, "1: read in °F, only one day in a hundred is warmer than -3.9 °C", "--units metric"},
		{"°C as tenths", year(0, 22, "date,tmin,tmax"), Reading{Units: "tenths"}, "1: read in 0.1 °C, only one day in a hundred is warmer than 2.5 °C", "--units"},
		{"decimals as tenths", "date,tmin,tmax\n2012-07-01,12.5,21.3\n2012-07-02,12.5,21.3\n", Reading{Units: "tenths"}, "1: 4 of 4 temperatures have decimals", "--units metric"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := Read(strings.NewReader(c.text), "s.csv", c.how)
			var input *table.InputError
			if !errors.As(err, &input) {
				t.Fatalf("got %v", err)
			}
			f := input.Faults[0]
			if f.Line == 5 && f.Column != "" && f.Column != "date" && f.Date == "" {
				t.Errorf("no date in %+v", f)
			}
			if got := fmt.Sprintf("%d: %s", f.Line, f.What); !strings.HasPrefix(got, c.want) {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
			if !strings.Contains(f.Hint, c.hint) {
				t.Errorf("hint %q lacks %q", f.Hint, c.hint)
			}
			if len(input.Faults) > 1 && c.name != "two-digit year" {
				t.Errorf("%d faults: %v", len(input.Faults), err)
			}
		})
	}
}

func TestEveryFaultOfAFileIsNamed(t *testing.T) {
	_, _, err := Read(strings.NewReader(july(12, map[int]string{2: "2012-07-02,a,21,0", 5: "x,1,2", 7: "2012-07-07,1,99,b", 9: "July,1,2,3"})), "s.csv", Reading{})
	want := `s.csv:3: tmin: "a" is not a number
s.csv:6: 3 cells where the header has 4: "x,1,2"
hint: give every row as many cells as the header; put cells that hold the separator into quotation marks
s.csv:8: rain: "b" is not a number
s.csv:8: tmax 99 °C cannot be: it is outside -89.2 to 56.7 °C
hint: correct the cell or leave it blank; if the whole column is in °F, add --units us or put the unit into the header, such as tmax (°F)
s.csv:10: "July" is not a date
hint: write dates as 2012-03-04`
	if diff := cmp.Diff(want, fmt.Sprint(err)); diff != "" {
		t.Error(diff)
	}
}

func TestWordsOfReading(t *testing.T) {
	for _, how := range []Reading{{Units: "imperial"}, {DateOrder: "ymd"}} {
		_, _, err := Read(strings.NewReader(july(3, nil)), "s.csv", how)
		var input *table.InputError
		if err == nil || errors.As(err, &input) {
			t.Errorf("%+v: %v", how, err)
		}
	}
}

// GHCN-Daily's units and quality flags: NOAA, GHCN-Daily readme.
func TestGHCNDaily(t *testing.T) {
	wide := "STATION,DATE,SNWD,SNWD_ATTRIBUTES,TMAX,TMAX_ATTRIBUTES,TMIN,TMIN_ATTRIBUTES,PRCP,PRCP_ATTRIBUTES\n" +
		"XX1,2012-01-01,51,\",,S\",35,\",,S\",-22,\",,S\",35,\",,S\"\n" +
		"XX1,2012-01-02,,,900,\",G,S\",-9999,\",,S\",0,\"T,,S\"\n"
	long := "XX000000001,20120101,TMAX,35,,,S,\nXX000000001,20120101,TMIN,-22,,,S,\nXX000000001,20120101,PRCP,35,,,S,\nXX000000001,20120101,SNWD,51,,,S,\n" +
		"XX000000001,20120101,TOBS,11,,,S,\nXX000000001,20120102,TMAX,900,,G,S,\nXX000000001,20120102,TMIN,-9999,,,S,\nXX000000001,20120102,PRCP,0,T,,S,\n"
	for name, text := range map[string]string{"wide": wide, "long": long, "long with header": "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n" + long} {
		t.Run(name, func(t *testing.T) {
			r, seen, err := Read(strings.NewReader(text), "s.csv", Reading{})
			if err != nil {
				t.Fatal(err)
			}
			first, second := r.Days[0], r.Days[1]
			if first.MinC != -2.2 || first.MaxC != 3.5 || first.RainMM != 3.5 || first.SnowCM != 5.1 || first.State != Observed {
				t.Errorf("got %+v", first)
			}
			if !math.IsNaN(second.MaxC) || !math.IsNaN(second.MinC) || second.RainMM != 0 || !math.IsNaN(second.SnowCM) || second.State != Missing {
				t.Errorf("got %+v", second)
			}
			if len(said(seen)) != 2 || !strings.Contains(said(seen)[0]+said(seen)[1], `quality letter "G"`) {
				t.Errorf("got %q", said(seen))
			}
		})
	}
	_, _, err := Read(strings.NewReader(long+"XX000000001,20120101,TMIN,-30,,,S,\n"), "s.csv", Reading{})
	if want := `s.csv:9: TMIN on 20120101 is "-30" here and "-22" on line 2`; err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("got %v", err)
	}
	if r := mustRead(t, "DATE,TMAX,TMAX_ATTRIBUTES,TMIN,SNWD\n2012-01-01,50,,40,2\n", Reading{Units: "us"}); r.Days[0].SnowCM != 5.08 {
		t.Errorf("told to be in: %+v", r.Days[0])
	}
	if r := mustRead(t, "DATE,TMAX,TMAX_ATTRIBUTES,TMIN,SNWD\n2012-01-01,5,,4,20\n", Reading{Units: "metric"}); r.Days[0].SnowCM != 2 || r.Days[0].MaxC != 5 {
		t.Errorf("told to be metric: %+v", r.Days[0])
	}
	r := mustRead(t, strings.Replace(strings.ReplaceAll(wide, "900", "90"), ",35,", ",95.5,", 1), Reading{Units: "us"})
	if x := r.Days[0].MaxC; math.Abs(x-(95.5-32)/1.8) > 1e-6 {
		t.Errorf("told to be °F: %v", x)
	}
}

func TestSentinelsGoByTheUnit(t *testing.T) {
	for _, c := range []struct {
		q    quantity
		unit string
		x    float64
		want bool
	}{
		{minimum, "°C", -9999, true}, {maximum, "°F", 9999, true}, {minimum, "0.1 °C", 9999, true}, {minimum, "°C", -999, true}, {minimum, "°C", 999.9, true},
		{minimum, "°C", -99.9, true}, {minimum, "°C", -99, true}, {minimum, "0.1 °C", -99, false}, {maximum, "°C", 99.9, true}, {maximum, "°F", 99.9, false},
		{rain, "mm", 99.9, false}, {rain, "0.1 mm", 999, false}, {rain, "mm", 999, true}, {rain, "in", 99.99, true}, {rain, "mm", 99.99, false},
		{snowDepth, "mm", 999, false}, {snowDepth, "cm", 999, true}, {snowDepth, "mm", 9999, true}, {minimum, "°C", 0, false},
	} {
		if sentinel(c.q, c.unit, c.x) != c.want {
			t.Errorf("%s %v %s: %v", fieldOf[c.q], c.x, c.unit, !c.want)
		}
	}
	r, seen, err := Read(strings.NewReader("date,tmin (0.1 °C),tmax (0.1 °C),rain (0.1 mm)\n2012-01-01,-99,20,-1\n2012-01-02,-98,21,-1\n"), "s.csv", Reading{})
	if err != nil || r.Days[0].MinC != -9.9 || r.Days[0].RainMM != 0 || r.Days[1].RainMM != 0 || len(seen) != 1 ||
		seen[0].What != `"-1" in rain (0.1 mm) stands for less than can be measured and is taken as 0 (2 cells)` {
		t.Errorf("got %+v, %v, %v", r.Days, seen, err)
	}
}

func TestSnowIsInItsUnit(t *testing.T) {
	for header, want := range map[string]float64{"snow_depth": 12, "snow depth (cm)": 12, "snow_depth_in": 30.48, "Snow depth (mm)": 1.2} {
		r := mustRead(t, "date,tmin,tmax,"+header+"\n2012-01-01,-3,1,12\n", Reading{})
		if r.Days[0].SnowCM != want || !r.HasSnow || r.HasRain {
			t.Errorf("%s: %+v", header, r.Days[0])
		}
	}
	if r := mustRead(t, "date,tmin,tmax,snow_depth\n2012-01-01,20,30,12\n", Reading{Units: "us"}); r.Days[0].SnowCM != 30.48 {
		t.Errorf("us: %+v", r.Days[0])
	}
}
