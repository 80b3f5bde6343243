package forecast

import (
	"cmp"
	"context"
	"math"
	"slices"

	"wintertop/canopy"
	"wintertop/weather"
	"wintertop/weather/table"
)

// DesignGoal is what a trial is to decide.
type DesignGoal struct {
	Differ Difference
	Chance float64 // wanted of choosing rightly, above 0.5
	BestOf int     // lines from which the best is chosen, at least 2
}

// Design is one size of trial: all lines on so many plots at so many places in
// so many winters, leaf mass weighed on four days as the mean of so many plants.
type Design struct {
	Winters, Places, Plots, Plants int
	// Chance of choosing the better line rightly. Low and High: with the
	// deviations of lines between winters and of plots at the high and at the low
	// end of their ranges.
	Chance, Low, High float64
	// Nothing is the chance that no winter of the trial teaches anything.
	Nothing float64
}

// PastWinter is what one winter of the record would have taught.
type PastWinter struct {
	Winter weather.WinterYear
	Kept   float64 // share of mid October's leaf mass that the standard line had in mid February
	Told   float64 // share of the variance between lines that two plots of ten plants would have taken away
	Remark string  // why it teaches nothing; "" where it teaches
}

// TrialPlan says how large a trial must be at one place.
type TrialPlan struct {
	Place       string // "" where the trial has one place
	Goal        DesignGoal
	Sown        weather.Date // the sowing taken, in each winter on this day of the year
	PlantsPerM2 float64
	Past        []PastWinter
	Designs     []Design // by winters, places, plots and plants
	file        string   // of the record
}

// What designs are tried.
var (
	designWinters = []int{1, 2, 3, 4, 5}
	designPlaces  = []int{1, 2, 3}
	designPlots   = []int{1, 2, 3, 4, 6}
	designPlants  = []int{5, 10, 20}
)

// The plots and plants by which the past winters are judged.
const (
	usualPlots  = 2
	usualPlants = 10
)

// PlanTrial works out the chance of a right choice for every design at a place,
// from the winters of its record before the planting's: each as likely as the
// other. The places of a design have the same winter, and lines deviate at each
// on their own. The error is a *table.InputError where the record has no
// complete winter, else ctx's.
func PlanTrial(ctx context.Context, p *Place, planting Planting, goal DesignGoal) (*TrialPlan, error) {
	seasons := p.sameSowing(planting)
	if len(seasons) == 0 {
		return nil, &table.InputError{Faults: table.Findings{{File: p.Record.File, Severity: table.Fault, TreatedAs: "refused",
			What: "no complete winter before " + planting.Winter.String() + " tells how often a winter teaches nothing", Hint: "a longer record of a station nearby tells it"}}}
	}
	all, kept, err := teach(ctx, p, seasons, goal.Differ)
	if err != nil {
		return nil, err
	}
	plan := &TrialPlan{Place: p.Name, Goal: goal, Sown: planting.Sown, PlantsPerM2: planting.PlantsPerM2, file: p.Record.File}
	params, stand := p.Site.Params, p.Site.Canopy
	look := choicesOf(goal.BestOf)
	chances := func(kinds []kind, places int) []float64 {
		return chanceByWinters(kinds, places, designWinters[len(designWinters)-1], goal.Differ.By, look)
	}
	deviations := []string{"line_winter_size_sd_ln", "line_winter_hardiness_sd", "plot_mass_sd_ln"}
	steady, unsteady := params.atEnd(false, deviations...), params.atEnd(true, deviations...)
	each := len(designPlots) * len(designPlants)
	bySize := make([][]Design, len(designPlaces)*each) // plants innermost, places outermost
	err = inParallel(ctx, each, func(i int) error {
		plots, plants := designPlots[i/len(designPlants)], designPlants[i%len(designPlants)]
		usual, nothing := kindsOf(all, params, stand, goal.Differ, plants, plots)
		worse, _ := kindsOf(all, unsteady, stand, goal.Differ, plants, plots)
		better, _ := kindsOf(all, steady, stand, goal.Differ, plants, plots)
		for k, places := range designPlaces {
			chance, low, high := chances(usual, places), chances(worse, places), chances(better, places)
			for _, w := range designWinters {
				bySize[k*each+i] = append(bySize[k*each+i], Design{w, places, plots, plants, chance[w-1], low[w-1], high[w-1], math.Pow(nothing, float64(w))})
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	for w := range designWinters {
		for _, of := range bySize {
			plan.Designs = append(plan.Designs, of[w])
		}
	}
	for i := range seasons {
		plan.Past = append(plan.Past, pastWinter(all[i*len(frostPoints):][:len(frostPoints)], kept[i], p, goal.Differ))
	}
	return plan, nil
}

// kind is how well one winter tells lines apart: 1/variance of a line's trait
// in general, and the chance of such a winter.
type kind struct{ precision, chance float64 }

// kindsOf gives the kinds of winter by season, frost deviations next to one
// another, and the share of winters that teach nothing: whose notes would take
// away less of the variance between lines than is worth a remark.
func kindsOf(all []taught, p Params, stand canopy.Params, differ Difference, plants, plots int) (kinds []kind, nothing float64) {
	for _, t := range all {
		_, general := precisionOf(t.information(plants, p, stand), plots, differ, p)
		kinds = append(kinds, kind{general, t.chance})
	}
	for s := 0; s < len(kinds); s += len(frostPoints) {
		if told(kinds[s:s+len(frostPoints)], differ, p) < p.TeachesLittle {
			nothing += float64(len(frostPoints)) / float64(len(kinds))
		}
	}
	return kinds, nothing
}

// told gives the share of the variance between lines that the notes of one
// winter take away, the mean over its kinds.
func told(kinds []kind, differ Difference, p Params) float64 {
	between := square(p.TopSizeSDLn)
	if differ.Hardiness {
		between = square(p.HardinessSDC)
	}
	share, chance := 0.0, 0.0
	for _, k := range kinds {
		share += k.chance * between / (between + 1/k.precision)
		chance += k.chance
	}
	return share / chance
}

func pastWinter(kinds []taught, kept float64, p *Place, differ Difference) PastWinter {
	own, _ := kindsOf(kinds, p.Site.Params, p.Site.Canopy, differ, usualPlants, usualPlots)
	w := PastWinter{Winter: kinds[0].winter, Kept: kept, Told: told(own, differ, p.Site.Params)}
	if w.Told < p.Site.Params.TeachesLittle {
		w.Remark = tooMild
		if kept < mildKept {
			w.Remark = tooHard
		}
	}
	return w
}

// Why a winter teaches nothing.
const (
	tooMild = "too mild"
	tooHard = "too hard"
)

// mildKept is the share kept that tells a winter too mild from one too hard.
const mildKept = 0.3

// kindClasses is the number of classes into which the square roots of the
// precisions are gathered: with twice as many no chance moves by 5e-4.
const kindClasses = 60

// chanceByWinters gives the chance of a right choice after 1, 2 … winters: the
// mean over which winters come of that at the sum of their precisions. The
// kinds of one season stand next to one another: places share the season, not
// the deviation.
func chanceByWinters(kinds []kind, places, winters int, by float64, look choices) []float64 {
	one := gathered(atPlaces(kinds, places))
	before := []kind{{0, 1}}
	var out []float64
	for range winters {
		chance, after := 0.0, classesTo(before[len(before)-1].precision+one[len(one)-1].precision)
		for _, a := range before {
			for _, b := range one {
				sum := kind{a.precision + b.precision, a.chance * b.chance}
				root := math.Sqrt(sum.precision)
				chance += sum.chance * look.right(by*root)
				after.add(sum, root)
			}
		}
		out, before = append(out, chance), after.few()
	}
	return out
}

// atPlaces gives the kinds of winter for all places together.
func atPlaces(kinds []kind, places int) []kind {
	var all []kind
	for s := 0; s < len(kinds); s += len(frostPoints) {
		own := kinds[s : s+len(frostPoints)]
		whole := 0.0
		for _, k := range own {
			whole += k.chance
		}
		sums := []kind{{0, whole}}
		for range places {
			var next []kind
			for _, a := range sums {
				for _, b := range own {
					next = append(next, kind{a.precision + b.precision, a.chance * b.chance / whole})
				}
			}
			sums = next
		}
		all = append(all, sums...)
	}
	return all
}

// gathered puts kinds of nearly the same precision together, at their mean,
// ascending.
func gathered(kinds []kind) []kind {
	all := classesTo(slices.MaxFunc(kinds, func(a, b kind) int { return cmp.Compare(a.precision, b.precision) }).precision)
	for _, k := range kinds {
		all.add(k, math.Sqrt(k.precision))
	}
	return all.few()
}

// kindSums gathers kinds by the square root of their precision.
type kindSums struct {
	perRoot float64
	of      [kindClasses + 1]kind // precision: sum over chances
}

// classesTo makes room for kinds of at most so much precision.
func classesTo(most float64) *kindSums {
	if most == 0 {
		return &kindSums{}
	}
	return &kindSums{perRoot: kindClasses / math.Sqrt(most)}
}

func (s *kindSums) add(k kind, root float64) {
	class := &s.of[min(int(math.Ceil(root*s.perRoot)), kindClasses)]
	class.precision += k.chance * k.precision
	class.chance += k.chance
}

func (s *kindSums) few() []kind {
	few := make([]kind, 0, len(s.of))
	for _, c := range s.of {
		if c.chance > 0 {
			few = append(few, kind{c.precision / c.chance, c.chance})
		}
	}
	return few
}
