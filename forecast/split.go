package forecast

import (
	"fmt"
	"math"
	"slices"
	"time"

	"wintertop/weather"
	"wintertop/weather/table"
)

// Split says how much of one line's loss in one winter at one place was the
// winter's, the line's and neither's. What is not known is NaN.
type Split struct {
	Winter       weather.WinterYear
	Place        string // "" where the trial has one place
	Line         string
	KeptSeen     float64 // share of the autumn's leaf mass left in late winter, by the notes
	KeptExpected float64 // by the model for the line's traits in general, on the same days
	KeptStandard float64 // by the model for a standard line
	LinePart     float64 // ln(KeptExpected/KeptStandard)
	Unexplained  float64 // ln(KeptSeen/KeptExpected)
	ToldApart    float64 // share of the variance of hardiness between lines that the winter's notes of the line take away
	Chance       float64 // of notes at least as far from what the line's other winters let expect
	Remark       string
}

// Splits splits the loss of every line in every winter and place in which it
// was sown, by winter, place and line. window gives the window of a winter. The
// findings name the winters that teach nothing of hardiness.
func (l *Learning) Splits(trial *Trial, window func(weather.WinterYear) (from, to weather.Date)) ([]Split, table.Findings) {
	var splits []Split
	var findings table.Findings
	for _, s := range trial.seasons() {
		_, end := window(s.winter)
		early, late := s.autumnEnds(s.place.Events(), end), s.lateWinter()
		from := len(splits)
		for i, line := range l.lines {
			plots := trial.plotsOf(line.Name, s)
			if len(plots) == 0 {
				continue
			}
			split := l.split(i, s, trial, plots, early, late, end)
			split.Winter, split.Place, split.Line = s.winter, s.place.Name, line.Name
			splits = append(splits, split)
		}
		if what := l.teachesNothing(splits[from:]); what != "" {
			findings = append(findings, table.Finding{File: trial.notesFile(), Severity: table.Note, TreatedAs: "used",
				What: fmt.Sprintf("%s%s tells little of hardiness: %s", s.winter, atPlace(s.place), what)})
		}
	}
	return splits, findings
}

// seasons gives the winters and places with plantings, in order.
func (t *Trial) seasons() []season {
	known := map[season]bool{}
	for i := range t.Plantings {
		known[season{t.Plantings[i].Winter, t.placeOf(&t.Plantings[i])}] = true
	}
	return sortedSeasons(known)
}

// plotsOf gives the plantings of a line in a season.
func (t *Trial) plotsOf(line string, s season) []*Planting {
	var plots []*Planting
	for i := range t.Plantings {
		if p := &t.Plantings[i]; p.Line == line && p.Winter == s.winter && t.placeOf(p) == s.place {
			plots = append(plots, p)
		}
	}
	return plots
}

// autumnEnds gives the day on which the first freeze–thaw event of a season
// opens, or the day from which notes count as late winter where none came by
// the window's end.
func (s season) autumnEnds(events []weather.Event, end weather.Date) weather.Date {
	for _, e := range events {
		if e.Winter == s.winter && e.Start.Date <= end {
			return e.Start.Date
		}
	}
	return s.lateWinter()
}

// lateWinter gives 15 January, south 15 July.
func (s season) lateWinter() weather.Date {
	if s.winter.South {
		return weather.NewDate(s.winter.Year, time.July, 15)
	}
	return weather.NewDate(s.winter.Year+1, time.January, 15)
}

// split works out one row from the plantings that have a note of leaf mass at
// either end: the mean over plots of the shares kept.
func (l *Learning) split(line int, s season, trial *Trial, plots []*Planting, early, late, end weather.Date) Split {
	nan := math.NaN()
	row := Split{KeptSeen: nan, KeptExpected: nan, KeptStandard: nan, LinePart: nan, Unexplained: nan, ToldApart: nan, Chance: nan}
	if x, ok := l.apart[line][s]; ok {
		row.ToldApart = x
	}
	for _, c := range l.checks[line] {
		if c.season == s {
			row.Chance = c.chance
		}
	}
	var seen mean
	nodes, pairs, hasEarly, hasLate := make([]float64, gridNodes), 0.0, false, false
	for _, p := range plots {
		c := trial.cropOf(p)
		var a, b Note
		for _, n := range trial.Notes {
			if n.Planting != p.Name || n.Trait != LeafMass || l.leafLn[c][n.Date] == nil {
				continue
			}
			if n.Date < early && n.Date >= a.Date {
				a = n
			}
			if n.Date >= late && n.Date <= end && n.Date >= b.Date {
				b = n
			}
		}
		hasEarly, hasLate = hasEarly || a.Planting != "", hasLate || b.Planting != ""
		if a.Planting == "" || b.Planting == "" || a.Value == 0 {
			continue
		}
		seen.add(b.Value / a.Value)
		pairs++
		for i, leafLn := range l.leafLn[c][b.Date] {
			nodes[i] += math.Max(0, math.Exp(leafLn)-l.params.MassOffsetG) / (math.Exp(l.leafLn[c][a.Date][i]) - l.params.MassOffsetG)
		}
	}
	switch {
	case !hasEarly && !hasLate:
		row.Remark = "no note of leaf mass before the first frost, nor in late winter"
	case !hasEarly:
		row.Remark = "no note of leaf mass before the first frost"
	case !hasLate:
		row.Remark = "no note of leaf mass between " + late.String() + " and " + end.String()
	case pairs == 0:
		row.Remark = "no planting has notes of leaf mass both before the first frost and in late winter"
	}
	if pairs == 0 {
		return row
	}
	for i := range nodes {
		nodes[i] /= pairs
	}
	row.KeptSeen = seen.value()
	row.KeptExpected = l.medianAt(nodes, l.byNode[line], s.place)
	row.KeptStandard = l.standardAt(nodes, s.place)
	row.LinePart = lnRatio(row.KeptExpected, row.KeptStandard)
	row.Unexplained = lnRatio(row.KeptSeen, row.KeptExpected)
	if row.ToldApart < l.params.TeachesLittle {
		row.Remark = tooLittle(row.KeptStandard)
	}
	return row
}

// tooLittle says why a winter's notes tell lines hardly apart in hardiness.
func tooLittle(keptStandard float64) string {
	switch {
	case keptStandard > 0.5:
		return "too mild to tell hardiness apart"
	case keptStandard < 0.1:
		return "so hard that nearly all was lost: it hardly tells hardiness apart"
	}
	return "its notes are too few to tell hardiness apart"
}

// teachesNothing gives the remark of a season of which every line noted has
// one of those on hardiness; "" otherwise.
func (l *Learning) teachesNothing(rows []Split) string {
	remark := ""
	for _, r := range rows {
		if math.IsNaN(r.KeptSeen) {
			continue
		}
		if !(r.ToldApart < l.params.TeachesLittle) {
			return ""
		}
		remark = r.Remark
	}
	return remark
}

// lnRatio is NaN where either part is not above 0.
func lnRatio(a, b float64) float64 {
	if !(a > 0 && b > 0) {
		return math.NaN()
	}
	return math.Log(a / b)
}

// medianAt gives the median of a quantity by node at a place under a density of
// a line's traits in general.
func (l *Learning) medianAt(nodes, chance []float64, p *Place) float64 {
	shifted := make([]float64, gridNodes)
	place := smoother(l.grid.HardC, 0, l.shiftC(p)).toWinter
	for s := 0; s < gridNodes; s += gridHards {
		place.along(shifted[s:s+gridHards], chance[s:s+gridHards], [2]int{0, gridHards}, [2]int{0, 1}, 1)
	}
	order := make([]int, gridNodes)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case nodes[a] < nodes[b]:
			return -1
		case nodes[a] > nodes[b]:
			return 1
		}
		return 0
	})
	below, half := 0.0, 0.5*sumOf(shifted)
	for _, i := range order {
		if below += shifted[i]; below >= half {
			return nodes[i]
		}
	}
	return math.NaN()
}

func sumOf(x []float64) (total float64) {
	for _, v := range x {
		total += v
	}
	return total
}

// standardAt gives a quantity by node for the standard line, top size 1 and
// standard hardiness, at a place.
func (l *Learning) standardAt(nodes []float64, p *Place) float64 {
	middle := gridSizes / 2 * gridHards
	one := make([]float64, gridHards)
	one[gridHards/2] = 1
	value, at := 0.0, make([]float64, gridHards)
	smoother(l.grid.HardC, 0, l.shiftC(p)).toWinter.along(at, one, [2]int{0, gridHards}, [2]int{0, 1}, 1)
	for h, x := range at {
		value += x * nodes[middle+h]
	}
	return value
}
