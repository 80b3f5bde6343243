package forecast

import (
	"math"
	"slices"
	"testing"
)

func TestParentsFromThePedigree(t *testing.T) {
	lines := []Line{{Name: "A1"}, {Name: "A12"}, {Name: "B-3"}, {Name: "C"}, {}}
	for _, c := range []struct {
		pedigree string
		want     []int
	}{
		{"A1 x B-3", []int{0, 2}},
		{"B-3 × A12, third selection", []int{2, 1}},
		{"selection from A12", []int{1}},
		{"A1/C//B-3", []int{0, 3}},
		{"A123 x B-31", nil},
		{"open pollinated, Carrot", nil},
		{"", nil},
	} {
		lines[4] = Line{Name: "own", Pedigree: c.pedigree}
		if got := parentsOf(lines, 4); !slices.Equal(got, c.want) {
			t.Errorf("%q: %v, want %v", c.pedigree, got, c.want)
		}
	}
}

// A line without notes starts from its parents' mean, with half the variance
// between lines and half of what is not known of them; one parent listed, half
// way from the population; a value of its own in lines.csv goes before.
func TestOffspringStartFromTheirParents(t *testing.T) {
	lines := "line,kind,pedigree,hardiness_c,hardiness_c_sd\nstout,candidate,,,\nplain,check,,,\nunseen,candidate,stout x plain,,\nhalf,candidate,selection from stout,,\ntold,candidate,stout x plain,-8,0.3\nnone,candidate,,,\n"
	l := learn(t, loadAsOf(t, with(t, "lines.csv", lines), "2014-11-15"))
	by := map[string]Learned{}
	for _, x := range l.Lines {
		by[x.Line] = x
	}
	stout, plain, none := by["stout"], by["plain"], by["none"]
	if want := (stout.HardinessC + plain.HardinessC) / 2; math.Abs(by["unseen"].HardinessC-want) > 0.03 {
		t.Errorf("offspring %.2f, parents' mean %.2f", by["unseen"].HardinessC, want)
	}
	want := math.Sqrt(l.pop.spread.At(hardTrait, hardTrait)/2 + (square(stout.HardinessSDC)+square(plain.HardinessSDC))/4)
	if got := by["unseen"].HardinessSDC; math.Abs(got/want-1) > 0.05 { // the grid cuts the normal
		t.Errorf("offspring ±%.2f, want %.2f", got, want)
	}
	if want := (stout.HardinessC + none.HardinessC) / 2; math.Abs(by["half"].HardinessC-want) > 0.05 {
		t.Errorf("one parent listed: %.2f, want half way %.2f", by["half"].HardinessC, want)
	}
	if told := by["told"]; math.Abs(told.HardinessC+8) > 0.02 || told.From != "lines.csv" {
		t.Errorf("told -8: %+v", told)
	}
	if by["unseen"].From != "parents: stout, plain" || none.From != "population" {
		t.Errorf("from %q, %q", by["unseen"].From, none.From)
	}
}

// Two lines that name one another are taken as any line, their offspring start
// from them, and nothing hangs.
func TestARingOfParents(t *testing.T) {
	lines := "line,kind,pedigree\nstout,candidate,plain selection\nplain,check,stout selection\nunseen,candidate,stout x plain\n"
	l := learn(t, loadAsOf(t, with(t, "lines.csv", lines), "2014-11-15"))
	stout, plain, unseen := l.Lines[0], l.Lines[1], l.Lines[2]
	if stout.From != "population" || plain.From != "population" || unseen.From != "parents: stout, plain" {
		t.Errorf("from %q, %q and %q", stout.From, plain.From, unseen.From)
	}
	if want := (stout.HardinessC + plain.HardinessC) / 2; math.Abs(unseen.HardinessC-want) > 0.03 {
		t.Errorf("the offspring of the ring %.2f, its parents' mean %.2f", unseen.HardinessC, want)
	}
}
