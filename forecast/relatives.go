package forecast

import (
	"slices"
	"strings"
	"unicode"

	"gonum.org/v1/gonum/mat"
)

// parents gives the lines that the pedigree of a line names, two at most, as
// its text has them: "A x B", "selection from A".
// A line that descends from itself has none: a ring tells nothing.
func (l *Learning) parents(line int) []int {
	if slices.Contains(l.rings, line) {
		return nil
	}
	return parentsOf(l.lines, line)
}

func parentsOf(lines []Line, line int) []int {
	type mention struct{ at, line int }
	var found []mention
	text := lines[line].Pedigree
	order := make([]int, 0, len(lines))
	for i := range lines {
		if i != line && lines[i].Name != "" {
			order = append(order, i)
		}
	}
	// Longer names first, so that a name within another is not taken for it.
	slices.SortStableFunc(order, func(a, b int) int { return len(lines[b].Name) - len(lines[a].Name) })
	for _, i := range order {
		for from := 0; ; {
			at := strings.Index(text[from:], lines[i].Name)
			if at < 0 {
				break
			}
			at += from
			end := at + len(lines[i].Name)
			if !joins(text[:at], true) && !joins(text[end:], false) {
				found = append(found, mention{at, i})
				text = text[:at] + strings.Repeat("\x00", end-at) + text[end:]
			}
			from = end
		}
	}
	slices.SortStableFunc(found, func(a, b mention) int { return a.at - b.at })
	var parents []int
	for _, m := range found {
		if !slices.Contains(parents, m.line) && len(parents) < 2 {
			parents = append(parents, m.line)
		}
	}
	return parents
}

// joins says whether text goes on as a name does, at its end or at its start.
func joins(text string, atEnd bool) bool {
	runes := []rune(text)
	if len(runes) == 0 {
		return false
	}
	r := runes[0]
	if atEnd {
		r = runes[len(runes)-1]
	}
	return r == '-' || r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r)
}

// generations orders the lines so that parents come before their offspring.
// Lines that name one another in a ring come before their offspring, without
// parents.
func (l *Learning) generations() [][]int {
	var all [][]int
	done := make([]bool, len(l.lines))
	left := make([]int, len(l.lines))
	for i := range left {
		left[i] = i
	}
	for len(left) > 0 {
		var now, later []int
		for _, i := range left {
			ready := !slices.ContainsFunc(l.parents(i), func(p int) bool { return !done[p] })
			if ready {
				now = append(now, i)
			} else {
				later = append(later, i)
			}
		}
		if len(now) == 0 {
			now, later = l.fromThemselves(left)
			l.rings = append(l.rings, now...)
		}
		for _, i := range now {
			done[i] = true
		}
		all, left = append(all, now), later
	}
	return all
}

// fromThemselves parts lines into those that descend from themselves and others.
func (l *Learning) fromThemselves(lines []int) (rings, others []int) {
	for _, i := range lines {
		var above []int
		for next := l.parents(i); len(next) > 0; next = next[1:] {
			if !slices.Contains(above, next[0]) {
				above = append(above, next[0])
				next = append(slices.Clip(next), l.parents(next[0])...)
			}
		}
		if slices.Contains(above, i) {
			rings = append(rings, i)
		} else {
			others = append(others, i)
		}
	}
	return rings, others
}

// descent gives the prior of a line from its parents: their mean; what
// segregates anew, and what is not known of the parents. A parent that is not
// listed, or not worked out yet, is any line of the population.
func (l *Learning) descent(parents []int) traitPrior {
	var known [2]traitPrior
	for p := range known {
		if p < len(parents) && l.moments[parents[p]].cov != nil {
			known[p] = l.moments[parents[p]]
		} else {
			known[p].mean, known[p].cov = l.anyLine()
		}
	}
	prior := traitPrior{cov: l.segregating(0), known: true}
	var doubt *mat.SymDense
	prior.mean, doubt = midParent(known[0], known[1])
	prior.cov.AddSym(prior.cov, doubt)
	return prior
}

// segregating gives the covariance of the traits among the offspring of two
// lines that are alike by descent in a share of what they carry: half of that
// between lines, of what they do not share, and what segregates within lines.
func (l *Learning) segregating(alike float64) *mat.SymDense {
	among := mat.NewSymDense(traits, nil)
	among.ScaleSym((1-alike)/2+l.params.WithinLineShare, l.pop.spread)
	return among
}

// midParent gives the mean of two parents and the doubt about it.
func midParent(a, b traitPrior) (middle []float64, doubt *mat.SymDense) {
	middle, doubt = make([]float64, traits), mat.NewSymDense(traits, nil)
	for t := range traits {
		middle[t] = (a.mean[t] + b.mean[t]) / 2
	}
	doubt.AddSym(a.cov, b.cov)
	doubt.ScaleSym(0.25, doubt)
	return middle, doubt
}

// anyLine gives what is known of a line of the population of which nothing
// else is.
func (l *Learning) anyLine() ([]float64, *mat.SymDense) {
	cov := mat.NewSymDense(traits, nil)
	for i := range traits {
		for j := range i + 1 {
			cov.SetSym(i, j, l.pop.spread.At(i, j)+l.pop.doubt.At(i, j))
		}
	}
	return l.pop.mean, cov
}

// origin says in words where a line's prior comes from.
func (l *Learning) origin(line int) string {
	if l.linePrior(line, l.pop).known {
		return "lines.csv"
	}
	var names []string
	for _, p := range l.parents(line) {
		names = append(names, l.lines[p].Name)
	}
	if len(names) > 0 {
		return "parents: " + strings.Join(names, ", ")
	}
	return "population"
}
