package plots

import (
	"fmt"
	"slices"
	"strings"
)

// traitFoot says what the numbers are.
const traitFoot = "Hardiness is the canopy temperature that kills half of the exposed leaf of a fully hardened top, as this station reads it. Intervals of size and length are taken as ratios."

// finding is the answer of the traits chart in a sentence or two.
func (g traitLayout) finding() string {
	var known, assumed []traitRow
	for _, r := range g.rows {
		if r.assumed {
			assumed = append(assumed, r)
		} else {
			known = append(known, r)
		}
	}
	var words string
	switch len(known) {
	case 0:
		words = "Nothing is known of any line yet: all values are assumed."
		if len(g.rows) == 0 {
			words = "No line is listed."
		}
		return words
	case 1:
		words = known[0].name + ": " + known[0].words() + "."
	default:
		most := known[0]
		largest, longest := most, most
		for _, r := range known {
			if r.learned.TopSize > largest.learned.TopSize {
				largest = r
			}
			if r.learned.TopLengthCM > longest.learned.TopLengthCM {
				longest = r
			}
		}
		words = superlatives(len(known), []superlative{
			{most.name, fmt.Sprintf("is hardiest (%s ± %s °C)", number(most.learned.HardinessC, 1), number(most.learned.HardinessSDC, 1))},
			{largest.name, fmt.Sprintf("has the largest top (%s ± %s)", number(largest.learned.TopSize, 2), number(largest.learned.TopSizeSD, 2))},
			{longest.name, fmt.Sprintf("has the longest leaves (%s ± %s cm)", number(longest.learned.TopLengthCM, 1), number(longest.learned.TopLengthSDCM, 1))},
		})
	}
	switch len(assumed) {
	case 0:
	case 1:
		words += " Of " + assumed[0].name + " nothing is known yet: its values are assumed."
	default:
		words += fmt.Sprintf(" Of %d lines nothing is known yet: their values are assumed.", len(assumed))
	}
	return words
}

// superlative says in what a line exceeds all others.
type superlative struct{ name, words string }

// superlatives joins what is said of lines, a line that excels twice named
// once.
func superlatives(lines int, all []superlative) string {
	var parts []string
	for i, s := range all {
		if slices.ContainsFunc(all[:i], func(o superlative) bool { return o.name == s.name }) {
			continue
		}
		says := []string{s.words}
		for _, o := range all[i+1:] {
			if o.name == s.name {
				says = append(says, o.words)
			}
		}
		part := s.name + " " + says[0]
		for k, words := range says[1:] {
			if k == len(says)-2 {
				part += " and " + words
			} else {
				part += ", " + words
			}
		}
		parts = append(parts, part)
	}
	return fmt.Sprintf("Of %d lines with notes %s.", lines, strings.Join(parts, "; "))
}

// words tells one line's traits.
func (r traitRow) words() string {
	l := r.learned
	words := fmt.Sprintf("top size %s ± %s, top length %s ± %s cm, hardiness %s ± %s °C", number(l.TopSize, 2), number(l.TopSizeSD, 2),
		number(l.TopLengthCM, 1), number(l.TopLengthSDCM, 1), number(l.HardinessC, 1), number(l.HardinessSDC, 1))
	return words + " (" + r.basis() + ")"
}

// desc tells every line in words.
func (g traitLayout) desc() string {
	var b strings.Builder
	b.WriteString(g.finding())
	for _, r := range g.rows {
		fmt.Fprintf(&b, " %s: %s.", r.name, r.words())
	}
	return b.String() + " " + traitFoot
}
