package plots

import (
	"fmt"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
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

// endLabels names each line right of r, at its end, with leaders where names
// had to be moved apart; the grip mass is labelled among them.
func (f frame) endLabels(d draw.Canvas, all []series, r vg.Rectangle) {
	const step vg.Length = 14
	x := r.Max.X + 36
	wide := d.Max.X - x - margin
	type label struct {
		lines []string
		small string
		end   vg.Length
		i     int
	}
	var labels []label
	for i, l := range all {
		end := f.y(r, 0)
		for _, day := range l.days {
			if day.Date <= f.to && finite(day.LeafG) {
				end = f.y(r, day.LeafG)
			}
		}
		labels = append(labels, label{strongText.wrapName(l.name, wide), lowWords(f.season, l), end, i})
	}
	labels = append(labels, label{[]string{}, "grip mass " + number(f.season.GripG, 1) + " g", f.y(r, f.season.GripG), -1})
	centres, heights := make([]vg.Length, len(labels)), make([]vg.Length, len(labels))
	for k, l := range labels {
		centres[k], heights[k] = l.end, step*vg.Length(len(l.lines)+1)+5
	}
	for k, at := range spread(centres, heights, r.Min.Y-20, r.Max.Y+20) {
		l := labels[k]
		t := ink
		if l.i >= 0 {
			t = lines[l.i]
			glyph(d, l.i, t, x-9, at, 3.4, false)
			rule(d, t, 0.8, nil, r.Max.X+2, l.end, x-14, at)
		} else {
			rule(d, t, 0.8, nil, r.Max.X+2, l.end, x-4, at)
		}
		y := at + heights[k]/2 - step + 1
		for _, line := range l.lines {
			write(d, strongText, vg.Point{X: x, Y: y}, left, ink, line)
			y -= step
		}
		write(d, smallText, vg.Point{X: x, Y: y}, left, soft, smallText.cut(l.small, wide))
	}
}

// keys explains the signs of a leaf mass chart.
func (f frame) keys(all []series) []key {
	var out []key
	t := lines[0]
	if len(all) > 1 && len(all) <= maxTogether {
		t = soft
	}
	out = append(out, key{func(c draw.Canvas, x, y vg.Length) {
		c.FillPolygon(t.alpha(64), []vg.Point{{X: x, Y: y - 2}, {X: x + 24, Y: y - 2}, {X: x + 24, Y: y + 9}, {X: x, Y: y + 9}})
		rule(c, t, 2.4, nil, x, y+3.5, x+24, y+3.5)
	}, 24, "median and 5–95 % band"})
	if f.outlook <= f.to && len(all) > maxTogether {
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) {
			box(c, wash, x, y-3, x+24, y+10)
			rule(c, ink, 1, nil, x, y-3, x, y+10)
			rule(c, t, 1.5, nil, x, y+3.5, x+24, y+3.5)
		}, 24, fmt.Sprintf("after %s: outlook from %s", fullDate(f.season.AsOf), pastWinters(f.season.Traces))})
	}
	for _, l := range all {
		if len(l.notes) > 0 {
			out = append(out, key{func(c draw.Canvas, x, y vg.Length) { glyph(c, 0, t, x+5, y+3.5, 3.4, true) }, 10, "as weighed"})
			break
		}
	}
	out = append(out, key{func(c draw.Canvas, x, y vg.Length) {
		rule(c, ink, 1, []vg.Length{4, 3}, x, y+3.5, x+24, y+3.5)
	}, 24, "grip mass " + number(f.season.GripG, 1) + " g, which each plant needs for the belts"})
	if len(f.season.Events) > 0 {
		out = append(out, key{func(c draw.Canvas, x, y vg.Length) {
			box(c, frost, x, y+1, x+2, y+9)
			box(c, frost, x+5, y-2, x+9, y+9)
		}, 10, "freezing event, as deep as its coldest canopy in °C"})
	}
	return out
}
