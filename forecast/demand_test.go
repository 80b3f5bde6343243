package forecast

import (
	"strconv"
	"strings"
	"testing"

	"wintertop/weather"
)

func readsDemand(t *testing.T, text string) *Demand {
	t.Helper()
	d, _, err := ReadDemand(strings.NewReader(text), "demand.csv")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Ten days are a week and three days, the kg spread over them evenly.
func TestDemandIsCutIntoWeeks(t *testing.T) {
	north, south := weather.WinterYear{Year: 2026}, weather.WinterYear{Year: 2027, South: true}
	for _, c := range []struct {
		text   string
		winter weather.WinterYear
		want   string
	}{
		{"from,until,kg\n02-01,02-10,100\n", north, "2027-02-01 2027-02-07 70; 2027-02-08 2027-02-10 30"},
		{"from,until,kg\n12-29,01-02,50\n2027-02-28,02-29,10\n", north, "2026-12-29 2027-01-02 50; 2027-02-28 2027-02-28 10"},
		// ISO 8601: the first week of 2027 begins on 4 January, week 53 of 2026 on
		// 28 December (calendar).
		{"week,kg\n1,100\n53,40\n", north, "2026-12-28 2027-01-03 40; 2027-01-04 2027-01-10 100"},
		{"week;kg\n2027-W06;7,5\n", north, "2027-02-08 2027-02-14 7.5"},
		{"week,kg\n02-10,100\n", north, "2027-02-08 2027-02-14 100"},
		{"from,until,kg\n08-01,08-07,70\n", south, "2027-08-01 2027-08-07 70"},
	} {
		all, err := readsDemand(t, c.text).periods(c.winter)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		var words []string
		for _, p := range all {
			words = append(words, p.From.String()+" "+p.Until.String()+" "+strconv.FormatFloat(p.KG, 'g', 6, 64))
		}
		if got := strings.Join(words, "; "); got != c.want {
			t.Errorf("%q: %s, want %s", c.text, got, c.want)
		}
	}
}

func TestDemandRefusesNonsense(t *testing.T) {
	winter := weather.WinterYear{Year: 2026}
	for text, want := range map[string]string{
		"from,until,kg\n07-10,07-20,100\n":                  "outside the season",
		"from,until,kg\n2024-02-01,2024-02-07,100\n":        "outside the season",
		"from,until,kg\n02-10,02-01,100\n":                  "comes before",
		"from,until,kg\n02-01,02-10,100\n02-08,02-12,100\n": "asked for on line 2 already",
		"from,until,kg\n02-01,soon,100\n":                   `until "soon" is not a day`,
		"from,until,week,kg\n02-01,02-07,6,100\n":           "a week and a range",
		"week,kg\n99,100\n":                                 `week "99"`,
		"week,kg\n6,0\n":                                    "kg is 0",
		"week,kg\n6,-5\n":                                   "kg is -5",
		"week,kg\n6,1e300\n":                                `kg is "1e300", beyond 1000000000`,
		"week,kg\n2027-W53,5\n":                             `week "2027-W53"`, // the year has 52 weeks (calendar)
		"week,kg\n6,\n":                                     "no kg",
		"week,kg\n6,lots\n":                                 `"lots" is not a number`,
		"week,kg\n":                                         "no row",
		"week\n6\n":                                         "kg",
	} {
		d, _, err := ReadDemand(strings.NewReader(text), "demand.csv")
		if err == nil {
			_, err = d.periods(winter)
		}
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "demand.csv") {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
