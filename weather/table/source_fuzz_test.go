package table

import (
	"bytes"
	"errors"
	"io"
	"testing"
)

// Seeds: testdata/fuzz/FuzzOpen.
func FuzzOpen(f *testing.F) {
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Open(bytes.NewReader(data), "f.csv", leaves)
		if err != nil {
			var input *InputError
			if !errors.As(err, &input) || len(input.Faults) == 0 {
				t.Fatalf("%v", err)
			}
			return
		}
		for _, row := range rowsOf(t, s) {
			if len(row) != len(s.Columns()) {
				t.Fatalf("row %q under %d columns", row, len(s.Columns()))
			}
		}
		for _, finding := range s.Findings() {
			if len([]rune(finding.What)) > 5000 {
				t.Fatalf("message of %d bytes", len(finding.What))
			}
		}
	})
}

// rowsOf gives the canonical names and all rows.
func rowsOf(t *testing.T, s *Source) [][]string {
	t.Helper()
	var rows [][]string
	for {
		row, err := s.Read()
		if err == io.EOF {
			return rows
		}
		if err != nil {
			t.Fatal(err)
		}
		rows = append(rows, row)
	}
}
