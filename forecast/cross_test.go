package forecast

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"wintertop/weather/table"
)

const ratedLines = `line,kind,pedigree,root_score (1-5),grower
stout,candidate,plain x W-1,4,x
plain,check,,2,y
unseen,candidate,stout x W-1,,z
`

func TestCrossHoldsTogether(t *testing.T) {
	trial := loadAsOf(t, with(t, "lines.csv", ratedLines), "2014-11-15")
	l := learn(t, trial)
	cross := func(b Breeding) *Crosses {
		b.AsOf, b.Window = day(t, "2014-11-15"), lateWinter
		x, _, err := l.Cross(t.Context(), trial, b)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	tenth, hundredth, all := cross(Breeding{Select: 0.1, Untried: true}), cross(Breeding{Select: 0.01, Untried: true}), cross(Breeding{Select: 1, Untried: true})
	if len(tenth.Pairs) != 3 || len(tenth.Parents) != 3 {
		t.Fatalf("%d pairs of %d parents", len(tenth.Pairs), len(tenth.Parents))
	}
	of := func(x *Crosses, c Cross) Cross {
		for _, d := range x.Pairs {
			if d.A == c.A && d.B == c.B {
				return d
			}
		}
		panic("no such pair")
	}
	for i, c := range tenth.Pairs {
		if i > 0 && c.Chosen > tenth.Pairs[i-1].Chosen {
			t.Errorf("pair %d has the larger chance", i)
		}
		harder, none := of(hundredth, c), of(all, c)
		if !(harder.Chosen > c.Chosen && c.Chosen > c.HalfHeritable && c.HalfHeritable > c.Progeny && c.ChosenLo < c.Chosen && c.Chosen < c.ChosenHi) {
			t.Errorf("out of order: %+v, best hundredth %.3f", c, harder.Chosen)
		}
		if none.Chosen != none.Progeny || none.HardinessC.Response != 0 {
			t.Errorf("all kept: %+v", none)
		}
		a, b := tenth.Parents[c.A], tenth.Parents[c.B]
		if want := math.Sqrt(a.TopLengthCM * b.TopLengthCM); math.Abs(c.TopLengthCM.Value-want) > 1e-9 {
			t.Errorf("%s and %s: length %.3f, the middle of the logarithms %.3f", a.Line, b.Line, c.TopLengthCM.Value, want)
		}
		if want := (a.HardinessC + b.HardinessC) / 2; math.Abs(c.HardinessC.Value-want) > 1e-9 || !(c.HardinessC.Response < 0) {
			t.Errorf("%s and %s: hardiness %+v, middle %.3f", a.Line, b.Line, c.HardinessC, want)
		}
	}
	// What cross says of unrelated parents is what learning takes of a line that
	// descends from them.
	prior := l.descent([]int{0, 1})
	o := offspring{among: l.segregating(0)}
	o.mean, o.doubt = midParent(l.grid.momentsOf(l.general(0)), l.grid.momentsOf(l.general(1)))
	if !mat.EqualApprox(prior.cov, o.total(), 1e-12) {
		t.Errorf("spread %v, of a line with that pedigree %v", mat.Formatted(o.total()), mat.Formatted(prior.cov))
	}
}

func TestFloorsOfParents(t *testing.T) {
	trial := loadAsOf(t, with(t, "lines.csv", ratedLines), "2014-11-15")
	if got := trial.RatingColumns(); len(got) != 1 || got[0] != "root_score (1-5)" {
		t.Fatalf("columns of numbers: %q", got)
	}
	for _, name := range []string{"root_score", "Root Score", "root_score (1-5)"} {
		if column, ok := trial.RatingColumn(name); !ok || column != "root_score (1-5)" {
			t.Errorf("%q: %q, %v", name, column, ok)
		}
	}
	if _, ok := trial.RatingColumn("grower"); ok {
		t.Error("a column of words is taken for one of numbers")
	}
	floor := Floor{"root_score (1-5)", 3}
	for i, want := range []string{"", "root_score (1-5) 2", "no root_score (1-5)"} {
		if got, _ := trial.Lines[i].below(floor, "lines.csv"); got != want {
			t.Errorf("%s: %q, want %q", trial.Lines[i].Name, got, want)
		}
	}
	bad := loadAsOf(t, with(t, "lines.csv", strings.Replace(ratedLines, ",2,", ",two,", 1)), "2014-11-15")
	l := &Learning{grid: NewGrid(Standard()), params: Standard(), Lines: make([]Learned, 3)}
	_, _, err := l.Cross(t.Context(), bad, Breeding{Select: 0.1, Floors: []Floor{floor}, Window: lateWinter})
	var input *table.InputError
	if !errors.As(err, &input) || len(input.Faults) != 1 || input.Faults[0].Line != 3 {
		t.Errorf("a word for a number: %v", err)
	}
	comma := loadAsOf(t, with(t, "lines.csv", strings.NewReplacer(",4,", ";3,5;", ",", ";").Replace(ratedLines)), "2014-11-15")
	if got := comma.Lines[0].Ratings[0].Value.Value; got != 3.5 {
		t.Errorf("decimal comma: %g", got)
	}
}
