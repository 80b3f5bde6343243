package forecast

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/floats"
)

// chooser picks notes one after the other.
type chooser struct {
	prospects []*prospect
	picked    [][]noteAt // per prospect, by date
	kept      [][]chosen // per prospect, then course
	assurance float64
	duels     [][]duel // per prospect; nil for the pick
}

// duel sets one prospect's line against another's, by how much the other is
// less hardy.
type duel struct {
	other  int // prospect
	gapC   float64
	weight float64
}

// value gives what the notes are worth along one course as far as it hangs on
// one prospect, at the variances taken away of its stakes.
func (c *chooser) value(i, course int, cut []float64) float64 {
	total := 0.0
	if c.duels == nil {
		for s, stake := range c.prospects[i].stakes {
			total += stake.share * worth(stake.mean-c.assurance, cut[s])
		}
		return total
	}
	for _, d := range c.duels[i] {
		both := cut[0]
		if d.other >= 0 {
			both += c.kept[d.other][course].cut[0]
		}
		total += d.weight * worth(d.gapC, both)
	}
	return total
}

// gains gives what each of some notes more of a prospect is worth by itself, the mean
// over courses.
func (c *chooser) gains(i int, notes []noteAt) []float64 {
	return c.overCourses(i, len(notes), func(course int, gain []float64) {
		p, k := c.prospects[i], &c.kept[i][course]
		now := c.value(i, course, k.cut)
		var cut []float64
		for n, note := range notes {
			cut = k.with(p, &p.courses[course], note, cut)
			gain[n] = c.value(i, course, cut) - now
		}
	})
}

// overCourses gives the means over a prospect's courses of so many numbers that do
// fills for each. Courses share nothing.
func (c *chooser) overCourses(i, numbers int, do func(course int, of []float64)) []float64 {
	courses := len(c.prospects[i].courses)
	all, mean := make([]float64, courses*numbers), make([]float64, numbers)
	_ = inParallel(context.Background(), courses, func(course int) error {
		do(course, all[course*numbers:][:numbers])
		return nil
	})
	for course := range courses {
		floats.AddScaled(mean, 1/float64(courses), all[course*numbers:][:numbers])
	}
	return mean
}

// candidates lists the notes that might be taken of a prospect.
func (p *prospect) candidates() []noteAt {
	var all []noteAt
	for plot := range p.plots {
		for date := range p.survey.dates {
			for t, trait := range surveyed {
				if measuredOn(trait, date) {
					all = append(all, noteAt{plot, t, date, plantsAtFirst})
				}
			}
		}
	}
	return all
}

// best gives the note of a prospect that is worth most beside those picked.
func (c *chooser) best(i int) (note noteAt, gain float64) {
	notes := slices.DeleteFunc(c.prospects[i].candidates(), func(n noteAt) bool { return c.has(i, n) })
	if len(notes) == 0 {
		return note, 0
	}
	gains := c.gains(i, notes)
	most := floats.MaxIdx(gains)
	return notes[most], max(gains[most], 0)
}

// left gives what all further notes of a prospect together are worth. One alone
// may be worth next to nothing where ten decide.
func (c *chooser) left(i int) float64 {
	p, all := c.prospects[i], slices.Clone(c.picked[i])
	for _, n := range p.candidates() {
		if !c.has(i, n) {
			all = append(all, n)
		}
	}
	slices.SortStableFunc(all, func(a, b noteAt) int { return cmp.Compare(a.date, b.date) })
	return c.overCourses(i, 1, func(course int, of []float64) {
		k := p.choose(&p.courses[course], all)
		of[0] = c.value(i, course, k.cut) - c.value(i, course, c.kept[i][course].cut)
	})[0]
}

// has says whether a note was picked, with any number of plants.
func (c *chooser) has(i int, n noteAt) bool {
	return slices.ContainsFunc(c.picked[i], func(m noteAt) bool { return m.plot == n.plot && m.trait == n.trait && m.date == n.date })
}

// enough settles how many plants a note needs.
func (c *chooser) enough(i int, n noteAt) noteAt {
	var notes []noteAt
	for _, plants := range plantsTried {
		n.plants = plants
		notes = append(notes, n)
	}
	gains := c.gains(i, notes)
	for k, gain := range gains {
		if gain >= nearly*gains[len(gains)-1] {
			return notes[k]
		}
	}
	return n
}

// take adds a note to those picked.
func (c *chooser) take(i int, n noteAt) {
	at, _ := slices.BinarySearchFunc(c.picked[i], n, func(a, b noteAt) int { return cmp.Or(cmp.Compare(a.date, b.date), -1) })
	c.picked[i] = slices.Insert(c.picked[i], at, n)
	c.lay(i)
}

// lay lays the picked notes of a prospect out along all courses.
func (c *chooser) lay(i int) {
	p := c.prospects[i]
	c.kept[i] = make([]chosen, len(p.courses))
	_ = inParallel(context.Background(), len(p.courses), func(course int) error {
		c.kept[i][course] = p.choose(&p.courses[course], c.picked[i])
		return nil
	})
}

// doubt gives the doubt of a prospect's whole decision with the notes picked,
// SD.
func (c *chooser) doubt(i int) float64 {
	p, left := c.prospects[i], 0.0
	for course := range p.courses {
		k := &c.kept[i][course]
		left += max(0, p.whole.variance-k.cut[len(k.cut)-1]) / float64(len(p.courses))
	}
	return math.Sqrt(left)
}

// offer is the best note of a prospect, and what all its notes are worth.
type offer struct {
	note       noteAt
	gain, left float64
}

// open says whether a row is still worth walks: its notes are, or there are none
// yet and no verdict without any.
func (c *chooser) open(i int, o offer, least float64) bool {
	return o.left >= least || c.prospects[i].row.notes == 0 && len(c.picked[i]) == 0
}

// advise picks notes until no row has any worth the walks, least on the scale
// of the gains, or the list is long.
func (c *chooser) advise(ctx context.Context, least float64) ([]NextNote, []NextRow, error) {
	n := len(c.prospects)
	c.picked, c.kept = make([][]noteAt, n), make([][]chosen, n)
	offers, stale := make([]offer, n), make([]bool, n)
	var rows []NextRow
	for i, p := range c.prospects {
		c.lay(i)
		stale[i] = true
		var names []string
		for _, planting := range p.row.plantings {
			names = append(names, planting.Name)
		}
		rows = append(rows, NextRow{Planting: strings.Join(names, " "), Plots: len(names), Line: p.row.plantings[0].Line, Mean: p.whole.mean, Doubt: c.doubt(i)})
	}
	var take []NextNote
	var notes []noteAt
	for {
		err := inParallel(ctx, n, func(i int) error {
			if stale[i] {
				offers[i].left = c.left(i)
				if c.open(i, offers[i], least) {
					offers[i].note, offers[i].gain = c.best(i)
				}
			}
			return nil
		})
		if err != nil {
			return nil, nil, err
		}
		clear(stale)
		most := -1
		for i, o := range offers {
			if c.open(i, o, least) && (most < 0 || o.gain > offers[most].gain) {
				most = i
			}
		}
		if most < 0 || len(take) == mostNotes {
			break
		}
		note := c.enough(most, offers[most].note)
		gain, before, p := c.gains(most, []noteAt{note})[0], c.doubt(most), c.prospects[most]
		c.take(most, note)
		planting := p.row.plantings[note.plot]
		take = append(take, NextNote{Rank: len(take) + 1, Planting: planting.Name, Line: planting.Line, Trait: surveyed[note.trait],
			From: p.survey.dates[note.date], Plants: note.plants, Gain: gain, Before: before, After: c.doubt(most), First: offers[most].left < least, row: most})
		notes = append(notes, note)
		stale[most] = true
		if c.duels != nil {
			for _, d := range c.duels[most] {
				if d.other >= 0 {
					stale[d.other] = true
				}
			}
		}
	}
	for i := range rows {
		rows[i].After, rows[i].Left, rows[i].Advice = c.doubt(i), offers[i].left, Later
		switch {
		case c.open(i, offers[i], least):
		case len(c.picked[i]) > 0:
			rows[i].Advice = ThenStop
		default:
			rows[i].Advice = StopHere
		}
	}
	c.otherwise(take, notes)
	return take, rows, nil
}

// otherwise works out the gains of a list of notes again with the deviations of
// plots at either end of their ranges.
func (c *chooser) otherwise(order []NextNote, notes []noteAt) {
	for i := range order {
		order[i].Low, order[i].High = order[i].Gain, order[i].Gain
	}
	for _, high := range []bool{false, true} {
		for i, p := range c.prospects {
			p.params = p.params.atEnd(high, "plot_mass_sd_ln", "plot_height_sd_ln", "plot_leaves_sd_ln", "plot_lift_sd_logit")
			p.scatter()
			c.picked[i] = nil
			c.lay(i)
		}
		for k, n := range notes {
			i := order[k].row
			gain := c.gains(i, []noteAt{n})[0]
			order[k].Low, order[k].High = min(order[k].Low, gain), max(order[k].High, gain)
			c.take(i, n)
		}
	}
}
