package forecast

import "math"

// lot is what the crew has before it at one planting.
type lot struct {
	areaM2 float64
	// yield is the share of an area that is lifted sound when it is lifted on a
	// day, per course and day: the lift share, and nothing once a root has
	// frozen.
	yield [][]float64
}

// crew lifts the lots of a place along each past winter. The days run from the
// one after as-of to the window's end.
type crew struct {
	areaPerDayM2, daysPerWeek float64
	worthShare                float64
	fit                       [][]bool // per course and day
	lots                      []lot
}

// worked is what came of lifting in one order.
type worked struct {
	lostM2 []float64 // per lot, mean of the courses: what belts or frost took, or was never lifted
	// done is the day on which the last of a lot is lifted, per lot and course;
	// never where some of it stays.
	done [][]int
	// begunM2 is the area of each lot lifted in the first week, mean of the courses.
	begunM2 []float64

	left []float64 // work space
}

const never = math.MaxInt

func (w *worked) lost() (sumM2 float64) {
	for _, x := range w.lostM2 {
		sumM2 += x
	}
	return sumM2
}

// week is the number of days over which the crew's days are counted, from the
// day after as-of on.
const week = 7

// play lifts the lots in one order, decided before the play begins, in every
// past winter. On a fit day the crew goes to the first lot of the order of
// which enough would lift on that day, as anyone sees who walks the field, and
// on to the next until its day is full; the first days of a week that can be
// used are used. from is the first day of work.
func (c *crew) play(order []int, from int) *worked {
	w := &worked{lostM2: make([]float64, len(c.lots)), begunM2: make([]float64, len(c.lots)), left: make([]float64, len(c.lots)), done: make([][]int, len(c.lots))}
	for i := range w.done {
		w.done[i] = make([]int, len(c.fit))
	}
	c.playInto(w, order, from)
	return w
}

// playInto is play into the room that an earlier one took.
func (c *crew) playInto(w *worked, order []int, from int) {
	clear(w.lostM2)
	clear(w.begunM2)
	left, courses := w.left, float64(len(c.fit))
	for course, fit := range c.fit {
		standing := len(c.lots)
		for i, l := range c.lots {
			left[i], w.done[i][course] = l.areaM2, never
		}
		usedDays, thisWeek := 0.0, 0
		for day := from; day < len(fit) && standing > 0; day++ {
			if day/week != thisWeek {
				usedDays, thisWeek = 0, day/week
			}
			if !fit[day] {
				continue
			}
			dayM2 := c.areaPerDayM2 * min(1, c.daysPerWeek-usedDays)
			roomM2 := dayM2
			for _, i := range order {
				if roomM2 <= 0 {
					break
				}
				l := &c.lots[i]
				if left[i] <= 0 || l.yield[course][day] < c.worthShare {
					continue
				}
				liftedM2 := min(left[i], roomM2)
				roomM2 -= liftedM2
				left[i] -= liftedM2
				w.lostM2[i] += liftedM2 * (1 - l.yield[course][day]) / courses
				if day < week {
					w.begunM2[i] += liftedM2 / courses
				}
				if left[i] <= 0 {
					w.done[i][course] = day
					standing--
				}
			}
			usedDays += (dayM2 - roomM2) / c.areaPerDayM2
		}
		for i := range left {
			w.lostM2[i] += left[i] / courses
		}
	}
}

// inTime gives the share of the past winters in which a lot is done by a day.
func (w *worked) inTime(lot, by int) float64 {
	n := 0.0
	for _, day := range w.done[lot] {
		if day <= by {
			n++
		}
	}
	return n / float64(len(w.done[lot]))
}
