package plots

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// panelGrid lays out small panels in columns, each below its name and a few
// words.
type panelGrid struct {
	f        frame
	all      []series
	words    func(series) string
	names    [][]string
	columns  int
	cell     vg.Length // width of a panel with its axes
	data     vg.Length // height of the upright scale
	below    vg.Length // height of what stands below it
	nameRows int
}

const (
	panelLeft  vg.Length = 36 // room for the upright scale
	panelRight vg.Length = 34 // room for labels at the lines' ends
	panelName  vg.Length = 14 // height of one line of the name
)

func gridOfPanels(f frame, all []series, words func(series) string, below vg.Length) panelGrid {
	g := panelGrid{f: f, all: all, words: words, columns: 2, data: 130, below: below, nameRows: 1}
	if len(all) > 8 {
		g.columns, g.data = 3, 100
	}
	g.cell = (900 - 2*margin) / vg.Length(g.columns)
	for _, l := range all {
		g.names = append(g.names, strongText.wrapName(l.name, g.cell-panelLeft-6))
		g.nameRows = max(g.nameRows, len(g.names[len(g.names)-1]))
	}
	return g
}

func (g panelGrid) step() vg.Length {
	return g.data + g.below + panelName*vg.Length(g.nameRows) + 30
}

func (g panelGrid) height() vg.Length {
	rows := (len(g.all) + g.columns - 1) / g.columns
	return g.step()*vg.Length(rows) + margin
}

// draw writes the names and gives panel the area of each upright scale.
func (g panelGrid) draw(d draw.Canvas, top vg.Length, panel func(i int, r vg.Rectangle)) {
	for i, l := range g.all {
		x := margin + g.cell*vg.Length(i%g.columns) + panelLeft
		y := top - g.step()*vg.Length(i/g.columns)
		for j, line := range g.names[i] {
			write(d, strongText, vg.Point{X: x, Y: y - panelName*vg.Length(g.nameRows-len(g.names[i])+j+1)}, left, ink, line)
		}
		y -= panelName * vg.Length(g.nameRows)
		write(d, tinyText, vg.Point{X: x, Y: y - 11}, left, soft, tinyText.cut(g.words(l), g.cell-panelLeft-4))
		y -= 18
		panel(i, vg.Rectangle{
			Min: vg.Point{X: x, Y: y - g.data},
			Max: vg.Point{X: x - panelLeft + g.cell - panelRight, Y: y},
		})
	}
}
