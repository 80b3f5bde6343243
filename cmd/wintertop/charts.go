package main

import (
	"bytes"
	"strings"
	"unicode"

	"wintertop/plots"
)

// chartFiles draws a chart at once, so that a fault shows before anything is
// written: as SVG, and as PNG too where that is asked for. Where nothing will be
// written it draws none.
func chartFiles(a *asked, name string, chart plots.Chart) ([]file, error) {
	if !a.writes() {
		return nil, nil
	}
	var svg, png bytes.Buffer
	if err := chart.SVG(&svg); err != nil {
		return nil, err
	}
	files := []file{bytesFile(name+".svg", svg.Bytes())}
	if !a.png {
		return files, nil
	}
	err := chart.PNG(&png)
	return append(files, bytesFile(name+".png", png.Bytes())), err
}

// placeName adds a place to a file's name, where the trial has several; what
// is neither letter nor digit becomes a hyphen.
func placeName(name, place string) string {
	if place == "" {
		return name
	}
	return name + "-" + strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return '-'
	}, place)
}
