package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"wintertop/cmd/wintertop/demo"
)

func TestEmbeddedFilesAreWhatTheGeneratorMakes(t *testing.T) {
	made := trial()
	for _, f := range made {
		embedded, err := fs.ReadFile(demo.Trial(), f.name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(f.content, embedded) {
			t.Errorf("%s differs from what the generator makes now: run `go generate ./cmd/wintertop/demo` and read the pick again", f.name)
		}
	}
	names, err := fs.Glob(demo.Trial(), "*")
	if err != nil {
		t.Fatal(err)
	}
	if len(names) != len(made) {
		t.Errorf("embedded are %v, the generator makes %d files", names, len(made))
	}
	moves, err := movesCSV(made)
	if err != nil {
		t.Fatal(err)
	}
	written, err := os.ReadFile("../moves.csv")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(moves, written) {
		t.Error("moves.csv is not what the constants do now: run `go generate ./cmd/wintertop/demo`")
	}
}

func TestReadmeGivesTheTrueTraits(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines() {
		row := fmt.Sprintf("| %s | %.2f | %.0f | −%.1f |", l.name, l.traits.TopSize, l.topLengthCM, -l.traits.HardinessC)
		if !strings.Contains(string(readme), row) {
			t.Errorf("README.md lacks %s", row)
		}
	}
}
