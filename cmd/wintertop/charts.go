package main

import (
	"bytes"
	"strings"
	"unicode"

	"wintertop/plots"
)

// chartFile draws a chart at once, so that a fault shows before anything is
// written.
func chartFile(name string, chart plots.Chart) (file, error) {
	var b bytes.Buffer
	err := chart.SVG(&b)
	return bytesFile(name+".svg", b.Bytes()), err
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
