package forecast

import (
	"fmt"
	"math"
	"slices"

	"wintertop/weather/table"
)

// agreement says how the notes of one line of one season agree with what all
// other notes say of it.
type agreement struct {
	season season
	chance float64 // of notes at least as far off, by chi-square; NaN without notes
	far    []farNote
}

// farNote is a note far from what all others say, in SDs of what was expected.
type farNote struct {
	note Note
	z    float64
}

// compare puts the notes of each season of a line to what all its other notes let
// expect, and keeps what they say of the line before the last season. The layers
// are those of all seasons, or none where they do not lie ready; the room
// holds nothing else.
func (l *Learning) compare(line int, laid layers, room *lookRoom) {
	if laid.sum == nil {
		laid = l.layers(line, season{}, l.pop, patchOf(l.settled[line].cells).around(), room)
	}
	w := room.density()
	others := func(k int) {
		addAll(laid.sum, -1, laid.each[k].value, laid.in) // the others alone
		l.grid.posterior(w, laid.sum, l.priors[line], laid.in)
	}
	for k := range laid.each {
		if others(k); w.atEdge(laid.in) > neglected/10 {
			room.parabolas.used = 0
			laid = l.layers(line, season{}, l.pop, wholeGrid(), room)
			others(k)
		}
		y := laid.each[k]
		if y.season == l.newest() {
			without := layers{slices.Delete(slices.Clone(laid.each), k, k+1), laid.sum, laid.in}
			l.view(&room.view, l.grid.carrying(laid.sum, l.priors[line], laid.in, room), without, false, room)
			l.before[line] = l.settle(line, &room.view)
		}
		addAll(laid.sum, 1, y.value, laid.in)
		sd, shiftC := l.inDoubt(line, y.season)
		l.widen(w, sd, shiftC)
		e := l.expect(l.seen[line][y.season], y.season, w)
		l.checks[line] = append(l.checks[line], agreement{y.season, e.chance(), e.far(l.params.FarZ)})
	}
}

// inDoubt gives SDs of the deviations of a line in a season, the doubt of what all
// lines share in them, and about what those of hardiness lie.
func (l *Learning) inDoubt(line int, s season) (sd [traits]float64, shiftC float64) {
	frost, frostSD := l.effect(l.frostEffect(s), 0)
	sd = l.params.lineWinterSD()
	for t, doubt := range l.surer[line] {
		sd[t] = math.Hypot(sd[t], doubt)
	}
	sd[hardTrait] = math.Hypot(sd[hardTrait], frostSD)
	return sd, frost + l.shiftC(s.place)
}

// disagreements names the notes that lie far from the rest, and the winters
// whose notes as a whole do. All of them are used all the same.
func (l *Learning) disagreements(trial *Trial) table.Findings {
	var findings table.Findings
	for i, checks := range l.checks {
		for _, c := range checks {
			for _, f := range c.far {
				side := "above"
				if f.z < 0 {
					side = "below"
				}
				findings = append(findings, table.Finding{File: trial.notesFile(), Line: f.note.FileLine, Date: f.note.Date.String(), Column: string(f.note.Trait), Severity: table.Warning, TreatedAs: "used",
					Value: fmt.Sprintf("%g", f.note.Value),
					What:  fmt.Sprintf("%s of %s on %s lies %.1f standard deviations %s what all other notes let expect", f.note.Trait, f.note.Planting, f.note.Date, math.Abs(f.z), side),
					Hint:  "it is used as it stands: check value, unit, planting and date, or whether the tops were frozen"})
			}
			if c.chance < l.params.DisagreeChance {
				findings = append(findings, table.Finding{File: trial.notesFile(), Severity: table.Warning, TreatedAs: "used",
					What: fmt.Sprintf("the notes of %s in %s%s disagree with its other winters: chance of notes so far off %.2g", l.lines[i].Name, c.season.winter, atPlace(c.season.place), c.chance),
					Hint: "they are used all the same, and the winter's deviation in loss-split.csv shows it"})
			}
		}
	}
	return findings
}

func atPlace(p *Place) string {
	if p.Name == "" {
		return ""
	}
	return " at " + p.Name
}
