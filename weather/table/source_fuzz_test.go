package table

import (
	"bytes"
	"errors"
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
		rows, err := s.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
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
