package main

import (
	"encoding/csv"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wintertop/cmd/wintertop/demo"
)

// smallTrial writes the built-in example cut down to few winters and three
// lines, one of them without notes, so that a test takes little time.
func smallTrial(folder string) error {
	const since = "2022-07-01"
	example := demo.Trial()
	files := map[string][][]string{}
	for _, name := range []string{"station", "site", "lines", "plantings", "notes", "demand"} {
		f, err := example.Open(name + ".csv")
		if err != nil {
			return err
		}
		if files[name], err = withoutRemarks(f); err != nil {
			return err
		}
	}
	noted := map[string]bool{}
	for _, row := range files["notes"][1:] {
		noted[row[1]] = true
	}
	notedLine, lineOf := map[string]bool{}, map[string]string{}
	for _, row := range files["plantings"][1:] {
		lineOf[row[0]] = row[1]
		notedLine[row[1]] = notedLine[row[1]] || noted[row[0]]
	}
	var lines []string
	for _, row := range files["lines"][1:] {
		if len(lines) < 2 || !notedLine[row[0]] && len(lines) < 3 {
			lines = append(lines, row[0])
		}
	}
	keep := map[string]func(row []string) bool{
		"station":   func(row []string) bool { return row[0] >= since },
		"lines":     func(row []string) bool { return slices.Contains(lines, row[0]) },
		"plantings": func(row []string) bool { return slices.Contains(lines, row[1]) },
		"notes":     func(row []string) bool { return slices.Contains(lines, lineOf[row[1]]) },
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	for name, rows := range files {
		var b strings.Builder
		w := csv.NewWriter(&b)
		for i, row := range rows {
			if i == 0 || keep[name] == nil || keep[name](row) {
				if err := w.Write(row); err != nil {
					return err
				}
			}
		}
		w.Flush()
		if err := os.WriteFile(filepath.Join(folder, name+".csv"), []byte(b.String()), 0o666); err != nil {
			return err
		}
	}
	return nil
}

func TestExampleIsWholeTrial(t *testing.T) {
	for _, r := range append(roles[:], demandRole) {
		_, err := fs.Stat(demo.Trial(), r.fileName())
		if err != nil && r != aheadRole {
			t.Error(err)
		}
	}
}

// withoutRemarks reads a file of the example without its remarks.
func withoutRemarks(r io.Reader) ([][]string, error) {
	rows := csv.NewReader(r)
	rows.Comment = '#'
	return rows.ReadAll()
}
