package forecast

import (
	"context"
	"errors"
	"math"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"wintertop/canopy"
	"wintertop/weather"
	"wintertop/weather/table"
)

// movesOf gives what each constant does on the shared trial, by name.
func movesOf(t testing.TB) (*Trial, map[string]float64) {
	t.Helper()
	trial := loadAsOf(t, folder(t), "2015-06-30")
	moves, err := Sensitivity(context.Background(), trial.Places[0], trial.Plantings[len(trial.Plantings)-1])
	if err != nil {
		t.Fatal(err)
	}
	byName := map[string]float64{}
	for i, c := range trial.Places[0].Site.Constants() {
		if _, twice := byName[c.Name]; twice {
			t.Errorf("two constants are named %s", c.Name)
		}
		byName[c.Name] = moves[i]
	}
	return trial, byName
}

func TestSensitivityByHand(t *testing.T) {
	trial, moves := movesOf(t)
	p := trial.Places[0]
	share := func(change func(*Site)) float64 {
		site := p.Site
		change(&site)
		sum := 0.0
		for _, sown := range []string{"2012-07-05", "2013-07-05"} {
			from := day(t, sown)
			w, err := weather.NewWinter(p.Filled.Slice(from, from+225), site.Weather) // 15 February
			if err != nil {
				t.Fatal(err)
			}
			s := canopy.Sow(canopy.Planting{Sown: from, PlantsPerM2: 80}, []canopy.Traits{{TopSize: 1, HardinessC: site.Params.HardinessC}}, site.Canopy)
			s.Grow(w, 0, 225, nil)
			sum += canopy.NewLifting(site.Canopy).Share(s.LeafG(nil)[0], s.RelativeHeight(nil)[0]*site.Params.TopLengthCM)
		}
		return sum / 2
	}
	for name, set := range map[string]func(*Site, float64){
		"drop_base":     func(s *Site, x float64) { s.Weather.Params.DropBaseC = x },
		"harden_mid":    func(s *Site, x float64) { s.Weather.Params.HardenMidC = x },
		"snow_e_fold":   func(s *Site, x float64) { s.Weather.Params.SnowEFoldCM = x },
		"leaf_interval": func(s *Site, x float64) { s.Canopy.LeafIntervalDegreeDays = x },
		"mass_sd_ln":    func(s *Site, x float64) { s.Canopy.MassLnSD = x },
		"belt_height":   func(s *Site, x float64) { s.Canopy.BeltHeightCM = x },
		"hardiness":     func(s *Site, x float64) { s.Params.HardinessC = x },
		"top_length":    func(s *Site, x float64) { s.Params.TopLengthCM = x },
	} {
		i := slices.IndexFunc(p.Site.Constants(), func(c weather.Constant) bool { return c.Name == name })
		c := p.Site.Constants()[i]
		want := share(func(s *Site) { set(s, c.High) }) - share(func(s *Site) { set(s, c.Low) })
		if name == "snow_e_fold" {
			want = math.NaN() // no snow in the record
		}
		if got := moves[name]; !(math.Abs(got-want) < 1e-12) && !(math.IsNaN(got) && math.IsNaN(want)) {
			t.Errorf("%s moves the share by %v, by hand %v", name, got, want)
		}
	}
}

func TestSensitivityDirections(t *testing.T) {
	_, moves := movesOf(t)
	for _, name := range []string{"belt_height", "grip_mass", "drop_base", "drop_per_degree", "hardiness", "unhardened_lt50", "background_loss", "injury_memory", "fall_share"} {
		if !(moves[name] < 0) {
			t.Errorf("%s: more of it moves the share by %v", name, moves[name])
		}
	}
	for _, name := range []string{"full_leaf", "harden_mid", "harden_rate", "top_length", "growth_of_light"} {
		if !(moves[name] > 0) {
			t.Errorf("%s: more of it moves the share by %v", name, moves[name])
		}
	}
	for _, name := range []string{"weed_growth", "standard_top", "counted_leaf", "pull_not_undercut", "max_lag", "snow_top", "radiation_coast", "plot_mass_sd_ln", "shade_limit", "hardiness_sd"} {
		if x, known := moves[name]; !known || !math.IsNaN(x) {
			t.Errorf("%s moves the share by %v", name, x)
		}
	}
}

func TestSensitivityOnOneProcessor(t *testing.T) {
	trial, moves := movesOf(t)
	before := trial.Places[0].Site
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	again, err := Sensitivity(context.Background(), trial.Places[0], trial.Plantings[len(trial.Plantings)-1])
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range trial.Places[0].Site.Constants() {
		if math.Float64bits(again[i]) != math.Float64bits(moves[c.Name]) {
			t.Errorf("%s: %v on one processor, %v on more", c.Name, again[i], moves[c.Name])
		}
	}
	if trial.Places[0].Site != before {
		t.Error("the place's own constants have changed")
	}
}

func TestSensitivityWithoutWinters(t *testing.T) {
	trial := loadAsOf(t, folder(t), "2015-06-30")
	first := trial.Plantings[0]
	first.Winter.Year, first.Sown = 2012, first.Sown-365
	_, err := Sensitivity(context.Background(), trial.Places[0], first)
	var input *table.InputError
	if !errors.As(err, &input) {
		t.Errorf("%v", err)
	}
}

func TestSameSowingInTheSouth(t *testing.T) {
	trial := loadAsOf(t, folder(t), "2015-06-30")
	p := alike(trial.Places[0])
	p.Site.Weather.LatitudeDeg = -47.4
	for _, r := range []*weather.Record{&p.Record, &p.Filled} {
		r.Days = slices.Clone(r.Days)
		for i := range r.Days {
			r.Days[i].Date += 184
		}
	}
	sown := day(t, "2015-01-05")
	seasons := p.sameSowing(Planting{Sown: sown, PlantsPerM2: 50, Winter: weather.WinterAfterSowing(sown, true)})
	var got []string
	for _, s := range seasons {
		got = append(got, s.planting.Sown.String(), s.days[0].Date.String(), s.days[len(s.days)-1].Date.String())
	}
	want := []string{"2013-01-05", "2013-01-05", "2013-08-15", "2014-01-05", "2014-01-05", "2014-08-15"}
	if !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
}

func TestSameSowingLeavesOutGaps(t *testing.T) {
	for missing, want := range map[string]string{
		"^no such day":           "2012-07-05 2013-07-05",
		"^201(2-1.|3-0.)-[0-3]5": "2013-07-05", // every tenth day: filled, but not complete
		"^2013-08-1":             "2012-07-05", // ten days of August: complete, but the crop cannot be followed
	} {
		var rows []string
		for row := range strings.Lines(seattle(t)) {
			if !regexp.MustCompile(missing).MatchString(row) {
				rows = append(rows, row)
			}
		}
		trial := loadAsOf(t, with(t, "station.csv", strings.Join(rows, "")), "2015-06-30")
		var got []string
		for _, s := range trial.Places[0].sameSowing(trial.Plantings[len(trial.Plantings)-1]) {
			got = append(got, s.planting.Sown.String())
		}
		if strings.Join(got, " ") != want {
			t.Errorf("without %s: %v, want %s", missing, got, want)
		}
	}
}
