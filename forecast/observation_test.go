package forecast

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Each trait of a note moves what is learned the way it should: one line for
// each row, all sown alike in one trial.
func TestEachTraitTeaches(t *testing.T) {
	length := func(l Learned) float64 { return l.TopLengthCM }
	size := func(l Learned) float64 { return l.TopSize }
	tender := func(l Learned) float64 { return l.HardinessC }
	cases := []struct {
		name, low, high string // what of a row comes after the planting, with a lower and a higher value of what is looked at
		date            string
		of              func(Learned) float64
	}{
		{"top height", "top_height,30,cm,10", "top_height,45,cm,10", "2013-10-15", length},
		{"top length", "top_length,30,cm,10", "top_length,45,cm,10", "2013-10-15", length},
		{"leaf mass", "leaf_mass,15,g,10", "leaf_mass,30,g,10", "2013-10-15", size},
		{"dry leaf mass", "leaf_dry_mass,2,g,10", "leaf_dry_mass,4,g,10", "2013-10-15", size},
		{"ground cover", "ground_cover,60,%,", "ground_cover,98,%,", "2013-10-15", size},
		{"leaf mass after frost", "leaf_mass,25,g,10", "leaf_mass,2,g,10", "2014-02-20", tender},
		{"live leaves after frost", "live_leaves,9,,10", "live_leaves,0,,10", "2014-02-20", tender},
		{"ground cover after frost", "ground_cover,0.9,,", "ground_cover,0,,", "2014-02-20", tender},
		{"weeds under what is left", "weed_cover,1,%,", "weed_cover,90,%,", "2014-03-30", tender},
		{"lifted share", "lifted_share,1,,20", "lifted_share,0,,20", "2014-02-20", tender},
	}
	plantings, lines, notes := "planting,line,place,sown,plants_per_m2\n", "line,kind\n", "date,planting,trait,value,unit,plants\n"
	for i, c := range cases {
		for side, row := range []string{c.low, c.high} {
			name := fmt.Sprintf("L%02d", 2*i+side)
			lines += name + ",candidate\n"
			plantings += name + "p," + name + ",,2013-07-05,80\n"
			notes += c.date + "," + name + "p," + row + "\n"
		}
	}
	fsys := with(t, "lines.csv", lines)
	fsys["plantings.csv"].Data, fsys["notes.csv"].Data = []byte(plantings), []byte(notes)
	trial := loadAsOf(t, fsys, "2014-11-15")
	trial.Places[0].Site.Params = fixed(trial.Places[0].Site.Params)
	l := learn(t, trial)
	for i, c := range cases {
		if low, high := c.of(l.Lines[2*i]), c.of(l.Lines[2*i+1]); !(high > low) {
			t.Errorf("%s: %.3f from the note that should give more, %.3f from the other", c.name, high, low)
		}
	}
}

func TestFrostedRootsAreKeptNotLearnedFrom(t *testing.T) {
	trial := loadAsOf(t, with(t, "notes.csv", "date,planting,trait,value,unit,plants\n2014-02-20,plain13,frosted_roots,40,%,20\n"), "2014-11-15")
	l, findings, err := Learn(t.Context(), trial)
	if err != nil {
		t.Fatal(err)
	}
	if l.Lines[1].Notes != 0 || !strings.Contains(fmt.Sprint(findings), "1 note of frosted_roots is kept") {
		t.Errorf("%d notes learned from; %v", l.Lines[1].Notes, findings)
	}
}

// Lifted shares by the binomial with the deviations of plot and trial: without
// them against gonum's binomial; the way to the empirical logit and back. With
// them no plant of 20 speaks less against a share of 0.2.
func TestLiftedShareIsABinomialCount(t *testing.T) {
	shares := []float64{0.001, 0.05, 0.2, 0.5, 0.8, 0.95}
	for lifted := 0.0; lifted <= 20; lifted++ {
		plain := countOf(lifted, 20, 0)
		for _, a := range shares {
			if back := shareOf(empiricalLogit(a, 20), 20); math.Abs(back-a) > 1e-9 {
				t.Fatalf("share %g comes back as %g", a, back)
			}
			for _, b := range shares {
				want := distuv.Binomial{N: 20, P: a}.LogProb(lifted) - distuv.Binomial{N: 20, P: b}.LogProb(lifted)
				got := plain.at(a) - plain.at(b)
				if math.Abs(got-want) > 0.03+0.001*math.Abs(want) { // straight lines between steps of 0.1
					t.Errorf("%g of 20: ln odds of %g against %g %.3f, binomial %.3f", lifted, a, b, got, want)
				}
			}
		}
	}
	odds := func(c count) float64 { return c.at(0.05) - c.at(0.2) }
	if plain, wide := odds(countOf(0, 20, 0)), odds(countOf(0, 20, 0.7)); !(wide > 1 && wide < 0.75*plain) {
		t.Errorf("ln odds of 0.05 against 0.2: %.2f with deviations, %.2f without", wide, plain)
	}
}

// A note of ground cover is one of ln leaf mass: the cover that the light index
// gives for a leaf mass leads back to it.
func TestGroundCoverIsLnLeafMass(t *testing.T) {
	for _, area := range []float64{0.05, 0.5, 2, 4} {
		if got := lnLeafArea(-math.Expm1(-0.55*area), 0.01); math.Abs(got-math.Log(0.55*area)) > 1e-12 {
			t.Errorf("leaf area %g: %g, want %g", area, got, math.Log(0.55*area))
		}
	}
	if none, full := lnLeafArea(0, 0.01), lnLeafArea(1, 0.01); math.IsInf(none, 0) || math.IsInf(full, 0) {
		t.Errorf("no cover %g, full cover %g", none, full)
	}
}

// Where frost has left next to nothing, the deviation of plot and trial does
// not show: the share goes from 1 to 0 with the mass.
func TestDeviationsShowByWhatIsLeft(t *testing.T) {
	p := Standard()
	site := standardSite()
	for _, c := range []struct{ g, share float64 }{{30, 0.995}, {0.02 / 0.14, 0.5}, {0, 0}} {
		r := readingOf(Note{Trait: LeafMass, Value: c.g, Plants: 10}, 0, p, site.Canopy)
		if math.Abs(r.share-c.share) > 1e-3 {
			t.Errorf("%g g: a share of %g shows, want %g", c.g, r.share, c.share)
		}
		if !(r.variance > 0) {
			t.Errorf("%g g: variance %g", c.g, r.variance)
		}
	}
}

// The spreads of open data on carrot, Turner et al. 2018 (row data, REML: ln dry
// leaf mass, line .349, line × environment .0645, plot .1389), lie within the
// ranges that the constants allow.
func TestPublishedSpreadsAreWithinTheRanges(t *testing.T) {
	p, compared := Standard(), 0
	for _, c := range p.Constants() {
		variance, ok := map[string]float64{"size_sd_ln": .349, "line_winter_size_sd_ln": .0645, "plot_mass_sd_ln": .1389}[c.Name]
		if sd := math.Sqrt(variance); ok && (sd < c.Low || sd > c.High) {
			t.Errorf("%s: published %.3f, range %g to %g", c.Name, sd, c.Low, c.High)
		}
		if ok {
			compared++
		}
	}
	if compared != 3 {
		t.Errorf("%d of 3 spreads compared", compared)
	}
}
