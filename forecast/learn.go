package forecast

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"wintertop/canopy"
	"wintertop/weather"
	"wintertop/weather/table"
)

// Learned is what is known of one line's traits after its notes. The spreads
// are standard deviations; those of top size and top length are taken on the
// logarithm and given in the trait's own unit at its value.
type Learned struct {
	Line          string
	Kind          string
	Notes         int // values used
	Winters       int // winters with notes of the line
	TopSize       float64
	TopSizeSD     float64
	TopLengthCM   float64
	TopLengthSDCM float64
	HardinessC    float64 // for the canopy at this station: the place's own coldness is in it
	HardinessSDC  float64
	Basis         string // assumed or notes
}

// The two words of basis.
const (
	Assumed   = "assumed"
	FromNotes = "notes"
)

// season names a winter at a place.
type season struct {
	winter weather.WinterYear
	place  *Place
}

// Learning holds what the notes say of every line, winter by winter.
type Learning struct {
	Lines []Learned // in the order of lines.csv

	grid   *Grid
	params Params
	kernel kernel
	priors []weights            // per line
	seen   []map[season]weights // per line: likelihood of the traits in that winter
}

// Learn turns the notes of a trial, as known on its as-of day, into the traits
// of each line: prior × the likelihood of each winter's notes, each smoothed
// by the line × winter deviations. The findings name notes that could not be
// used. The error is ctx's.
func Learn(ctx context.Context, trial *Trial) (*Learning, table.Findings, error) {
	params := trial.Places[0].Site.Params
	l := &Learning{grid: NewGrid(params), params: params}
	l.kernel = l.grid.kernelOf(params)
	readings, plots, findings, err := l.read(ctx, trial)
	if err != nil {
		return nil, nil, err
	}
	l.Lines = make([]Learned, len(trial.Lines))
	l.priors = make([]weights, len(trial.Lines))
	l.seen = make([]map[season]weights, len(trial.Lines))
	err = inParallel(ctx, len(trial.Lines), func(i int) error {
		line := trial.Lines[i]
		l.priors[i] = l.grid.prior(params, line.Prior)
		l.seen[i] = map[season]weights{}
		notes, winters := 0, map[weather.WinterYear]bool{}
		for s, r := range readings[line.Name] {
			l.seen[i][s] = l.grid.likelihood(r, plots[line.Name][s], params)
			notes += len(r)
			winters[s.winter] = true
		}
		l.Lines[i] = l.summary(line, notes, len(winters), l.general(i, season{}))
		return nil
	})
	return l, findings, err
}

// read runs the canopy of every planting with notes past its notes and pairs
// each note with what the grid expected. It gives the readings by line and
// season, and the number of plots in each.
func (l *Learning) read(ctx context.Context, trial *Trial) (map[string]map[season][]reading, map[string]map[season]int, table.Findings, error) {
	var findings table.Findings
	notesFile, _ := trial.Files.name(trial.Files.Notes, "notes.csv")
	notesOf := map[string][]Note{}
	unused := map[Trait]int{}
	for _, n := range trial.Notes {
		if n.Trait.learnable() {
			notesOf[n.Planting] = append(notesOf[n.Planting], n)
		} else {
			unused[n.Trait]++
		}
	}
	for _, t := range traitOrder {
		if unused[t] > 0 {
			findings = append(findings, table.Finding{File: notesFile, Column: string(t), Severity: table.Note, TreatedAs: "kept, not learned from",
				What: fmt.Sprintf("%d notes of %s are kept but nothing is learned from them yet", unused[t], t)})
		}
	}
	var crops []crop
	dates := map[crop][]weather.Date{}
	for i := range trial.Plantings {
		p := &trial.Plantings[i]
		c := trial.cropOf(p)
		for _, n := range notesOf[p.Name] {
			if dates[c] == nil {
				crops = append(crops, c)
			}
			dates[c] = append(dates[c], n.Date)
		}
	}
	expected := make([]map[weather.Date]prediction, len(crops))
	err := inParallel(ctx, len(crops), func(i int) error {
		expected[i] = l.grid.predict(crops[i], dates[crops[i]], l.params)
		return nil
	})
	if err != nil {
		return nil, nil, nil, err
	}
	readings, plots := map[string]map[season][]reading{}, map[string]map[season]int{}
	for i := range trial.Plantings {
		p := &trial.Plantings[i]
		notes := notesOf[p.Name]
		if len(notes) == 0 {
			continue
		}
		c := trial.cropOf(p)
		known := expected[slices.Index(crops, c)]
		at := season{p.Winter, c.place}
		if readings[p.Line] == nil {
			readings[p.Line], plots[p.Line] = map[season][]reading{}, map[season]int{}
		}
		plot := plots[p.Line][at]
		used := false
		for _, n := range notes {
			e, ok := known[n.Date]
			if !ok {
				findings = append(findings, table.Finding{File: notesFile, Line: n.FileLine, Date: n.Date.String(), Column: string(n.Trait), Severity: table.Warning, TreatedAs: "set aside",
					What: fmt.Sprintf("note of %s on %s is set aside: days of weather between its sowing and then are missing", n.Planting, n.Date)})
				continue
			}
			readings[p.Line][at] = append(readings[p.Line][at], readingOf(n, plot, l.params, c.place.Site.Canopy, e.leafG, e.height))
			used = true
		}
		if used {
			plots[p.Line][at] = plot + 1
		}
	}
	return readings, plots, findings, nil
}

// prediction holds the model's mean leaf mass (dry g) and height relative to
// the top length at the grid's nodes on one day.
type prediction struct{ leafG, height []float64 }

// predict runs one crop through its observed weather and keeps the days asked
// for that could be followed.
func (g *Grid) predict(c crop, dates []weather.Date, p Params) map[weather.Date]prediction {
	kept := map[weather.Date]prediction{}
	w := c.place.observed(c.sown, slices.Max(dates))
	if w == nil {
		return kept
	}
	draws := make([]float64, len(g.draws))
	c.sow(g.draws).Grow(w, 0, len(w.Days)-1, func(day int, s *canopy.Stand) {
		date := w.First + weather.Date(day)
		if !slices.Contains(dates, date) {
			return
		}
		k := prediction{make([]float64, gridNodes), make([]float64, gridNodes)}
		g.refineLog(k.leafG, s.LeafG(draws), p.MassOffsetG)
		g.refine(k.height, s.RelativeHeight(draws))
		kept[date] = k
	})
	return kept
}

// general gives the density of a line's traits from its prior and the notes
// of all seasons but one.
func (l *Learning) general(line int, except season) weights {
	logs := newWeights()
	for i, x := range l.priors[line] {
		logs[i] = math.Log(x + tiny)
	}
	for _, s := range sortedSeasons(l.seen[line]) {
		if s == except {
			continue
		}
		smoothed := slices.Clone(l.seen[line][s])
		l.kernel.smooth(smoothed)
		for i, x := range smoothed {
			logs[i] += math.Log(x + tiny)
		}
	}
	logs.fromLog()
	logs.normalise()
	return logs
}

// tiny keeps the logarithm of a weight finite where notes contradict one
// another, so that the least bad traits still carry the posterior.
const tiny = 1e-300

// inSeason gives the density of a line's traits in one winter at one place:
// its traits in general from all else, the line × winter deviation, and that
// winter's own notes.
func (l *Learning) inSeason(line int, s season) weights {
	w := l.general(line, s)
	l.kernel.smooth(w)
	if own, noted := l.seen[line][s]; noted {
		for i := range w {
			w[i] = (w[i] + tiny) * (own[i] + tiny)
		}
	}
	w.normalise()
	return w
}

// sortedSeasons gives the seasons in a fixed order, so that sums are the same
// on every run.
func sortedSeasons(seen map[season]weights) []season {
	return slices.SortedFunc(maps.Keys(seen), func(a, b season) int {
		if a.winter.Year != b.winter.Year {
			return a.winter.Year - b.winter.Year
		}
		return slices.Compare([]byte(a.place.Name), []byte(b.place.Name))
	})
}

// summary gives the moments of a line's density.
func (l *Learning) summary(line Line, notes, winters int, w weights) Learned {
	size, hard, length := w.marginals()
	sizeLn, sizeSD := moments(l.grid.SizeLn, size)
	hardC, hardSD := moments(l.grid.HardC, hard)
	lengthLn, lengthSD := moments(l.grid.LengthLn, length)
	basis := Assumed
	if notes > 0 {
		basis = FromNotes
	}
	return Learned{
		Line: line.Name, Kind: line.Kind, Notes: notes, Winters: winters, Basis: basis,
		TopSize: math.Exp(sizeLn), TopSizeSD: math.Exp(sizeLn) * sizeSD,
		TopLengthCM: math.Exp(lengthLn), TopLengthSDCM: math.Exp(lengthLn) * lengthSD,
		HardinessC: hardC, HardinessSDC: hardSD,
	}
}

// marginals sums a density over the other two traits.
func (w weights) marginals() (size, hard, length []float64) {
	size, hard, length = make([]float64, gridSizes), make([]float64, gridHards), make([]float64, gridLengths)
	for i := range size {
		for j := range hard {
			for k, x := range w[(i*gridHards+j)*gridLengths:][:gridLengths] {
				size[i] += x
				hard[j] += x
				length[k] += x
			}
		}
	}
	return size, hard, length
}

// moments gives mean and standard deviation of weights that sum to 1.
func moments(at, weight []float64) (mean, sd float64) {
	for i, x := range at {
		mean += weight[i] * x
	}
	for i, x := range at {
		sd += weight[i] * square(x-mean)
	}
	return mean, math.Sqrt(sd)
}
