package table

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func rendered(t *testing.T, write func(*strings.Builder) error) string {
	t.Helper()
	var b strings.Builder
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func example() *Table {
	x := New("pick", "line", "tmin_c", "rank", "holds")
	x.Add(Text("=1+1"), Num(-2.25, 1), Int(1), YesNo(true))
	x.Add(Text("A \"b\", c"), Num(math.NaN(), 1), Int(12), YesNo(false))
	x.Add(Text("大根"), Num(-0.04, 1), Blank(), Text("<b>"))
	x.Add(Blank(), Num(10, 0), Int(-3), Text("a\tb"))
	return x
}

func TestRenderings(t *testing.T) {
	x := example()
	wantCSV := "line,tmin_c,rank,holds\r\n'=1+1,-2.2,1,yes\r\n\"A \"\"b\"\", c\",,12,no\r\n大根,0.0,,<b>\r\n,10,-3,a\tb\r\n"
	if diff := cmp.Diff(wantCSV, rendered(t, func(b *strings.Builder) error { return x.CSV(b) })); diff != "" {
		t.Error(diff)
	}
	wantJSON := `[
{"line":"=1+1","tmin_c":-2.2,"rank":1,"holds":"yes"},
{"line":"A \"b\", c","tmin_c":null,"rank":12,"holds":"no"},
{"line":"大根","tmin_c":0.0,"rank":null,"holds":"<b>"},
{"line":null,"tmin_c":10,"rank":-3,"holds":"a\tb"}
]
`
	if diff := cmp.Diff(wantJSON, rendered(t, func(b *strings.Builder) error { return x.JSON(b) })); diff != "" {
		t.Error(diff)
	}
	wantText := "line      tmin_c  rank  holds\n" +
		"=1+1        -2.2     1  yes\n" +
		"A \"b\", c            12  no\n" +
		"大根         0.0        <b>\n" +
		"              10    -3  a·b\n"
	if diff := cmp.Diff(wantText, rendered(t, func(b *strings.Builder) error { return x.Text(b) })); diff != "" {
		t.Error(diff)
	}
	if got := rendered(t, func(b *strings.Builder) error { return New("none", "a").JSON(b) }); got != "[\n]\n" {
		t.Errorf("no rows: %q", got)
	}
}

func TestFormulasAreDisarmedInTextOnly(t *testing.T) {
	for _, s := range []string{"=x", "+1", "-1", "@x", "\tx", "\rx"} {
		x := New("t", "a", "b")
		x.Add(Text(s), Num(-1, 0))
		rows, err := csv.NewReader(strings.NewReader(rendered(t, func(b *strings.Builder) error { return x.CSV(b) }))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		want := "'" + strings.TrimPrefix(s, "\r") // with CRLF line ends encoding/csv leaves out a CR inside a cell
		if rows[1][0] != want || rows[1][1] != "-1" {
			t.Errorf("%q became %q", s, rows[1])
		}
	}
}

func TestAnyTextComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cells := rapid.SliceOfN(rapid.StringMatching(`[a-z",;\n é大<&'=-]{0,8}`), 2, 2).Draw(t, "cells")
		x := New("t", "a", "b")
		x.Add(Text(cells[0]), Text(cells[1]))
		var c, j strings.Builder
		if x.CSV(&c) != nil || x.JSON(&j) != nil || x.Text(&strings.Builder{}) != nil {
			t.Fatal("not written")
		}
		rows, err := csv.NewReader(strings.NewReader(c.String())).ReadAll()
		if err != nil || len(rows) != 2 {
			t.Fatalf("%v: %q", err, c.String())
		}
		var objects []map[string]*string
		if err := json.Unmarshal([]byte(j.String()), &objects); err != nil {
			t.Fatal(err)
		}
		for i, name := range x.Columns {
			if got := strings.TrimPrefix(rows[1][i], "'"); got != strings.TrimPrefix(cells[i], "'") {
				t.Errorf("CSV: %q became %q", cells[i], got)
			}
			if got := objects[0][name]; cells[i] == "" && got != nil || cells[i] != "" && *got != cells[i] {
				t.Errorf("JSON: %q became %v", cells[i], got)
			}
		}
	})
}

func TestProgrammersMistakesPanic(t *testing.T) {
	for name, mistake := range map[string]func(){
		"narrow row":      func() { New("t", "a", "b").Add(Int(1)) },
		"infinite number": func() { Num(math.Inf(1), 1) },
		"one word, two fields": func() {
			Open(strings.NewReader("a"), "f", Layout{Fields: []Field{{Name: "a"}, {Name: "b", Aliases: []string{"A"}}}})
		},
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			mistake()
		})
	}
}
