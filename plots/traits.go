package plots

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"wintertop/forecast"
)

// Traits draws what is known of each line: top size, top length and hardiness
// with intervals of one and two standard deviations, hardier to the right,
// checks marked, what is assumed told apart from what notes taught. Lines with
// notes come first, hardest first.
func Traits(all []forecast.Learned) Chart {
	return traitLayoutOf(all, false).chart()
}

// phoneTraits is the same chart for a narrow screen, without a heading: the
// names stand above their values.
func phoneTraits(all []forecast.Learned) Chart {
	g := traitLayoutOf(all, true)
	g.bare = true
	return g.chart()
}

// traitLayout lays out a row per line and a column per trait.
type traitLayout struct {
	rows    []traitRow
	columns [3]traitColumn
	narrow  bool
	bare    bool
	width   vg.Length
	step    vg.Length // height of a row
}

type traitRow struct {
	name           string
	check, assumed bool
	notes, winters int
	learned        forecast.Learned
}

// traitColumn is one trait: its scale runs from the value at the left to that
// at the right.
type traitColumn struct {
	head, unit  string
	of          func(forecast.Learned) (value, sd float64)
	at          func(value, sd, k float64) float64 // the value k standard deviations off
	least       float64                            // that the scale spans
	left, right float64
	ticks       []float64
	decimals    int
	x, lane     vg.Length
}

// ratioOff is for traits whose spread was taken on the logarithm.
func ratioOff(value, sd, k float64) float64 { return value * math.Exp(k*sd/value) }

func plainOff(value, sd, k float64) float64 { return value + k*sd }

func traitLayoutOf(all []forecast.Learned, narrow bool) traitLayout {
	g := traitLayout{narrow: narrow, width: 900}
	for _, l := range all {
		name := isolated(plain(l.Line))
		if name == "" {
			name = "(no name)"
		}
		g.rows = append(g.rows, traitRow{name, l.Kind == "check", l.Basis == forecast.Assumed, l.Notes, l.Winters, l})
	}
	slices.SortStableFunc(g.rows, func(a, b traitRow) int {
		hundredths := func(r traitRow) float64 { return math.Round(100 * r.learned.HardinessC) } // as the table has it
		switch {
		case a.assumed && !b.assumed:
			return 1
		case b.assumed && !a.assumed:
			return -1
		}
		return cmp.Compare(hundredths(a), hundredths(b))
	})
	g.columns = [3]traitColumn{
		{head: "Top size", unit: "1 is the standard", of: func(l forecast.Learned) (float64, float64) { return l.TopSize, l.TopSizeSD }, at: ratioOff, least: 0.4, decimals: 2},
		{head: "Top length", unit: "cm", of: func(l forecast.Learned) (float64, float64) { return l.TopLengthCM, l.TopLengthSDCM }, at: ratioOff, least: 8, decimals: 1},
		{head: "Hardiness", unit: "°C, hardier to the right", of: func(l forecast.Learned) (float64, float64) { return l.HardinessC, l.HardinessSDC }, at: plainOff, least: 2, decimals: 1},
	}
	for i := range g.columns {
		g.columns[i].scale(g.rows)
	}
	c := &g.columns[2]
	c.left, c.right = c.right, c.left
	switch n := len(g.rows); {
	case n <= 12:
		g.step = 32
	case n <= 24:
		g.step = 24
	default:
		g.step = 17
	}
	if narrow {
		g.width, g.step = 360, 52
	}
	g.place()
	if !narrow && g.step >= 30 {
		for _, r := range g.rows {
			if len(r.wrapped(g)) > 1 {
				g.step = 42
			}
		}
	}
	return g
}

// wrapped gives a row's name in the lines that fit beside the lanes.
func (r traitRow) wrapped(g traitLayout) []string {
	return strongText.wrapName(r.name, g.columns[0].x-margin-12)
}

// place sets where the columns stand.
func (g *traitLayout) place() {
	const gap vg.Length = 82 // room for the value right of a lane
	names := vg.Length(168)
	for _, r := range g.rows {
		need := margin + strongText.room(r.name) + 14
		if g.step < 24 {
			need = margin + smallText.room(r.name) + tinyText.room(r.word()) + 24
		}
		names = min(258, max(names, need))
	}
	lane, step := (g.width-6-names)/3-gap, (g.width-6-names)/3
	if g.narrow {
		names, lane, step = 14, 96, 116
	}
	for i := range g.columns {
		g.columns[i].x = names + step*vg.Length(i)
		g.columns[i].lane = lane
	}
}

// scale makes the column hold every line within two standard deviations.
func (c *traitColumn) scale(rows []traitRow) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rows {
		v, sd := c.of(r.learned)
		for _, x := range []float64{c.at(v, sd, -2), c.at(v, sd, 2)} {
			if finite(x) {
				low, high = math.Min(low, x), math.Max(high, x)
			}
		}
	}
	if !(low <= high) {
		low, high = 0, 0
	}
	if wider := (c.least - (high - low)) / 2; wider > 0 {
		low, high = low-wider, high+wider
	}
	c.left, c.right, c.ticks = around(low, high)
}

// around gives a scale of few round steps that holds low and high, low < high.
func around(low, high float64) (from, to float64, at []float64) {
	steps, _ := ticks(high-low, 4)
	step := steps[1]
	from, to = step*math.Floor(low/step+1e-9), step*math.Ceil(high/step-1e-9)
	for i := 0; from+float64(i)*step <= to+step/2; i++ {
		at = append(at, from+float64(i)*step)
	}
	return from, to, at
}

func (c traitColumn) at0(value float64) vg.Length {
	t := (value - c.left) / (c.right - c.left)
	return c.x + vg.Length(math.Min(1, math.Max(0, t)))*c.lane
}
