package forecast

import (
	"context"
	"math"
	"testing"
	"testing/fstest"
)

// twoPlots is the shared trial with the plain line in three plots of one
// winter: the notes of A stand 1.4 above what is usual, those of B 1.4 below
// it, C has none.
func twoPlots(t *testing.T) fstest.MapFS {
	fsys := with(t, "plantings.csv", plantingsCSV+"A,plain,,2014-07-05,80,2014-09-10\nB,plain,,2014-07-05,80,2014-09-10\nC,plain,,2014-07-05,80,2014-09-10\n")
	fsys["notes.csv"] = &fstest.MapFile{Data: []byte(notesCSV +
		"2014-10-10,A,leaf_mass,30.8,g,30\n2014-10-25,A,leaf_mass,30.8,g,30\n2014-11-08,A,leaf_mass,30.8,g,30\n" +
		"2014-10-10,B,leaf_mass,15.7,g,30\n2014-10-25,B,leaf_mass,15.7,g,30\n2014-11-08,B,leaf_mass,15.7,g,30\n")}
	return fsys
}

// A planting follows its own notes as far as they tell its plot from the line:
// of two plots that differ by D in ln leaf mass, noted on three dates with 30
// plants each, D·s is believed, s = 2σ²/(2σ² + 2·0.6²/90) with σ the plots' SD
// (best linear unbiased prediction). ln leaf mass follows ln top size within a
// tenth, and the grid is 0.09 wide.
func TestAPlantingFollowsItsOwnNotes(t *testing.T) {
	_, l, o := look(t, twoPlots(t), "2014-11-15")
	on := func(planting, date string) SeasonDay {
		for _, p := range o.Season.Plantings {
			if p.Planting != planting {
				continue
			}
			for _, d := range p.Days {
				if d.Date.String() == date {
					return d
				}
			}
		}
		t.Fatalf("%s has no %s", planting, date)
		return SeasonDay{}
	}
	plots := square(l.params.PlotMassSDLn)
	want := math.Log(30.8/15.7) * plots / (plots + 0.36/90)
	for _, date := range []string{"2014-10-25", "2014-11-15"} {
		a, b, c := on("A", date), on("B", date), on("C", date)
		if got := math.Log(a.LeafG / b.LeafG); math.Abs(got-want) > 0.1*want {
			t.Errorf("%s: ln of A over B %.3f, want %.3f", date, got, want)
		}
		if !(a.LeafG > c.LeafG && c.LeafG > b.LeafG) {
			t.Errorf("%s: %.1f, %.1f and, without notes, %.1f g", date, a.LeafG, b.LeafG, c.LeafG)
		}
		width := func(d SeasonDay) float64 { return math.Log(d.LeafHiG / d.LeafLoG) }
		if !(width(a) < 0.9*width(c) && width(b) < 0.9*width(c)) {
			t.Errorf("%s: bands of A, B and, without notes, C: %.2f, %.2f, %.2f of ln", date, width(a), width(b), width(c))
		}
	}
	odds, sum := map[string]float64{}, 0.0
	for _, r := range o.Picks.Rows {
		odds[r.Planting] = r.Dates[len(r.Dates)-1].Lift
		sum += r.ChanceBest
	}
	if !(odds["A"] > odds["C"] && odds["C"] > odds["B"]) {
		t.Errorf("chances of lifting on the last day: A %.3f, C %.3f, B %.3f", odds["A"], odds["C"], odds["B"])
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("chance_best sums to %g", sum)
	}
}

// Without notes of mass in the season a planting has no deviation of its own,
// and what its other notes say of the line is all there is.
func TestPlotsWithoutNotesShareARow(t *testing.T) {
	trial := loadAsOf(t, with(t, "plantings.csv", plantingsCSV+"A,plain,,2014-07-05,80,2014-09-10\n"), "2014-11-15")
	l, goal := learn(t, trial), goalOf(t, "2014-11-15")
	rows, _, err := l.rowsOf(context.Background(), trial, trial.Places[0], goal.Winter)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		if want := map[bool]int{true: 2, false: 1}[trial.Lines[r.line].Name == "plain"]; len(r.plantings) != want || r.noted {
			t.Errorf("%s: %d plantings in its row, want %d; noted %v", trial.Lines[r.line].Name, len(r.plantings), want, r.noted)
		}
	}
	looks, _, err := Look(context.Background(), trial, l, goal)
	if err != nil {
		t.Fatal(err)
	}
	byPlanting := map[string]Pick{}
	for _, r := range looks[0].Picks.Rows {
		byPlanting[r.Planting] = r
	}
	if byPlanting["A"].ChanceBest != byPlanting["plain14"].ChanceBest {
		t.Error("plots alike have different chances to be best")
	}
}
