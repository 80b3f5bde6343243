package forecast

import (
	"context"
	"maps"
	"math"
	"slices"

	"wintertop/weather"
)

// row is one line in one crop: what all its plots there share that have no
// notes of leaf mass in the season, or one planting that has.
type row struct {
	line      int // index into Trial.Lines
	kind      string
	crop      int // index into the place's crops
	plantings []*Planting
	noted     bool // one planting, the deviation of its plot learned from its notes
	stake     stake
	at        []int32 // of each of the stake's nodes: its place among those at which the crop's field is known
	doubtSD   float64 // model doubt of ln leaf mass
	basis     string
	notes     int

	hilledCM float64

	spreads *seasonSpreads // work space
	days    []SeasonDay
	picks   *pickRow // nil where no pick is made
	survey  *survey  // nil where no notes are planned
}

// stakesOf gives the stakes of some rows, which may be nil.
func stakesOf(rows []*row) []*stake {
	var stakes []*stake
	for _, r := range rows {
		if r != nil {
			stakes = append(stakes, &r.stake)
		}
	}
	return stakes
}

// rowsOf gathers what was sown at a place for one winter: its rows, by line
// and first planting, and its crops. The error is ctx's.
func (l *Learning) rowsOf(ctx context.Context, trial *Trial, p *Place, winter weather.WinterYear) ([]*row, []crop, error) {
	var rows []*row
	var crops []crop
	at := season{winter, p}
	for i := range trial.Plantings {
		planting := &trial.Plantings[i]
		if planting.Winter != winter || trial.placeOf(planting) != p {
			continue
		}
		c := trial.cropOf(planting)
		sowing := slices.Index(crops, c)
		if sowing < 0 {
			sowing = len(crops)
			crops = append(crops, c)
		}
		line := slices.IndexFunc(trial.Lines, func(line Line) bool { return line.Name == planting.Line })
		hilledCM := orElse(planting.HilledCM, 0)
		noted := l.noted(line, at, planting.Name)
		if !noted {
			known := slices.IndexFunc(rows, func(r *row) bool { return !r.noted && r.line == line && r.crop == sowing && r.hilledCM == hilledCM })
			if known >= 0 {
				rows[known].plantings = append(rows[known].plantings, planting)
				continue
			}
		}
		rows = append(rows, &row{
			line: line, kind: trial.Lines[line].Kind, crop: sowing, hilledCM: hilledCM, plantings: []*Planting{planting}, noted: noted,
			basis: l.Lines[line].Basis, notes: l.Lines[line].Notes,
		})
	}
	return rows, crops, l.stakes(ctx, rows, at)
}

// stakes gives each row its weighting of the grid. The error is ctx's.
func (l *Learning) stakes(ctx context.Context, rows []*row, at season) error {
	byLine := map[int][]*row{}
	for _, r := range rows {
		byLine[r.line] = append(byLine[r.line], r)
	}
	lines := slices.Sorted(maps.Keys(byLine))
	_, trialSD := l.trialOf(at)
	return inParallel(ctx, len(lines), func(i int) error {
		room := l.rooms.take()
		defer l.rooms.leave(room)
		before := l.expected(lines[i], at, room)
		for _, r := range byLine[lines[i]] {
			if r.noted {
				r.stake, r.doubtSD = l.grid.stakeOf(l.inPlot(before, r.line, at, r.plantings[0].Name, room), room), trialSD
			} else {
				r.stake, r.doubtSD = l.grid.stakeOf(l.withNotes(before, at, room), room), math.Hypot(trialSD, l.params.PlotMassSDLn)
			}
		}
		return nil
	})
}
