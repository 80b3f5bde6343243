package weather

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
)

// openFile opens a file of the folder of open records that OPEN_DATA names.
func openFile(t testing.TB, name string) *os.File {
	t.Helper()
	folder := os.Getenv("OPEN_DATA")
	if folder == "" {
		t.Skipf("OPEN_DATA is not set: %s is not there to test against", name)
	}
	return open(t, filepath.Join(folder, name))
}

// open opens a file for the length of the test.
func open(t testing.TB, path string) *os.File {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// rows reads a plain CSV file; lines that begin with # are comments.
func rows(t testing.TB, f *os.File) (header []string, rows [][]string) {
	t.Helper()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all[0], all[1:]
}

// record reads the daily extremes of a plain CSV file without the reader
// under test; where is a column and the value its rows must have, or empty.
func record(t testing.TB, f *os.File, minColumn, maxColumn string, where ...string) Record {
	t.Helper()
	header, all := rows(t, f)
	at := func(name string) int {
		i := slices.Index(header, name)
		if i < 0 {
			t.Fatalf("%s has no column %s", f.Name(), name)
		}
		return i
	}
	var r Record
	for _, row := range all {
		if len(where) == 2 && row[at(where[0])] != where[1] {
			continue
		}
		date, err := ParseDate(row[at("date")])
		if err != nil {
			t.Fatal(err)
		}
		for len(r.Days) > 0 && r.Last()+1 < date {
			r.Days = append(r.Days, Day{Date: r.Last() + 1, MinC: math.NaN(), MaxC: math.NaN(), State: Missing})
		}
		number := func(name string) float64 {
			x, err := strconv.ParseFloat(row[at(name)], 64)
			if err != nil {
				return math.NaN()
			}
			return x
		}
		day := Day{Date: date, MinC: number(minColumn), MaxC: number(maxColumn), RainMM: math.NaN(), SnowCM: math.NaN()}
		if !(day.MinC <= day.MaxC) {
			day.MinC, day.MaxC, day.State = math.NaN(), math.NaN(), Missing
		}
		r.Days = append(r.Days, day)
	}
	return r
}
