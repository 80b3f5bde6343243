package main

import (
	"bytes"
	"cmp"
	"context"
	"io"
	"io/fs"
	"math"
	"slices"
	"strconv"

	"wintertop/forecast"
	"wintertop/weather"
)

// movesCSV tries every constant on a trial folder, sown like the newest of its
// plantings: what each does to the lift share, blank where it does nothing.
func movesCSV(files []file) ([]byte, error) {
	open := func(name string) (io.ReadCloser, error) {
		at := slices.IndexFunc(files, func(f file) bool { return f.name == name })
		if at < 0 {
			return nil, fs.ErrNotExist
		}
		return io.NopCloser(bytes.NewReader(files[at].content)), nil
	}
	trial, _, err := forecast.Load(open, forecast.Files{}, weather.Reading{})
	if err != nil {
		return nil, err
	}
	if trial, _, err = trial.AsOf(trial.LastDay()); err != nil {
		return nil, err
	}
	newest := slices.MaxFunc(trial.Plantings, func(a, b forecast.Planting) int { return cmp.Compare(a.Sown, b.Sown) })
	place := trial.Places[0]
	moves, err := forecast.Sensitivity(context.Background(), place, newest)
	if err != nil {
		return nil, err
	}
	rows := [][]string{{"name", "lift_share_moves"}}
	for i, k := range place.Site.Constants() {
		move := ""
		if !math.IsNaN(moves[i]) {
			move = strconv.FormatFloat(moves[i], 'f', 3, 64)
		}
		rows = append(rows, []string{k.Name, move})
	}
	return csvBytes(rows), nil
}
