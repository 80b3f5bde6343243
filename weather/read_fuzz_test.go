package weather

import (
	"bytes"
	"strings"
	"testing"
)

// Seeds: testdata/fuzz/FuzzRead.
func FuzzRead(f *testing.F) {
	f.Fuzz(func(t *testing.T, data []byte, units, order string) {
		r, seen, err := Read(bytes.NewReader(data), "f.csv", Reading{units, order})
		if (err == nil) != (len(r.Days) > 0) {
			t.Fatalf("%d days and %v", len(r.Days), err)
		}
		for i, day := range r.Days {
			if day.Date != r.First()+Date(i) || (day.State == Observed) != (day.MinC <= day.MaxC) || day.State == Filled {
				t.Fatalf("day %d of the record is %+v", i, day)
			}
		}
		if err != nil {
			return
		}
		if seen.Err() != nil {
			t.Fatal("a fault and no error")
		}
		filled, _ := r.Filled()
		back, _, err := Read(strings.NewReader(rendering(t, CleanTable(filled))), "clean.csv", Reading{})
		if err != nil && !strings.Contains(err.Error(), "no day has") {
			t.Fatal(err)
		}
		if err == nil && back.First() != r.First() {
			t.Fatalf("starts on %s, read back on %s", r.First(), back.First())
		}
		FindingsTable(seen)
		r.CountWinters(false)
	})
}
