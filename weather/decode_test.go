package weather

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"wintertop/weather/table"
)

// plot is an invented row with a field that refuses text.
type plot struct {
	Name  string       `csv:"name"`
	Count int          `csv:"count"`
	Area  table.Number `csv:"area"`
}

func plots(t *testing.T, text string) *table.Source {
	t.Helper()
	s, err := table.Open(strings.NewReader(text), "plots.csv", table.Layout{What: "plot list",
		Fields: []table.Field{{Name: "name", Required: true}, {Name: "count", Aliases: []string{"Number of plants"}}, {Name: "area", Number: true}}})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestDecodeKeepsLinesAndStops(t *testing.T) {
	var got []string
	err := Decode(plots(t, "name,other,count\n\nA,x,1\n,,\n\"B\nb\",y,2\nC,z,3\n"), func(line int, p plot) error {
		got = append(got, fmt.Sprintf("%d %s %d %v", line, p.Name, p.Count, p.Area.Missing()))
		return nil
	})
	if want := `["3 A 1 true" "5 B\nb 2 true" "7 C 3 true"]`; err != nil || fmt.Sprintf("%q", got) != want {
		t.Errorf("got %q, %v", got, err)
	}
	enough, n := errors.New("enough"), 0
	err = Decode(plots(t, "name\nA\nB\nC\n"), func(int, plot) error {
		n++
		return enough
	})
	if err != enough || n != 1 {
		t.Errorf("%v after %d rows", err, n)
	}
	if err := Decode(plots(t, "name\n"), func(int, plot) error { return enough }); err != nil {
		t.Errorf("no rows: %v", err)
	}
}

// A long file comes in stretches; the seam shows in no line and no name.
func TestDecodeLongFile(t *testing.T) {
	const rows = 10_000
	var b strings.Builder
	b.WriteString("name,count\n")
	for i := range rows {
		fmt.Fprintf(&b, "\np%d,%d\n", i, i)
	}
	n := 0
	err := Decode(plots(t, b.String()), func(line int, p plot) error {
		if line != 3+2*n || p.Count != n || p.Name != fmt.Sprintf("p%d", n) {
			return fmt.Errorf("row %d is %+v on line %d", n, p, line)
		}
		n++
		return nil
	})
	if err != nil || n != rows {
		t.Errorf("%d rows, %v", n, err)
	}
	b.WriteString("last,many\n")
	var input *table.InputError
	if err := Decode(plots(t, b.String()), func(int, plot) error { return nil }); !errors.As(err, &input) || input.Faults[0].Line != 2*rows+2 {
		t.Errorf("got %v", err)
	}
}

func TestDecodeNamesTheCell(t *testing.T) {
	err := Decode(plots(t, "name,Number of plants\n\nA,1\n\n\nB,many\n"), func(int, plot) error { return nil })
	var input *table.InputError
	if !errors.As(err, &input) || !strings.HasPrefix(err.Error(), `plots.csv:6: Number of plants: `) || input.Faults[0].Column != "Number of plants" {
		t.Errorf("got %v", err)
	}
}
