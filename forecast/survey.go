package forecast

import (
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/blas/blas32"
	"gonum.org/v1/gonum/mat"

	"wintertop/canopy"
	"wintertop/weather"
)

// survey holds, for one row, what notes not yet taken would show of it along
// some courses of weather, and what is at stake: both by point, a node of the
// row's stake with one of a pair of top lengths.
type survey struct {
	site   canopy.Params
	dates  []weather.Date
	stride int              // every so many-th course is followed
	due    [][]weather.Date // per course followed, by date: the first day from it on that tops stand thawed; 0 where none comes
	points []point
	root   []float64 // of each point's weight
	step   []int32   // of ln length, by point
	// stood is the share of courses and days of each stretch of the window,
	// between one date and the next, on which the stand could be left to the
	// belts: by stretch, then point.
	stood [][]float64
	days  []float64 // of the window in each stretch
	// shown holds the model's answers on the scale of the notes: per course
	// followed, by date and trait, then point; nil where the day does not come. They
	// are most of what is kept until all days are played.
	shown [][][]float32
}

// point is a place on the grid that carries some of a line's weight.
type point struct {
	at                 int // position in the stake's nodes
	lengthLn, lengthCM float64
	weight             float64
}

// surveyCourses is how many courses of weather are followed at least, where there
// are as many: what the answers share is a mean over them.
const surveyCourses = 24

// surveyed lists the traits that are worth a walk, in the order of take and of a
// note sheet.
// Weeds and frosted roots tell of soil and weather; dry mass is fresh mass dried.
var surveyed = []Trait{LeafMass, TopHeight, TopLength, LiveLeaves, GroundCover, LiftedShare}

// surveyDates gives the days from which on notes can be taken, in order: the day
// after the as-of day or mid October (south April), whichever is later, and
// then every so many whole weeks up to the window's end.
func surveyDates(goal Goal) []weather.Date {
	const most = 6
	first := weather.NewDate(goal.Winter.Year, time.October, 15)
	if goal.Winter.South {
		first = weather.NewDate(goal.Winter.Year, time.April, 15)
	}
	first = max(first, goal.AsOf+1)
	step := weather.Date(max(7, 7*math.Ceil(float64(goal.To-first)/(7*most))))
	var dates []weather.Date
	for d := first; d < goal.To; d += step {
		dates = append(dates, d)
	}
	return dates
}

// dueDays gives, per course, the first day from each date on that ends with
// tops thawed.
func dueDays(t traces, dates []weather.Date, last weather.Date) [][]weather.Date {
	due := make([][]weather.Date, len(t.courses))
	for c, w := range t.courses {
		free := thawed(w)
		for _, d := range dates {
			for d <= last && !free[w.Index(d)] {
				d++
			}
			if d > last {
				d = 0
			}
			due[c] = append(due[c], d)
		}
	}
	return due
}

func (g *Grid) newSurvey(site canopy.Params, s *stake, dates []weather.Date, due [][]weather.Date) *survey {
	v := &survey{site: site, dates: dates, stride: max(1, len(due)/surveyCourses), days: make([]float64, len(dates))}
	for c := 0; c < len(due); c += v.stride {
		v.due = append(v.due, due[c])
		v.shown = append(v.shown, make([][]float32, len(dates)*len(surveyed)))
	}
	for c, i := range s.core {
		for _, lengthLn := range s.pair(i) {
			v.points = append(v.points, point{i, lengthLn, math.Exp(lengthLn), s.inCore[c] / 2})
			v.root = append(v.root, math.Sqrt(s.inCore[c]/2))
			k := int(math.Round((lengthLn - g.LengthLn[0]) / g.lengthStep()))
			v.step = append(v.step, int32(min(max(k, 0), gridLengths-1)))
		}
	}
	for range dates {
		v.stood = append(v.stood, make([]float64, len(v.points)))
	}
	return v
}

// add takes one prepared day of a row's crop in.
func (v *survey) add(d *dayBook, r *row, goal Goal) {
	f := d.f
	stretch, within := slices.BinarySearch(v.dates, f.date)
	if !within {
		stretch-- // the day follows the notes of the date before it
	}
	inWindow := f.date >= goal.From && f.date > goal.AsOf && stretch >= 0
	if inWindow {
		v.days[stretch]++
		all := r.picks.table.all[r.picks.ground]
		for i, p := range v.points {
			v.stood[stretch][i] += float64(all[r.at[p.at]*gridLengths+v.step[i]])
		}
	}
	for course, dues := range v.due {
		from := min(course*v.stride, f.courses-1) * f.nodes
		for date, due := range dues {
			if due == f.date {
				v.take(d, r, from, date, v.shown[course][date*len(surveyed):][:len(surveyed)])
			}
		}
	}
}

// measuredOn says whether a trait is worth measuring on a date of a survey: top
// length is the same at any time.
func measuredOn(trait Trait, date int) bool { return trait != TopLength || date == 0 }

// take puts the answers of one course on one day into out, by trait.
func (v *survey) take(d *dayBook, r *row, from, date int, out [][]float32) {
	p := d.place.Site.Params
	for t, trait := range surveyed {
		if measuredOn(trait, date) {
			out[t] = make([]float32, len(v.points))
		}
	}
	var mass canopy.MassCell
	for i, point := range v.points {
		cell := from + int(r.at[point.at])
		if i == 0 || point.at != v.points[i-1].at { // what length does not bear on
			leafG := d.f.leafG[cell]
			mass = d.shares.Mass(lnOrLow(leafG))
			out[0][i] = float32(ln(leafG + p.MassOffsetG))
			out[3][i] = float32(ln(d.f.liveLeaves[cell] + p.LeavesOffset))
			out[4][i] = float32(lnLeafArea(1-d.lightAt(leafG), p.CoverLeast))
		} else {
			out[0][i], out[3][i], out[4][i] = out[0][i-1], out[3][i-1], out[4][i-1]
		}
		out[1][i] = float32(ln(d.f.height[cell]*point.lengthCM + p.HeightOffsetCM))
		if out[2] != nil {
			out[2][i] = float32(ln(point.lengthCM + p.HeightOffsetCM))
		}
		out[5][i] = float32(empiricalLogit(d.shares.At(mass, lnOrLow(d.f.height[cell])+point.lengthLn), triedUsually))
	}
}

// triedUsually is the number of plants on whose scale a share of lifted plants
// is put. Common practice, no source.
const triedUsually = 20

// noted gives the answers to notes that were taken, at the points.
func (v *survey) noted(g *Grid, s *stake, readings []reading) (arrays [][]float32, of []int) {
	whole, of := distinct(readings)
	for _, w := range whole {
		x := make([]float32, len(v.points))
		for i, p := range v.points {
			x[i] = float32(g.answerAt(w, s.nodes[p.at], g.aside[v.step[i]]))
		}
		arrays = append(arrays, x)
	}
	return arrays, of
}

// hardiness gives what is expected of a line's hardiness in general where its
// traits in the season are those of a point.
func (l *Learning) hardiness(v *survey, r *row) []float64 {
	general := l.moments[r.line].cov
	inWinter := mat.NewSymDense(traits, nil)
	inWinter.CopySym(general)
	for t, sd := range l.params.lineWinterSD() {
		inWinter.SetSym(t, t, inWinter.At(t, t)+square(sd))
	}
	var shrink mat.Dense
	shrink.Mul(general, inverse(inWinter))
	x := make([]float64, len(v.points))
	for i, p := range v.points {
		node := r.stake.nodes[p.at]
		own := [traits]float64{l.grid.SizeLn[node/gridHards], l.grid.HardC[node%gridHards], p.lengthLn}
		for t, y := range own {
			x[i] += shrink.At(hardTrait, t) * y
		}
	}
	return x
}

// standing puts a quantity by point into the form in which the product of two is
// their covariance: less its mean, which is given, times the root of each point's
// weight.
func (v *survey) standing(x []float32) (mean float64) {
	for i, y := range x {
		mean += v.points[i].weight * float64(y)
	}
	for i, y := range x {
		x[i] = float32((float64(y) - mean) * v.root[i])
	}
	return mean
}

// product gives the covariance of two standing quantities.
func product(x, y []float32) float64 {
	return blas32.DDot(blas32.Vector{N: len(x), Inc: 1, Data: x}, blas32.Vector{N: len(y), Inc: 1, Data: y})
}
