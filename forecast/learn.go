package forecast

import (
	"context"
	"fmt"
	"slices"

	"wintertop/weather"
	"wintertop/weather/table"
)

// season names a winter at a place.
type season struct {
	winter weather.WinterYear
	place  *Place
}

// Learning holds what the notes say of every line, winter by winter.
type Learning struct {
	Lines []Learned // in the order of lines.csv

	grid    *Grid
	params  Params
	rooms   *lookRooms
	places  []*Place
	kernels map[season]kernel
	lines   []Line
	rings   []int                  // lines whose pedigrees lead back to themselves
	seen    []map[season][]reading // per line
	lengths []lengthNormal         // per line: which ln lengths matter, less the grid's middle
	laid    []map[season]*evidence // the same as likelihoods, while a line is looked at
	seasons []season               // with notes, in order: two effects each
	pop     *population
	views   []*view                             // per line, of all its notes; nil without
	priors  []traitPrior                        // per line, what its notes are put to
	settled []settled                           // per line: its traits after all notes, what the lines share taken as known
	before  []settled                           // per line: the same of all notes but those of the last season with notes; nothing where it is not known
	byNode  [][]float64                         // per line: its traits in general after all notes, lengths added up
	moments []traitPrior                        // per line: of the same
	ownHard [][]float64                         // per line: chances of the steps of hardiness, what all lines share taken as known
	surer   [][traits]float64                   // per line: SDs of the doubt that comes of what all lines share
	checks  [][]agreement                       // per line: how each season agrees with the rest
	leafLn  map[crop]map[weather.Date][]float64 // ln(g dry + offset) by node on the days of mass notes
	apart   []map[season]float64                // per line: share of the variance of hardiness that a season's notes take away
}

// Learn turns the notes of a trial, as known on its as-of day, into the traits
// of each line: prior × the likelihood of each winter's notes, each smoothed
// by the line × winter deviations. What the lines share, the population and
// the deviation of each trial and place, is estimated from all of them at once.
// The findings name notes that could not be used or that lie far from the rest,
// and say what the notes cannot tell. The error is ctx's.
func Learn(ctx context.Context, trial *Trial) (*Learning, table.Findings, error) {
	params := trial.Places[0].Site.Params
	l := newLearning(NewGrid(params), params, trial.Places, trial.Lines)
	findings, err := l.read(ctx, trial)
	if err != nil {
		return nil, nil, err
	}
	if err := l.share(ctx, func(int) patch { return wholeGrid() }); err != nil {
		return nil, nil, err
	}
	if err := l.conclude(ctx, true); err != nil {
		return nil, nil, err
	}
	if err := l.tellApart(ctx); err != nil {
		return nil, nil, err
	}
	findings = append(findings, l.disagreements(trial)...)
	return l, append(findings, l.unknown(trial)...), nil
}

func newLearning(g *Grid, params Params, places []*Place, lines []Line) *Learning {
	n := len(lines)
	any := lengthNormal{variance: square(params.TopLengthSD) + square(params.MeanLengthSDLn)}
	return &Learning{
		grid: g, params: params, places: places, lines: lines, rooms: &lookRooms{}, kernels: map[season]kernel{},
		seen: make([]map[season][]reading, n), laid: make([]map[season]*evidence, n), lengths: slices.Repeat([]lengthNormal{any}, n), Lines: make([]Learned, n), priors: make([]traitPrior, n),
		settled: make([]settled, n), before: make([]settled, n), byNode: make([][]float64, n), moments: make([]traitPrior, n), ownHard: make([][]float64, n), surer: make([][traits]float64, n),
		checks: make([][]agreement, n), apart: make([]map[season]float64, n),
	}
}

// without learns again from all notes but those of one winter, from the
// beginning, so that nothing of that winter bears on it. Seasons are not
// compared: a forecast does not need it. The error is ctx's.
func (l *Learning) without(ctx context.Context, w weather.WinterYear) (*Learning, error) {
	left := newLearning(l.grid, l.params, l.places, l.lines)
	left.rooms = l.rooms
	for i := range l.seen {
		left.seen[i] = map[season][]reading{}
		for s, readings := range l.seen[i] {
			if s.winter != w {
				left.seen[i][s] = asNoted(readings, l.params)
			}
		}
	}
	if err := left.share(ctx, func(line int) patch { return patchOf(l.settled[line].cells).around() }); err != nil {
		return nil, err
	}
	return left, left.conclude(ctx, false)
}

// read runs the canopy of every planting with notes past its notes, pairs each
// note with what the grid expected.
func (l *Learning) read(ctx context.Context, trial *Trial) (table.Findings, error) {
	notesOf, findings := trial.notesByPlanting()
	var crops []crop
	watches := map[crop][]watch{}
	for i := range trial.Plantings {
		p := &trial.Plantings[i]
		c := trial.cropOf(p)
		for _, n := range notesOf[p.Name] {
			if watches[c] == nil {
				crops = append(crops, c)
			}
			watches[c] = append(watches[c], watch{n.Date, n.Trait})
		}
	}
	expected := make([]map[watch][]float64, len(crops))
	err := inParallel(ctx, len(crops), func(i int) error {
		expected[i] = l.grid.predict(crops[i], watches[crops[i]], l.params)
		return nil
	})
	if err != nil {
		return nil, err
	}
	l.leafLn = map[crop]map[weather.Date][]float64{}
	for i, c := range crops {
		l.leafLn[c] = map[weather.Date][]float64{}
		for w, x := range expected[i] {
			if w.trait == LeafMass {
				l.leafLn[c][w.date] = x
			}
		}
	}
	type lineSeason struct {
		line   int
		season season
	}
	scaled, plots := scales{}, map[lineSeason]int{} // plots so far
	for i := range l.seen {
		l.seen[i] = map[season][]reading{}
	}
	for i := range trial.Plantings {
		p := &trial.Plantings[i]
		if len(notesOf[p.Name]) == 0 {
			continue
		}
		c := trial.cropOf(p)
		known := expected[slices.Index(crops, c)]
		line := slices.IndexFunc(trial.Lines, func(line Line) bool { return line.Name == p.Line })
		var own []reading
		at := season{p.Winter, c.place}
		for _, n := range notesOf[p.Name] {
			e := known[watch{n.Date, n.Trait}.like()]
			if e == nil {
				findings = append(findings, table.Finding{File: trial.notesFile(), Line: n.FileLine, Date: n.Date.String(), Column: string(n.Trait), Severity: table.Warning, TreatedAs: "set aside",
					What: fmt.Sprintf("note of %s on %s is set aside: days of weather between its sowing and then are missing", n.Planting, n.Date)})
				continue
			}
			r := readingOf(n, plots[lineSeason{line, at}], l.params, c.place.Site.Canopy)
			r.expected = scaled.of(r, e)
			own = append(own, r)
		}
		if len(own) > 0 {
			l.seen[line][at] = append(l.seen[line][at], own...)
			plots[lineSeason{line, at}]++
		}
	}
	return findings, nil
}

// notesByPlanting gathers the notes from which something is learned; the
// findings name the traits that are only kept.
func (t *Trial) notesByPlanting() (map[string][]Note, table.Findings) {
	of, unused := map[string][]Note{}, map[Trait]int{}
	for _, n := range t.Notes {
		if n.Trait.learnable() {
			of[n.Planting] = append(of[n.Planting], n)
		} else {
			unused[n.Trait]++
		}
	}
	var findings table.Findings
	for _, trait := range traitOrder {
		if unused[trait] > 0 {
			kept := fmt.Sprintf("%d notes of %s are kept, but they tell", unused[trait], trait)
			if unused[trait] == 1 {
				kept = fmt.Sprintf("1 note of %s is kept, but it tells", trait)
			}
			findings = append(findings, table.Finding{File: t.notesFile(), Column: string(trait), Severity: table.Note, TreatedAs: "kept, not learned from",
				What: kept + " of weather, soil and hilling, not of a line's top"})
		}
	}
	return of, findings
}

func (t *Trial) notesFile() string {
	name, _ := t.Files.name(t.Files.Notes, "notes.csv")
	return name
}
