package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// More findings than are printed lie in a file of their own under --out.
func TestAllFindingsAreInAFile(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	trial := filepath.Join(folder, "trial")
	if err := smallTrial(trial); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(trial, "notes.csv")
	notes, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.SplitAfter(string(notes), "\n")
	put(t, path, string(notes)+strings.Repeat(rows[1], 30))
	learn := func(args ...string) string {
		var out, said bytes.Buffer
		if err := run(context.Background(), append([]string{"learn", "--in", trial}, args...), streams{nil, &out, &said}); err != nil {
			t.Fatal(err)
		}
		return said.String()
	}
	if said := learn(); !strings.Contains(said, " more (--out DIR writes all of them, to DIR/findings.csv)") {
		t.Errorf("said\n%s", said)
	}
	out := filepath.Join(folder, "out")
	if said := learn("--out", out); !strings.Contains(said, " more (all are in "+out+"/findings.csv)") {
		t.Errorf("said\n%s", said)
	}
	findings := readCSV(t, filepath.Join(out, "findings.csv"))
	if n := strings.Count(strings.Join(findings["finding"], "\n"), "stands on line 2 already"); n != 30 {
		t.Errorf("%d of 30 repeated notes are in the file", n)
	}
	put(t, path, string(notes))
	learn("--out", filepath.Join(folder, "few"))
	if exists(filepath.Join(folder, "few", "findings.csv")) {
		t.Error("few findings have a file too")
	}
}
