package weather

import (
	"io"
	"math"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Frost day minimum < 0, strict: ETCCDI FD. Severe freeze–thaw day minimum
// ≤ -2.2 with a maximum ≥ 0: Schmidlin et al. 1987.
func TestDayCountThresholds(t *testing.T) {
	for _, c := range []struct {
		low, high                      float64
		frost, ice, freezeThaw, severe int
	}{
		{-2.1, 4, 1, 0, 1, 0},
		{-2.2, 0, 1, 0, 1, 1},
		{0, 5, 0, 0, 0, 0},
		{-2.2, -0.1, 1, 1, 0, 0},
		{-0.1, 0, 1, 0, 1, 0},
	} {
		r := Record{Days: []Day{{Date: NewDate(2012, 1, 1), MinC: c.low, MaxC: c.high, RainMM: math.NaN()}}}
		want := WinterCount{Winter: WinterYear{2011, false}, Days: 1, FrostDays: c.frost, IceDays: c.ice, FreezeThawDays: c.freezeThaw,
			SevereFreezeThawDays: c.severe, ColdestC: c.low, RainMM: math.NaN()}
		got := r.CountWinters(false)
		if len(got) != 1 || got[0].Winter != want.Winter || got[0].FrostDays != want.FrostDays || got[0].IceDays != want.IceDays ||
			got[0].FreezeThawDays != want.FreezeThawDays || got[0].SevereFreezeThawDays != want.SevereFreezeThawDays || got[0].ColdestC != want.ColdestC ||
			!math.IsNaN(got[0].RainMM) || got[0].Complete {
			t.Errorf("%v/%v: got %+v", c.low, c.high, got)
		}
	}
}

func TestOnlyObservedDaysAreCounted(t *testing.T) {
	nan := math.NaN()
	first := NewDate(2012, 6, 29)
	r := Record{HasRain: true, Days: []Day{
		{first, -5, 3, 1.5, nan, Observed},
		{first + 1, -9, nan, 2.5, nan, Missing}, // 30 June
		{first + 2, -4, 3, nan, nan, Filled},    // 1 July
		{first + 3, -3, -1, 0, nan, Observed},
	}}
	got := r.CountWinters(false)
	want := []WinterCount{
		{Winter: WinterYear{2011, false}, Days: 2, Missing: 1, FrostDays: 1, FreezeThawDays: 1, SevereFreezeThawDays: 1, ColdestC: -9, RainMM: 4},
		{Winter: WinterYear{2012, false}, Days: 2, Missing: 1, FrostDays: 1, IceDays: 1, ColdestC: -3, RainMM: 0},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if (Record{}).CountWinters(false) != nil {
		t.Error("winters of an empty record")
	}
}

// Statistics Netherlands, table of KNMI counts of ice and frost days at De Bilt.
func TestDeBiltFrostAndIceDays(t *testing.T) {
	r, _, err := Read(openFile(t, "debilt-daily-2000-2022.csv"), "de-bilt.csv", Reading{})
	if err != nil {
		t.Fatal(err)
	}
	counted := map[int]WinterCount{}
	for _, c := range r.CountWinters(true) { // calendar years
		counted[c.Winter.Year] = c
	}
	for year, want := range map[int][2]int{2009: {9, 56}, 2010: {29, 89}, 2012: {13, 50}, 2013: {13, 69}, 2014: {0, 26}} {
		c := counted[year]
		if c.IceDays != want[0] || c.FrostDays != want[1] || c.FreezeThawDays != want[1]-want[0] {
			t.Errorf("%d: %d ice days, %d frost days, %d freeze–thaw days; want %v", year, c.IceDays, c.FrostDays, c.FreezeThawDays, want)
		}
	}
}

// strictFreezeThaw counts October–March days with minimum < 0 < maximum in each
// winter from first to last.
func strictFreezeThaw(r Record, first, last int) (counts []int) {
	for year := first; year <= last; year++ {
		from, to := WinterYear{year, false}.FrostSeason()
		n := 0
		for _, d := range r.Slice(from, to) {
			if d.MinC < 0 && d.MaxC > 0 {
				n++
			}
		}
		counts = append(counts, n)
	}
	return counts
}

func leastMostMean(counts []int) (least, most int, mean float64) {
	least = math.MaxInt
	for _, n := range counts {
		least, most, mean = min(least, n), max(most, n), mean+float64(n)/float64(len(counts))
	}
	return least, most, mean
}

// Counts made independently from the same open records.
func TestKnownFreezeThawCounts(t *testing.T) {
	chicago, err := os.ReadFile("../testdata/chicago-daily-2001-2016.csv")
	if err != nil {
		t.Fatal(err)
	}
	if least, most, mean := leastMostMean(strictFreezeThaw(mustRead(t, string(chicago), Reading{Units: "us"}), 2001, 2015)); least != 37 || most != 65 || math.Abs(mean-50.3) > 0.05 {
		t.Errorf("Chicago: %d to %d, mean %.2f", least, most, mean)
	}
	for place, want := range map[string][2]int{"Seattle": {14, 19}, "New York": {49, 64}} {
		if least, most, _ := leastMostMean(strictFreezeThaw(mustRead(t, onePlaceOf(t, place), Reading{}), 2012, 2014)); least != want[0] || most != want[1] {
			t.Errorf("%s: %d to %d", place, least, most)
		}
	}
}

func TestNorderneyFreezeThawCounts(t *testing.T) {
	text, err := io.ReadAll(openFile(t, "norderney-daily-1947-2020.csv"))
	if err != nil {
		t.Fatal(err)
	}
	r := mustRead(t, string(text), Reading{})
	if least, most, mean := leastMostMean(strictFreezeThaw(r, 1947, 2018)); least != 6 || most != 62 || math.Abs(mean-28.9) > 0.05 {
		t.Errorf("%d to %d, mean %.2f", least, most, mean)
	}
}
