package forecast

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// Breeding is what a cross is asked for.
type Breeding struct {
	AsOf    weather.Date
	Select  float64 // share of the progeny lines that is kept, above 0 to 1
	Floors  []Floor // of the parents
	Untried bool    // lines without notes are parents too
	Window  func(weather.WinterYear) (from, to weather.Date)
}

// Crosses holds every pair of possible parents, best first.
type Crosses struct {
	Parents   []Parent // in the order of lines.csv
	LeftOut   []LeftOut
	Pairs     []Cross
	Select    float64 // share of the progeny lines kept
	Intensity float64 // of selection, SDs of what is seen
	Heritable float64 // share of the variance seen that breeds true
	Within    float64 // variance that segregates within lines, per variance between them
	Winters   int     // past winters played, at all places
	AsOf      weather.Date
}

// Parent is one line that may be crossed.
type Parent struct {
	Learned
	Holds float64 // chance that it holds itself through the window of a winter to come
}

// LeftOut is a line that is no parent, and why.
type LeftOut struct{ Line, Why string }

// Bred is one trait's expectation among progeny lines. Top size and top length
// are taken on the logarithm; Value is their middle in the trait's own unit,
// Spread, Doubt and Response are differences from it upward.
type Bred struct {
	Value    float64 // the parents' middle
	Spread   float64 // SD among the lines
	Doubt    float64 // SD of what is not known of the parents, common to all lines
	Response float64 // by how much the chosen lines' middle differs
}

// Cross is one pair of parents and what is expected of its progeny lines.
type Cross struct {
	A, B        int // indices into Crosses.Parents
	TopSize     Bred
	TopLengthCM Bred
	HardinessC  Bred
	Progeny     float64 // chance that a progeny line holds
	Chosen      float64 // chance that one of the chosen does
	// The same with the parents at 5 and 95 % of what is not known of them.
	ChosenLo, ChosenHi float64
	// Chosen where the heritable share is half, and where only half of what sets
	// lines apart is passed on.
	HalfHeritable, HalfPassedOn float64
	Alike                       float64 // share of what the parents carry that is a copy of the same forebear's
	Related                     string  // how they are related, in words; "" where no pedigree says
	Larger, Longer, Hardier     Side    // which parent has more of it, as far as they can be told apart
}

// Side names one of a pair's parents, or neither.
type Side int

// The sides of a pair.
const (
	Neither Side = iota
	First
	Second
)

// Complementary says that one parent is longer and the other hardier.
func (c Cross) Complementary() bool {
	return c.Longer != Neither && c.Hardier != Neither && c.Longer != c.Hardier
}

// Cross pairs the lines of a trial, as known on its as-of day, as parents. The
// past winters are played whole. The error is a *table.InputError where a cell
// that a floor asks for is no number, or ctx's.
func (l *Learning) Cross(ctx context.Context, trial *Trial, b Breeding) (*Crosses, table.Findings, error) {
	file, _ := trial.Files.name(trial.Files.Lines, "lines.csv")
	out := &Crosses{Select: b.Select, Heritable: l.params.HeritableShare, Within: l.params.WithinLineShare, AsOf: b.AsOf}
	choice := cutAt(b.Select)
	out.Intensity = choice.intensity
	var faults table.Findings
	var lines []int
	for i, line := range trial.Lines {
		var why []string
		for _, f := range b.Floors {
			below, fault := line.below(f, file)
			faults = append(faults, fault...)
			if below != "" {
				why = append(why, below)
			}
		}
		if l.Lines[i].Basis == Assumed && !b.Untried {
			why = append(why, "no notes")
		}
		if len(why) > 0 {
			out.LeftOut = append(out.LeftOut, LeftOut{line.Name, strings.Join(why, ", ")})
			continue
		}
		lines = append(lines, i)
	}
	if err := faults.Err(); err != nil {
		return nil, nil, err
	}
	h, err := l.holdingOf(ctx, trial, b.AsOf, b.Window)
	if err != nil {
		return nil, nil, err
	}
	out.Winters = h.winters
	for _, i := range lines {
		out.Parents = append(out.Parents, Parent{l.Lines[i], h.of(l.general(i))})
	}
	var findings table.Findings
	switch {
	case h.winters == 0 && len(trial.Plantings) == 0:
		plantings, _ := trial.Files.name(trial.Files.Plantings, "plantings.csv")
		findings = append(findings, table.Finding{File: plantings, Severity: table.Warning, TreatedAs: "not known",
			What: "no planting: no chance to hold can be given", Hint: "the newest planting says on which day and how thick a crop is sown"})
	case h.winters == 0:
		findings = append(findings, table.Finding{File: trial.Places[0].Record.File, Severity: table.Warning, TreatedAs: "not known",
			What: "no complete past winter can be followed from the newest sowing on: no chance to hold can be given", Hint: "a longer record of a station nearby gives them"})
	case h.fewest < fewWinters:
		findings = append(findings, table.Finding{File: trial.Places[0].Record.File, Severity: table.Warning, TreatedAs: "used",
			What: fmt.Sprintf("only %d complete past winters before the newest planting's: the chances rest on few", h.fewest), Hint: "a longer record of a station nearby makes them better"})
	}
	family := kinshipOf(trial.Lines)
	findings = append(findings, family.findings(trial.Lines, file)...)
	for a := range lines {
		for b := a + 1; b < len(lines); b++ {
			out.Pairs = append(out.Pairs, Cross{A: a, B: b, Related: family.related(trial.Lines[lines[a]].Name, trial.Lines[lines[b]].Name),
				Alike: family.alike(trial.Lines[lines[a]].Name, trial.Lines[lines[b]].Name)})
		}
	}
	moments := make([]traitPrior, len(lines))
	for k, i := range lines {
		moments[k] = l.moments[i]
	}
	err = inParallel(ctx, len(out.Pairs), func(k int) error {
		l.breed(&out.Pairs[k], moments, h, choice)
		return nil
	})
	slices.SortStableFunc(out.Pairs, func(a, b Cross) int {
		return cmp.Or(-cmp.Compare(a.Chosen, b.Chosen), -cmp.Compare(a.Progeny, b.Progeny))
	})
	return out, findings, err
}

// breed works out one pair.
func (l *Learning) breed(c *Cross, parents []traitPrior, h *holding, choice cut) {
	a, b := parents[c.A], parents[c.B]
	o := offspring{among: l.segregating(c.Alike)}
	o.mean, o.doubt = midParent(a, b)
	var slope []float64
	c.Progeny, slope = h.expected(o)
	chosen := func(o offspring, heritable float64) (offspring, []float64) { return o.chosen(slope, choice, heritable) }
	best, response := chosen(o, l.params.HeritableShare)
	c.Chosen, _ = h.expected(best)
	for k, to := range []*float64{&c.ChosenLo, &c.ChosenHi} {
		off, _ := chosen(o.moved(slope, []float64{-1, 1}[k]*1.645), l.params.HeritableShare)
		*to, _ = h.expected(off)
	}
	half, _ := chosen(o, l.params.HeritableShare/2)
	c.HalfHeritable, _ = h.expected(half)
	less, _ := chosen(o.lessPassedOn(0.5, l.pop.mean), l.params.HeritableShare)
	c.HalfPassedOn, _ = h.expected(less)
	c.TopSize, c.TopLengthCM = o.bred(sizeTrait, response).exp(), o.bred(lengthTrait, response).exp()
	c.HardinessC = o.bred(hardTrait, response)
	c.Larger, c.Longer, c.Hardier = l.more(a, b, sizeTrait), l.more(a, b, lengthTrait), l.more(b, a, hardTrait)
}

// more says which of two lines has more of a trait; neither where the odds are
// those of a tie.
func (l *Learning) more(a, b traitPrior, trait int) Side {
	sd := math.Sqrt(a.cov.At(trait, trait) + b.cov.At(trait, trait))
	switch p := normalAbove((b.mean[trait] - a.mean[trait]) / sd); {
	case p >= l.params.TieOdds:
		return First
	case 1-p >= l.params.TieOdds:
		return Second
	}
	return Neither
}

// normalAbove gives the chance of a standard normal above x.
func normalAbove(x float64) float64 { return math.Erfc(x/math.Sqrt2) / 2 }

func (o offspring) bred(trait int, response []float64) Bred {
	return Bred{o.mean[trait], math.Sqrt(o.among.At(trait, trait)), math.Sqrt(o.doubt.At(trait, trait)), response[trait]}
}

// exp carries what holds for a logarithm to the trait's own unit.
func (b Bred) exp() Bred {
	value := math.Exp(b.Value)
	return Bred{value, value * b.Spread, value * b.Doubt, value * (math.Exp(b.Response) - 1)}
}
