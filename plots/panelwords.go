package plots

import (
	"fmt"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"wintertop/forecast"
)

// asOfWords names the two sides of the as-of day above r.
func (f frame) asOfWords(d draw.Canvas, r vg.Rectangle) {
	y := r.Max.Y + 6
	at := f.x(r, float64(f.season.AsOf))
	observed := "observed to " + fullDate(f.season.AsOf)
	outlook := "outlook: " + pastWinters(f.season.Traces) + " played forward"
	switch {
	case f.outlook > f.to:
		write(d, smallText, vg.Point{X: r.Max.X, Y: y}, right, soft, "all days observed")
	case at-r.Min.X >= smallText.room(observed)+6:
		write(d, smallText, vg.Point{X: at - 6, Y: y}, right, soft, observed)
		write(d, smallText, vg.Point{X: at + 6, Y: y}, left, soft, smallText.cut(outlook, d.Max.X-at-16))
	default:
		words := fmt.Sprintf("as of %s; after it %s", fullDate(f.season.AsOf), outlook)
		write(d, smallText, vg.Point{X: max(at, r.Min.X) + 6, Y: y}, left, soft, words)
	}
}

// endLabel names one line of a panel at its end; i is its sign, −1 for a
// limit.
type endLabel struct {
	name, small string
	value       float64
	i           int
}

// last gives the last reading that a panel shows, 0 without any.
func (f frame) last(days []forecast.SeasonDay, of reading) float64 {
	value := 0.0
	for _, day := range days {
		if day.Date <= f.to && finite(of(day)) {
			value = of(day)
		}
	}
	return value
}

// endLabels names lines and limits right of r, at their ends, with leaders
// where names had to be moved apart.
func (f frame) endLabels(d draw.Canvas, labels []endLabel, r vg.Rectangle) {
	const step vg.Length = 14
	x := r.Max.X + 36
	wide := d.Max.X - x - margin
	centres, heights, names := make([]vg.Length, len(labels)), make([]vg.Length, len(labels)), make([][]string, len(labels))
	for k, l := range labels {
		if l.name != "" {
			names[k] = strongText.wrapName(l.name, wide)
		}
		rows := len(names[k])
		if l.small != "" {
			rows++
		}
		centres[k], heights[k] = f.y(r, l.value), step*vg.Length(rows)+5
	}
	for k, at := range spread(centres, heights, r.Min.Y-20, r.Max.Y+20) {
		l := labels[k]
		if l.i >= 0 {
			glyph(d, l.i, lines[l.i], x-9, at, 3.4, false)
			rule(d, lines[l.i], 0.8, nil, r.Max.X+2, centres[k], x-14, at)
		} else {
			rule(d, ink, 0.8, nil, r.Max.X+2, centres[k], x-4, at)
		}
		y := at + heights[k]/2 - step + 1
		for _, line := range names[k] {
			write(d, strongText, vg.Point{X: x, Y: y}, left, ink, line)
			y -= step
		}
		if l.small != "" {
			write(d, smallText, vg.Point{X: x, Y: y}, left, soft, smallText.cut(l.small, wide))
		}
	}
}

// outlookKey explains the two sides of the as-of day; nothing where all days
// were observed.
func (f frame) outlookKey() []key {
	if f.outlook > f.to {
		return nil
	}
	return []key{{func(c draw.Canvas, x, y vg.Length) {
		box(c, wash, x, y-3, x+24, y+10)
		rule(c, ink, 1, nil, x, y-3, x, y+10)
		rule(c, soft, 1.5, nil, x, y+3.5, x+24, y+3.5)
	}, 24, fmt.Sprintf("after %s: outlook from %s", fullDate(f.season.AsOf), pastWinters(f.season.Traces))}}
}

// keys explains the signs of a leaf mass chart; each says that every planting
// has a panel of its own.
func (f leafFrame) keys(all []series, each bool) []key {
	t := lines[0]
	if !each && len(all) > 1 {
		t = soft
	}
	words := "median and 5–95 % band"
	bars := !each && len(all) > mostBands
	if bars {
		words = "median; pale bars: 5–95 % in mid-month"
	}
	out := []key{{func(c draw.Canvas, x, y vg.Length) {
		if bars {
			bar(c, t, x+12, y-3, y+11)
			rule(c, t, 2.4, nil, x, y+3.5, x+24, y+3.5)
			return
		}
		c.FillPolygon(t.alpha(64), []vg.Point{{X: x, Y: y - 2}, {X: x + 24, Y: y - 2}, {X: x + 24, Y: y + 9}, {X: x, Y: y + 9}})
		rule(c, t, 2.4, nil, x, y+3.5, x+24, y+3.5)
	}, 24, words}}
	if each {
		out = append(out, f.outlookKey()...)
	}
	if anyNotes(all, forecast.LeafMass) {
		out = append(out, key{notedSign(0, t), 10, "as weighed; bar: 5–95 % for the plants weighed"})
	}
	out = append(out, limitKey("grip mass "+number(f.limit, 1)+" g, which each plant needs for the belts"))
	out = append(out, f.aheadKey()...)
	if len(f.season.Events) > 0 {
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) {
			box(c, frost, x, y+1, x+2, y+9)
			box(c, frost, x+5, y-2, x+9, y+9)
		}, 10, "freezing event, as deep as its coldest canopy in °C"})
	}
	return out
}

// limitKey explains the line of a limit.
func limitKey(words string) key {
	return key{func(c draw.Canvas, x, y vg.Length) {
		rule(c, ink, 1, []vg.Length{4, 3}, x, y+3.5, x+24, y+3.5)
	}, 24, words}
}
