package forecast

import (
	"bytes"
	"errors"
	"io"
	"math"
	"testing"

	"wintertop/weather/table"
)

// fuzzReader checks what every reader of a trial file owes: no panic, an error
// of the input kind only, and nothing kept where the file is refused whole.
// Seeds: testdata/fuzz.
func fuzzReader[T any](f *testing.F, read func(io.Reader, string) ([]T, table.Findings, error), sound func(T) bool) {
	f.Fuzz(func(t *testing.T, data []byte) {
		kept, findings, err := read(bytes.NewReader(data), "f.csv")
		var input *table.InputError
		if err != nil && !errors.As(err, &input) {
			t.Fatalf("an error that is not about the input: %v", err)
		}
		for _, finding := range findings {
			if finding.File != "f.csv" || finding.What == "" {
				t.Fatalf("finding %+v", finding)
			}
		}
		if err != nil || findings.Err() != nil {
			return
		}
		for _, one := range kept {
			if !sound(one) {
				t.Fatalf("kept %+v", one)
			}
		}
	})
}

func FuzzSite(f *testing.F) {
	fuzzReader(f, readSite, func(r siteRow) bool { return r.line > 0 })
}

func FuzzLines(f *testing.F) {
	fuzzReader(f, readLines, func(l Line) bool {
		return l.Name != "" && !(l.Prior.TopSize <= 0) && !(l.Prior.TopSizeSD <= 0) && !math.IsInf(l.Prior.HardinessC, 0)
	})
}

func FuzzPlantings(f *testing.F) {
	fuzzReader(f, readPlantings, func(p Planting) bool {
		return p.Name != "" && p.PlantsPerM2 > 0 && p.LastCultivated >= p.Sown && !(p.AreaM2 < 0)
	})
}

func FuzzNotes(f *testing.F) {
	fuzzReader(f, readNotes, func(n Note) bool {
		q := traitQuantity[n.Trait]
		return n.Plants >= 1 && n.Value >= q.low && n.Value <= q.top && n.FileLine > 1
	})
}
