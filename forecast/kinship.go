package forecast

import (
	"regexp"
	"slices"
	"strings"

	"wintertop/weather/table"
)

// kinship knows the pedigrees of a trial's lines: the parents of each, as far
// as they are named, whether they are lines of the trial or not.
type kinship struct {
	parents map[string][]string
	known   map[[2]string]float64
	rings   []int // lines that descend from themselves, whose pedigrees tell nothing
}

// crossSign parts the parents in a pedigree: "A x B", "A × B", "A/B//C".
var crossSign = regexp.MustCompile(`\s+[xX]\s+|\s*×\s*|\s*/+\s*`)

func kinshipOf(lines []Line) *kinship {
	k := &kinship{parents: map[string][]string{}, known: map[[2]string]float64{}}
	for i := range lines {
		k.parents[lines[i].Name] = namedParents(lines, i)
	}
	for i := range lines {
		if slices.Contains(k.ancestors(lines[i].Name), lines[i].Name) {
			k.rings = append(k.rings, i)
		}
	}
	for _, i := range k.rings {
		k.parents[lines[i].Name] = nil
	}
	return k
}

// findings names the pedigrees that lead back to their own line.
func (k *kinship) findings(lines []Line, file string) (found table.Findings) {
	for _, i := range k.rings {
		found = append(found, table.Finding{File: file, Line: lines[i].FileLine, Column: "pedigree", Value: lines[i].Pedigree, Severity: table.Warning, TreatedAs: "not used",
			What: "by the pedigrees " + lines[i].Name + " descends from itself: its parents are not used to tell which lines are related", Hint: "name as parents only lines that were there before"})
	}
	return found
}

// namedParents gives the parents that a line's pedigree names: those parted by
// a sign of crossing, or else the lines of the trial that it mentions.
func namedParents(lines []Line, line int) []string {
	listed := func(text string) (names []string) {
		all := append(slices.Clone(lines), Line{Pedigree: text})
		for _, p := range parentsOf(all, len(lines)) {
			if p != line {
				names = append(names, lines[p].Name)
			}
		}
		return names
	}
	parts := crossSign.Split(lines[line].Pedigree, -1)
	if len(parts) < 2 {
		return listed(lines[line].Pedigree)
	}
	var names []string
	for _, part := range parts {
		if of := listed(part); len(of) > 0 {
			names = append(names, of[0])
			continue
		}
		part, _, _ = strings.Cut(part, ",")
		part, _, _ = strings.Cut(part, ";")
		if part = strings.Trim(part, "() \t"); part != "" {
			names = append(names, part)
		}
	}
	return names
}

// ancestors gives all that a line descends from, as far as it is named.
func (k *kinship) ancestors(name string) []string {
	var all []string
	next := k.parents[name]
	for len(next) > 0 {
		one := next[0]
		next = next[1:]
		if !slices.Contains(all, one) {
			all = append(all, one)
			next = append(slices.Clone(next), k.parents[one]...)
		}
	}
	return all
}

// alike gives the share of what two lines carry that is a copy of the same
// ancestor's, the lines taken as breeding true (Malécot): half for the
// offspring of the same two parents, a quarter for those of one. Parents that a
// pedigree does not name are related to nobody.
func (k *kinship) alike(a, b string) float64 {
	if a == b {
		return 1
	}
	if slices.Contains(k.ancestors(b), a) || len(k.parents[a]) == 0 {
		a, b = b, a // go up from the one that does not stand above the other
	}
	key := [2]string{a, b}
	if x, ok := k.known[key]; ok {
		return x
	}
	parents, sum := k.parents[a], 0.0
	for _, p := range parents {
		sum += k.alike(p, b) / float64(max(2, len(parents)))
	}
	k.known[key] = sum
	return sum
}

// related says in words how two lines are related, "" where no pedigree says.
func (k *kinship) related(a, b string) string {
	switch {
	case slices.Contains(k.parents[a], b):
		return b + " is a parent of " + a
	case slices.Contains(k.parents[b], a):
		return a + " is a parent of " + b
	}
	var shared []string
	for _, p := range k.parents[a] {
		if slices.Contains(k.parents[b], p) && !slices.Contains(shared, p) {
			shared = append(shared, p)
		}
	}
	slices.Sort(shared)
	switch {
	case len(shared) == 1:
		return "one parent in common: " + shared[0]
	case len(shared) > 1:
		return "parents in common: " + strings.Join(shared, ", ")
	case k.alike(a, b) > 0:
		return "a forebear in common"
	}
	return ""
}
