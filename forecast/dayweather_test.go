package forecast

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"

	"wintertop/weather"
)

// Each day of a season says where its weather comes from: observed, filled in a
// short gap, the forecast given, past winters; days observed after a long gap
// are observed.
func TestDaysSayWhereTheirWeatherComesFrom(t *testing.T) {
	var station strings.Builder
	for _, row := range strings.SplitAfter(seattle(t), "\n") {
		long := row >= "2014-10-20" && row < "2014-10-27"
		short := row >= "2014-11-03" && row < "2014-11-05"
		if !long && !short {
			station.WriteString(row)
		}
	}
	fsys := with(t, "station.csv", station.String())
	fsys["ahead.csv"] = &fstest.MapFile{Data: []byte("date,tmin,tmax\n2014-11-16,3,9\n2014-11-17,2,8\n2014-11-18,,\n2014-11-19,1,7\n")}
	trial := loadAsOf(t, fsys, "2014-11-15")
	goal := goalOf(t, "2014-11-15")
	goal.Want = WantSeason
	looks, _, err := Look(context.Background(), trial, learn(t, trial), goal)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range looks[0].Season.Plantings[0].Days {
		want := WeatherObserved
		switch iso := d.Date.String(); {
		case iso == "2014-11-16", iso == "2014-11-17", iso == "2014-11-19":
			want = WeatherAhead
		case iso > "2014-11-15", iso >= "2014-10-20" && iso < "2014-10-27":
			want = WeatherPast
		case iso == "2014-11-03", iso == "2014-11-04":
			want = WeatherFilled
		}
		if d.Weather != want || d.Observed != (want == WeatherObserved || want == WeatherFilled) {
			t.Errorf("%s: %s, observed %v; want %s", d.Date, d.Weather, d.Observed, want)
		}
	}
}

// A short-range forecast that begins later than as-of was made later.
func TestAForecastMadeLaterIsNotUsed(t *testing.T) {
	for asOf, used := range map[string]bool{"2014-11-15": true, "2014-11-14": true, "2014-11-13": false, "2014-11-17": true} {
		fsys := folder(t)
		fsys["ahead.csv"] = &fstest.MapFile{Data: []byte("date,tmin,tmax\n2014-11-16,-9,-3\n")}
		trial, _, err := Load(opener(fsys), Files{}, weather.Reading{})
		if err != nil {
			t.Fatal(err)
		}
		cut, findings, err := trial.AsOf(day(t, asOf))
		if err != nil {
			t.Fatal(err)
		}
		said := false
		for _, f := range findings {
			said = said || f.File == "ahead.csv" && f.TreatedAs == "not used"
		}
		if got := len(cut.Places[0].Ahead) > 0; got != used || said == used {
			t.Errorf("as of %s a forecast from 16 November: used %v, said %v", asOf, got, said)
		}
	}
}
