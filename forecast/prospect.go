package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// noteAt is a note that might be taken: of one of a row's plots, a trait and a
// date of the survey by their index, so many plants.
type noteAt struct{ plot, trait, date, plants int }

// atStake is a quantity by point on which a decision hangs.
type atStake struct {
	mean     float64
	variance float64
	share    float64 // of the whole decision
	last     int     // the last date of the survey whose notes come in time
	values   []float32
}

// prospect is one row as seen from the notes that might be taken of it.
type prospect struct {
	row    *row
	survey *survey
	params Params
	trial  float64 // variance of the trial's deviation in ln leaf mass, as far as it is in doubt
	plots  []int   // per planting of the row: its number among the line's plots of the season
	stakes []atStake
	whole  atStake // the whole decision at once, to say how far it is in doubt

	old      []reading // notes of the line taken this season
	oldArray []int     // per old note, which array is its own
	arrays   [][]float32
	oldLeans [][]float64 // by array: covariance with each stake, last with the whole
	oldGram  [][]float64 // by two arrays
	oldGroup [groups][]int
	oldOmega [groups]*mat.SymDense // inverse of the covariance of the old notes' scatter

	courses []prospectCourse
}

// prospectCourse is one course: the answers, centred, by date and trait, and
// their covariances with one another as far as they were asked for.
type prospectCourse struct {
	mean    []float64
	answers [][]float32 // nil where there is no such day
	leans   [][]float64 // by answer: covariance with each stake, last with the whole
	olds    [][]float64 // by answer: covariance with each array of the old notes
	gram    []float64   // by two answers, the later one first; NaN where it was not asked for
}

// addend is a note of one course: what it adds to the notes taken before this
// as-of day is its reading less what they let expect at given traits.
type addend struct {
	answer  int
	reading reading
	own     []float64 // weights of the old notes of its group in what they let expect
}

func (l *Learning) prospectOf(r *row, v *survey, s season, plots []int, stakes []atStake, whole atStake) *prospect {
	_, trialSD := l.trialOf(s)
	p := &prospect{row: r, survey: v, params: l.params, trial: square(trialSD), plots: plots, stakes: stakes, whole: whole}
	if readings := l.seen[r.line][s]; readings != nil {
		p.old = readings
		p.arrays, p.oldArray = v.noted(l.grid, &r.stake, readings)
		for _, x := range p.arrays {
			v.standing(x)
		}
	}
	all := append(slices.Clip(stakes), whole)
	for _, x := range p.arrays {
		p.oldLeans = append(p.oldLeans, leansOf(x, all))
		var row []float64
		for _, y := range p.arrays {
			row = append(row, product(x, y))
		}
		p.oldGram = append(p.oldGram, row)
	}
	p.scatter()
	p.courses = make([]prospectCourse, len(v.shown))
	for c := range p.courses {
		of := &p.courses[c]
		of.answers = v.shown[c]
		of.mean, of.leans, of.olds = make([]float64, len(of.answers)), make([][]float64, len(of.answers)), make([][]float64, len(of.answers))
		of.gram = make([]float64, len(of.answers)*(len(of.answers)+1)/2)
		fill(of.gram, math.NaN())
		for a, x := range of.answers {
			if x == nil {
				continue
			}
			of.mean[a] = v.standing(x)
			of.leans[a] = leansOf(x, all)
			for _, y := range p.arrays {
				of.olds[a] = append(of.olds[a], product(x, y))
			}
		}
	}
	return p
}

// doubts gives the variances of plot and trial in a group.
func (p *prospect) doubts(g group) (plot, trial float64) {
	plot, trial = g.doubts(p.params)
	if g == massGroup {
		trial = p.trial
	}
	return plot, trial
}

// leansOf gives the covariances of a quantity with what is at stake.
func leansOf(x []float32, all []atStake) []float64 {
	leans := make([]float64, len(all))
	for i, s := range all {
		leans[i] = product(x, s.values)
	}
	return leans
}

// scatter prepares the scatter of the old notes under the present params.
func (p *prospect) scatter() {
	for g := range groups {
		p.oldGroup[g], p.oldOmega[g] = nil, nil
		for i, r := range p.old {
			if r.group == g {
				p.oldGroup[g] = append(p.oldGroup[g], i)
			}
		}
		if len(p.oldGroup[g]) > 0 {
			plot, trial := p.doubts(g)
			p.oldOmega[g] = inverse(covariance(together(nil, p.old, g), plot, trial))
		}
	}
}

// addend lays out a note along one course; ok is false where it cannot be
// taken.
func (p *prospect) addend(n noteAt, c *prospectCourse) (one addend, ok bool) {
	one.answer = n.date*len(surveyed) + n.trait
	if c.answers[one.answer] == nil {
		return one, false
	}
	site := p.survey.site
	note := Note{Trait: surveyed[n.trait], Plants: n.plants, Value: typical(surveyed[n.trait], c.mean[one.answer], p.params, site.DryShare)}
	one.reading = readingOf(note, p.plots[n.plot], p.params, site)
	g := one.reading.group
	if omega := p.oldOmega[g]; omega != nil {
		plot, trial := p.doubts(g)
		shared := mat.NewVecDense(len(p.oldGroup[g]), nil)
		for i, old := range p.oldGroup[g] {
			shared.SetVec(i, one.reading.shared(p.old[old], plot, trial))
		}
		var own mat.VecDense
		own.MulVec(omega, shared)
		one.own = own.RawVector().Data
	}
	return one, true
}

// typical gives the value of a note that stands on its scale where the answer
// has its mean.
func typical(t Trait, mean float64, p Params, dryShare float64) float64 {
	switch t {
	case LeafMass:
		return max(0, math.Exp(mean)-p.MassOffsetG) / dryShare
	case GroundCover:
		return -math.Expm1(-math.Exp(mean))
	case LiveLeaves:
		return max(0, math.Exp(mean)-p.LeavesOffset)
	case LiftedShare:
		return shareOf(mean, triedUsually)
	}
	return max(0, math.Exp(mean)-p.HeightOffsetCM)
}

// signal gives the covariance of two answers of a course.
func (p *prospect) signal(c *prospectCourse, a, b int) float64 {
	a, b = max(a, b), min(a, b)
	x := &c.gram[a*(a+1)/2+b]
	if *x != *x {
		*x = product(c.answers[a], c.answers[b])
	}
	return *x
}

// covariance gives the covariance of what two notes add to the old ones.
func (p *prospect) covariance(c *prospectCourse, a, b *addend, same bool) float64 {
	x := p.signal(c, a.answer, b.answer)
	ga, gb := a.reading.group, b.reading.group
	for i, w := range a.own {
		x -= w * c.olds[b.answer][p.oldArray[p.oldGroup[ga][i]]]
	}
	for i, w := range b.own {
		x -= w * c.olds[a.answer][p.oldArray[p.oldGroup[gb][i]]]
	}
	for i, w := range a.own {
		for j, u := range b.own {
			x += w * u * p.oldGram[p.oldArray[p.oldGroup[ga][i]]][p.oldArray[p.oldGroup[gb][j]]]
		}
	}
	if ga != gb {
		return x
	}
	plot, trial := p.doubts(ga)
	x += a.reading.shared(b.reading, plot, trial)
	for i, w := range a.own {
		x -= w * b.reading.shared(p.old[p.oldGroup[ga][i]], plot, trial)
	}
	if same {
		x += a.reading.variance
	}
	return x
}

// lean gives the covariance of what a note adds with a stake.
func (p *prospect) lean(c *prospectCourse, a *addend, stake int) float64 {
	x := c.leans[a.answer][stake]
	for i, w := range a.own {
		x -= w * p.oldLeans[p.oldArray[p.oldGroup[a.reading.group][i]]][stake]
	}
	return x
}
