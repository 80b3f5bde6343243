package forecast

import (
	"fmt"
	"slices"
	"strings"

	"wintertop/weather/table"
)

// CrossTable gives cross.csv.
func CrossTable(x *Crosses) *table.Table {
	t := table.New("cross", "rank", "parent_a", "parent_b", "p_chosen", "p_chosen_lo", "p_chosen_hi", "p_progeny", "p_parent_a", "p_parent_b",
		"top_size", "top_size_spread", "top_size_doubt", "top_size_response", "top_length_cm", "top_length_spread_cm", "top_length_doubt_cm", "top_length_response_cm",
		"hardiness_c", "hardiness_spread_c", "hardiness_doubt_c", "hardiness_response_c", "complementary", "a_brings", "b_brings", "related", "alike",
		"p_half_heritable", "p_half_passed_on", "selected_share", "intensity", "heritable_share", "winters")
	for i, c := range x.Pairs {
		row := []table.Cell{x.rank(i), table.Text(x.Parents[c.A].Line), table.Text(x.Parents[c.B].Line)}
		for _, p := range []float64{c.Chosen, c.ChosenLo, c.ChosenHi, c.Progeny, x.Parents[c.A].Holds, x.Parents[c.B].Holds} {
			row = append(row, x.chance(p, 3))
		}
		row = append(row, c.TopSize.cells(2)...)
		row = append(row, c.TopLengthCM.cells(1)...)
		row = append(row, c.HardinessC.cells(2)...)
		bringsA, bringsB := c.Brings()
		t.Add(append(row, table.YesNo(c.Complementary()), table.Text(bringsA), table.Text(bringsB), table.Text(c.Related), table.Num(c.Alike, 3),
			x.chance(c.HalfHeritable, 3), x.chance(c.HalfPassedOn, 3), table.Num(x.Select, 4), table.Num(x.Intensity, 3), table.Num(x.Heritable, 2), table.Int(x.Winters))...)
	}
	return t
}

// CrossText gives the columns of cross.csv that fit a terminal, of the first
// pairs.
func CrossText(x *Crosses, most int) *table.Table {
	t := table.New("cross", "rank", "cross", "p_chosen", "lo", "hi", "half_h2", "half_on", "size", "length", "hardy_c", "pair")
	for i, c := range x.Pairs[:min(len(x.Pairs), most)] {
		t.Add(x.rank(i), table.Text(x.Parents[c.A].Line+" x "+x.Parents[c.B].Line), x.chance(c.Chosen, 2), x.chance(c.ChosenLo, 2), x.chance(c.ChosenHi, 2),
			x.chance(c.HalfHeritable, 2), x.chance(c.HalfPassedOn, 2), table.Num(c.TopSize.Value, 2), table.Num(c.TopLengthCM.Value, 0), table.Num(c.HardinessC.Value, 1), table.Text(c.word()))
	}
	return t
}

// word says shortly what is special about a pair.
func (c Cross) word() string {
	switch {
	case c.Related != "":
		return "related"
	case c.Complementary():
		return "long x hardy"
	}
	return ""
}

func (b Bred) cells(decimals int) []table.Cell {
	return []table.Cell{table.Num(b.Value, decimals), table.Num(b.Spread, decimals), table.Num(b.Doubt, decimals), table.Num(b.Response, decimals)}
}

// chance gives the cell of a chance to hold, blank where no winter was played.
func (x *Crosses) chance(p float64, decimals int) table.Cell {
	if x.Winters == 0 {
		return table.Blank()
	}
	return table.Num(p, decimals)
}

// rank gives the cell of a rank, blank where no winter was played.
func (x *Crosses) rank(i int) table.Cell {
	if x.Winters == 0 {
		return table.Blank()
	}
	return table.Int(i + 1)
}

// Brings names the traits in which each parent is better, as far as they can be
// told apart.
func (c Cross) Brings() (a, b string) {
	var of [3][]string
	for _, t := range []struct {
		name string
		side Side
	}{{"size", c.Larger}, {"length", c.Longer}, {"hardiness", c.Hardier}} {
		of[t.side] = append(of[t.side], t.name)
	}
	return strings.Join(of[First], ", "), strings.Join(of[Second], ", ")
}

// Answer says what to cross, a sentence each: the best pair first.
func (x *Crosses) Answer() []string {
	switch {
	case len(x.Pairs) == 0 && len(x.Parents) == 1:
		return []string{fmt.Sprintf("No pair to cross: only %s may be a parent.", x.Parents[0].Line)}
	case len(x.Pairs) == 0:
		return []string{"No pair to cross: no line may be a parent."}
	case x.Winters == 0:
		return []string{"No pair stands out: no past winter could be played."}
	}
	best := x.Pairs[0]
	words := []string{fmt.Sprintf("Cross %s: %s hold through the window with a chance of %.2f (%.2f to %.2f by what is not known of the parents); %s.",
		x.names(best), x.kept(), best.Chosen, best.ChosenLo, best.ChosenHi, x.parentsHold(best))}
	level := 0
	for _, c := range x.Pairs[1:] {
		if c.Chosen >= best.ChosenLo {
			level++
		}
	}
	switch {
	case level == 1:
		words = append(words, "One more pair lies within that doubt.")
	case level > 1:
		words = append(words, fmt.Sprintf("%d more pairs lie within that doubt.", level))
	}
	if best.Related != "" {
		related := x.Parents[best.A].Line + " and " + x.Parents[best.B].Line + " are related (" + best.Related + "), which leaves less to choose from and inbreeds"
		if at := slices.IndexFunc(x.Pairs, func(c Cross) bool { return c.Related == "" }); at > 0 {
			related += fmt.Sprintf("; of pairs that no pedigree relates, %s leads with %.2f", x.names(x.Pairs[at]), x.Pairs[at].Chosen)
		}
		words = append(words, related+".")
	}
	if at := slices.IndexFunc(x.Pairs, Cross.Complementary); at > 0 {
		words = append(words, fmt.Sprintf("Of pairs of a longer and a hardier line, %s leads with %.2f.", x.names(x.Pairs[at]), x.Pairs[at].Chosen))
	}
	return words
}

// Assumed says on what the chances hang, and where it is seen how much.
func (x *Crosses) Assumed() string {
	return fmt.Sprintf("Assumed: traits add up, so that progeny lines stand about their parents' middle, and %s of the variance seen among them breeds true. half_h2: p_chosen where only %s does; half_on: where only half of what sets lines apart is passed on.",
		percent(x.Heritable), percent(x.Heritable/2))
}

func (x *Crosses) names(c Cross) string {
	return x.Parents[c.A].Line + " with " + x.Parents[c.B].Line
}

// parentsHold says how the parents hold themselves.
func (x *Crosses) parentsHold(c Cross) string {
	return fmt.Sprintf("%s itself %.2f, %s %.2f", x.Parents[c.A].Line, x.Parents[c.A].Holds, x.Parents[c.B].Line, x.Parents[c.B].Holds)
}

// kept says which progeny lines are meant.
func (x *Crosses) kept() string {
	if x.Select >= 1 {
		return "its progeny lines, none thrown out,"
	}
	return "the best " + percent(x.Select) + " of its progeny lines"
}

// percent writes a share.
func percent(share float64) string { return fmt.Sprintf("%.3g %%", 100*share) }
