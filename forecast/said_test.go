package forecast

import (
	"math"
	"slices"
	"strings"
	"testing"

	"wintertop/weather"
)

// Two counts that are not the same never read the same.
func TestWinterCountsAreToldApart(t *testing.T) {
	for _, c := range []struct {
		winters, beside float64
		want            string
	}{
		{26.2, 26.4, "26.2"}, {26.4, 26.2, "26.4"}, {26.4, 26.4, "26"}, {26, 27, "26"}, {15.8, 16, "15.8"},
	} {
		if got := winterCount(c.winters, c.beside); got != c.want {
			t.Errorf("%g winters beside %g read %s, want %s", c.winters, c.beside, got, c.want)
		}
	}
	p := &SowPlan{Met: 15.8, Wanted: 0.8, Played: make([]weather.WinterYear, 31), Short: "no area does it",
		Rows: []SowRow{{Line: "a", AreaM2: 10}}, Prices: []Price{{Wanted: 0.5, Kept: 16, AreaM2: math.NaN()}}}
	if words := p.Answer() + p.PriceWords()[1]; !strings.Contains(words, "only 15.8 of the 31") || !strings.Contains(words, "(16.0 of the 31 played)") {
		t.Error(words)
	}
}

// Where no winter has a fit day, that is said of all of them, and of one day as
// of a day.
func TestGroundWordsOfAllWinters(t *testing.T) {
	day := weather.NewDate(2027, 2, 28)
	p := &SowPlan{FitKnown: true, Played: make([]weather.WinterYear, 30), Weeks: []SowWeek{{Period: Period{From: day, Until: day}, NoFit: 30}}}
	if got, want := p.GroundWords()[0], "No day fit for machines came on 28 Feb in any of the 30 winters: lift earlier for those days and store."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	p.Weeks[0].NoFit, p.Weeks[0].Until, p.Ground = 12, day+6, "marsh"
	if got, want := p.GroundWords()[0], "No day fit for machines came at marsh from 28 Feb to 6 Mar in 12 of the 30 winters: keep some lifted roots in store."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// A crew that cannot lift the demand in any winter is named beside tops that do
// not hold.
func TestCrewIsNamedBesideTops(t *testing.T) {
	from := weather.NewDate(2027, 2, 1)
	p := &planner{years: make([]int, 2), periods: []Period{{from, from + 6, 500}}, ways: []way{{yieldKG: 5}}}
	p.supply.most = []float64{99} // of the 100 m² that 500 kg take at 5 kg/m²
	if k := p.tightest(); !p.crewShort(k) || !strings.HasPrefix(p.crewWords(k), "from 1 Feb to 7 Feb the crew can lift 99 m²") {
		t.Errorf("99 m²: %s", p.crewWords(k))
	}
	if p.supply.most[0] = 100; p.crewShort(0) {
		t.Error("100 m² are enough")
	}
}

// What a grower would say of a week, an area and roots that may have frozen.
func TestOrderIsSaidAsPeopleSpeak(t *testing.T) {
	none := math.NaN()
	row := func(share float64, reason string, rootNoFrost float64) Turn {
		return Turn{Pick: Pick{Verdict: TooWeak, Reason: reason, Dates: []PickDate{{RootNoFrost: rootNoFrost}}}, Action: LookFirst, FitDays: none, InTime: none, ShareLost: share}
	}
	o := &Order{WeekFitDays: 1.02}
	for _, c := range []struct {
		turn Turn
		want string
	}{
		{row(0.998, "too little leaf", 0), "Look first, on no day is it sure enough: too little leaf; nearly all of it lost."},
		{row(0.004, RootsFrozen, 0.5), "Look first, on no day is it sure enough: roots frozen; hardly any of it lost."},
		{row(0.09, RootsFrozen, 0), "Look first and cut some roots, which may have frozen already; about 9 % of it lost if they are sound."},
	} {
		if got := o.say(c.turn); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	o.Rows = []Turn{row(0.5, "too little leaf", 1)}
	if got, want := o.Answer([]string{"a"}), "This week (1 fit day expected): look first at a."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Where there is room for some rows only, those that can be lifted are said.
func TestWhatCanBeLiftedIsSaidFirst(t *testing.T) {
	o := &Order{Rows: []Turn{{Action: LookFirst}, {Action: LiftNow}, {Action: LookFirst}, {Action: LiftBy}}}
	for room, want := range [][]int{nil, {1}, {1, 3}, {0, 1, 3}, {0, 1, 2, 3}, {0, 1, 2, 3}} {
		if got := o.Said(room); !slices.Equal(got, want) {
			t.Errorf("room for %d: rows %v, want %v", room, got, want)
		}
	}
}

// A difference below the printed digits is none: of 400 m² a tenth of a percent,
// of 400 000 m² a square metre.
func TestOrdersAlikeInPrintAreAlike(t *testing.T) {
	small, large := &Order{AreaM2: 400}, &Order{AreaM2: 400_000}
	if small.printed(100.1) != small.printed(100) || small.printed(100.5) == small.printed(100) {
		t.Error("400 m²: 0.1 m² is no difference, 0.5 m² is one")
	}
	if large.printed(100.1) != large.printed(100) || large.printed(101) == large.printed(100) {
		t.Error("400 000 m²: 0.1 m² is no difference, 1 m² is one")
	}
}

// One planting has no order to speak of.
func TestOnePlantingHasNoOrder(t *testing.T) {
	o := &Order{AreaM2: 48, Traces: 32, Rows: make([]Turn, 1), Rules: []RuleResult{{Rule: EarliestFirst, ShareLost: 0.152, Recommended: true}, {Rule: LargestFirst, ShareLost: 0.152}}}
	if got, want := o.RulesWords(), "Of its 48 m² 15.2 % are lost in the mean of 32 past winters."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
