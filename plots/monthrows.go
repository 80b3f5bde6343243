package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
	"wintertop/weather"
)

// monthRows is the compact form of a season for plantings without a panel of
// their own: a row each, with a median printed for the middle of each month.
type monthRows struct {
	f      frame
	all    []series
	what   string // what the numbers are, with their unit
	of     reading
	print  func(float64) string
	class  func(float64) int
	bounds [len(classes)]string // what each class holds; "" for one that is not used
}

// leafRows gives leaf mass in classes of the grip mass.
func leafRows(f leafFrame, all []series) monthRows {
	grip := f.limit
	t := monthRows{f: f.frame, all: all, what: "median leaf mass, g fresh per plant, rounded down,", of: leafG}
	t.print = func(g float64) string {
		if g < 10 {
			return number(math.Floor(10*g)/10, 1)
		}
		return number(math.Floor(g), 0)
	}
	t.class = func(g float64) int {
		class := 0
		for _, least := range []float64{grip, 2 * grip, 4 * grip} {
			if g >= least {
				class++
			}
		}
		return class
	}
	t.bounds = [len(classes)]string{
		"under " + number(grip, 1) + " g (grip mass)", number(grip, 1) + " to " + number(2*grip, 1) + " g",
		number(2*grip, 1) + " to " + number(4*grip, 1) + " g", number(4*grip, 1) + " g and more",
	}
	return t
}

// dates gives the 15th of each month that the frame shows.
func (t monthRows) dates() []weather.Date {
	var out []weather.Date
	for _, m := range months(t.f.from, t.f.to) {
		y, name, _ := m.from.YMD()
		if d := weather.NewDate(y, name, 15); t.f.shows(d) {
			out = append(out, d)
		}
	}
	return out
}

const (
	monthRowStep vg.Length = 17
	monthRowHead vg.Length = 46
	monthCell    vg.Length = 26
)

// half gives the rows of the left column.
func (t monthRows) half() int { return (len(t.all) + 1) / 2 }

func (t monthRows) height() vg.Length {
	if len(t.all) == 0 {
		return 0
	}
	return monthRowHead + monthRowStep*vg.Length(t.half()) + margin
}

func (t monthRows) draw(d draw.Canvas, top vg.Length) {
	if len(t.all) == 0 {
		return
	}
	words := "The other plantings"
	if len(t.all) == 1 {
		words = "The other planting"
	}
	write(d, strongText, vg.Point{X: margin, Y: top - 16}, left, ink, words)
	room := strongText.room(words)
	write(d, smallText, vg.Point{X: margin + room + 8, Y: top - 16}, left, soft, t.caption())
	dates := t.dates()
	wide := (d.Max.X - 2*margin - 20) / 2
	for column := range 2 {
		rows := t.all[:t.half()]
		if column == 1 {
			rows = t.all[t.half():]
		}
		if len(rows) == 0 {
			continue
		}
		x := margin + (wide+20)*vg.Length(column)
		first := x + wide - monthCell*vg.Length(len(dates))
		y := top - monthRowHead
		for i, day := range dates {
			_, m, _ := day.YMD()
			write(d, tinyText, vg.Point{X: first + monthCell*(vg.Length(i)+0.5), Y: y + 6}, middle, soft, m.String()[:3])
		}
		for i, l := range rows {
			t.row(d, l, dates, x, first, y-monthRowStep*vg.Length(i))
		}
		for i := range dates {
			if t.startsOutlook(dates, i) {
				at := first + monthCell*vg.Length(i)
				rule(d, ink, 1, nil, at, y+14, at, y-monthRowStep*vg.Length(len(rows)))
			}
		}
	}
}

// caption says what the numbers are.
func (t monthRows) caption() string {
	words := t.what + " on the 15th of each month"
	if t.f.outlook <= t.f.to {
		words += "; right of the line outlook, after " + fullDate(t.f.season.AsOf)
	}
	return words
}

// startsOutlook says whether the date at i is the first that was not observed.
func (t monthRows) startsOutlook(dates []weather.Date, i int) bool {
	return dates[i] >= t.f.outlook && (i == 0 || dates[i-1] < t.f.outlook)
}

// row prints one planting below y, its name at x and its numbers from first on.
func (t monthRows) row(d draw.Canvas, l series, dates []weather.Date, x, first, y vg.Length) {
	base := y - monthRowStep + 5
	end := first - 6
	if l.check {
		write(d, tinyText, vg.Point{X: end, Y: base}, right, soft, "check")
		end -= tinyText.room("check") + 6
	}
	write(d, bodyText, vg.Point{X: x, Y: base}, left, ink, bodyText.cutName(l.name, end-x))
	for i, day := range dates {
		x0 := first + monthCell*vg.Length(i)
		value, known := onDay(l.days, day, t.of)
		if !known {
			write(d, tinyText, vg.Point{X: x0 + monthCell/2, Y: base}, middle, soft, "–")
			continue
		}
		class := t.class(value)
		box(d, classes[class], x0+0.5, y-monthRowStep+1.5, x0+monthCell-0.5, y)
		write(d, tinyText, vg.Point{X: x0 + monthCell/2, Y: base}, middle, onClass[class], t.print(value))
	}
}

// onDay gives a reading of one day; not known where the day is not covered.
func onDay(days []forecast.SeasonDay, day weather.Date, of reading) (value float64, known bool) {
	for _, d := range days {
		if d.Date == day && finite(of(d)) {
			return of(d), true
		}
	}
	return 0, false
}

// keys explains the classes.
func (t monthRows) keys() []key {
	if len(t.all) == 0 {
		return nil
	}
	var out []key
	for i, words := range t.bounds {
		if words != "" {
			out = append(out, key{func(c draw.Canvas, x, y vg.Length) { box(c, classes[i], x, y-3, x+18, y+10) }, 18, words})
		}
	}
	return out
}
