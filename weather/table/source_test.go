package table

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// leaves is an invented layout with each kind of field.
var leaves = Layout{What: "leaf list", Fields: []Field{
	{Name: "date", Aliases: []string{"day"}, Required: true},
	{Name: "tmax", Aliases: []string{"max temp", "maximum temperature"}, Required: true, Number: true},
	{Name: "rain", Aliases: []string{"precip"}, Number: true},
	{Name: "note"},
}}

func open(t *testing.T, text string) *Source {
	t.Helper()
	s, err := Open(strings.NewReader(text), "leaf.csv", leaves)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSameTableInAnyWriting(t *testing.T) {
	want := [][]string{{"date", "tmax", "rain", "note"}, {"2012-01-01", "-1.5", "3.2", "wet, cold"}, {"2012-01-02", "", "0", "ü"}}
	plain := "date,tmax,rain,note\n2012-01-01,-1.5,3.2,\"wet, cold\"\n2012-01-02,,0,ü\n"
	utf16 := func(order unicode.Endianness, mark unicode.BOMPolicy) string {
		s, err := unicode.UTF16(order, mark).NewEncoder().String(plain)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	latin, err := charmap.Windows1252.NewEncoder().String(plain)
	if err != nil {
		t.Fatal(err)
	}
	var packed bytes.Buffer
	zip := gzip.NewWriter(&packed)
	io.WriteString(zip, plain)
	zip.Close()
	for name, text := range map[string]string{
		"plain":                     plain,
		"byte order mark":           "\ufeff" + plain,
		"UTF-16 little-endian":      utf16(unicode.LittleEndian, unicode.UseBOM),
		"UTF-16 big-endian":         utf16(unicode.BigEndian, unicode.UseBOM),
		"UTF-16 without mark":       utf16(unicode.LittleEndian, unicode.IgnoreBOM),
		"UTF-16 big without mark":   utf16(unicode.BigEndian, unicode.IgnoreBOM),
		"Windows-1252":              latin,
		"gzip":                      packed.String(),
		"CRLF":                      strings.ReplaceAll(plain, "\n", "\r\n"),
		"CR":                        strings.ReplaceAll(plain, "\n", "\r"),
		"no line end":               strings.TrimSuffix(plain, "\n"),
		"semicolon, decimal comma":  "date;tmax;rain;note\n2012-01-01;-1,5;3,2;wet, cold\n2012-01-02;;0;ü\n",
		"semicolon, decimal point":  "date;tmax;rain;note\n2012-01-01;-1.5;3.2;wet, cold\n2012-01-02;;0;ü\n",
		"tab, decimal comma":        "date\ttmax\train\tnote\n2012-01-01\t-1,5\t3,2\twet, cold\n2012-01-02\t\t0\tü\n",
		"padded":                    "date , tmax, rain ,  note\n 2012-01-01,  -1.5 ,3.2, \"wet, cold\"\n2012-01-02,   ,0 , ü \n",
		"blank rows":                "\n\ndate,tmax,rain,note\n\n2012-01-01,-1.5,3.2,\"wet, cold\"\n,,,\n2012-01-02,,0,ü\n,,,\n   \n\n",
		"cells too many, blank":     "date,tmax,rain,note\n2012-01-01,-1.5,3.2,\"wet, cold\",,\n2012-01-02,,0,ü,\n",
		"preamble":                  "Station 7, max\nsee \"notes\n\ndate,tmax,rain,note\n2012-01-01,-1.5,3.2,\"wet, cold\"\n2012-01-02,,0,ü\n",
		"comments":                  "# a \"file\n# date is a day\n# date,tmax,rain,note\n2012-01-01,-1.5,3.2,\"wet, cold\"\n# remark\n2012-01-02,,0,ü\n",
		"other words, case, units":  "Day,\"Maximum temperature (°C)\",Precip_mm,NOTE\n2012-01-01,-1.5,3.2,\"wet, cold\"\n2012-01-02,,0,ü\n",
		"header over two lines":     "date,\"Max temp\n(°C)\",rain,note\n2012-01-01,-1.5,3.2,\"wet, cold\"\n2012-01-02,,0,ü\n",
		"first name on two lines":   "\"date\n(local)\";tmax;rain;note\n2012-01-01;-1,5;3,2;wet, cold\n2012-01-02;;0;ü\n",
		"row of units":              "date,tmax,rain,note\n,°C,mm,\n2012-01-01,-1.5,3.2,\"wet, cold\"\n2012-01-02,,0,ü\n",
		"row of units, dashes kept": "date,tmax,rain,note\nISO,degC,mm,text\n2012-01-01,-1.5,3.2,\"wet, cold\"\n2012-01-02,,0,ü\n",
	} {
		t.Run(name, func(t *testing.T) {
			if diff := cmp.Diff(want, rowsOf(t, open(t, text))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestColumnNamesAndUnits(t *testing.T) {
	for header, want := range map[string]Column{
		"tmax":                                {"tmax", "tmax", ""},
		"TMAX":                                {"tmax", "TMAX", ""},
		"Max. Temp":                           {"tmax", "Max. Temp", ""},
		"max_temp_f":                          {"tmax", "max_temp_f", "f"},
		"Max Temp (°F)":                       {"tmax", "Max Temp (°F)", "°F"},
		"max temp [degC]":                     {"tmax", "max temp [degC]", "degC"},
		"tmax °C":                             {"tmax", "tmax °C", "°C"},
		"tmax°C":                              {"tmax", "tmax°C", "°C"},
		"tmax, deg F":                         {"tmax", "tmax, deg F", "deg F"},
		"Max temp in °F":                      {"tmax", "Max temp in °F", "°F"},
		"TmaxC":                               {"tmax", "TmaxC", "C"},
		"maximum temperature (0.1 degrees C)": {"tmax", "maximum temperature (0.1 degrees C)", "0.1 degrees C"},
		"precip in":                           {"rain", "precip in", "in"},
		"rain":                                {"rain", "rain", ""},
		"rain_mm_day":                         {"rain", "rain_mm_day", "mm_day"},
		"Date (dd/mm/yyyy)":                   {"date", "Date (dd/mm/yyyy)", "dd/mm/yyyy"},
		"percip":                              {"", "percip", ""},
		"tmax_attributes":                     {"", "tmax_attributes", ""},
		"tmax 10cm":                           {"", "tmax 10cm", ""},
		"note in":                             {"", "note in", ""},
		"":                                    {"", "", ""},
	} {
		if got := leaves.names().column(header); got != want {
			t.Errorf("%q: got %+v, want %+v", header, got, want)
		}
	}
}

func TestForeignColumnsMayRepeat(t *testing.T) {
	s := open(t, "date,ind,tmax,ind,\n2012-01-01,0,7,1,x\n")
	rows := rowsOf(t, s)
	seen := map[string]bool{}
	for _, name := range rows[0] {
		if seen[name] {
			t.Errorf("header %q twice in %q", name, rows[0])
		}
		seen[name] = true
	}
	want := Findings{{File: "leaf.csv", Line: 1, What: `columns not used: "ind", "ind"`, TreatedAs: "ignored"}}
	if diff := cmp.Diff(want, s.Findings()); diff != "" {
		t.Error(diff)
	}
	if c, ok := s.Column("tmax"); !ok || c.Raw != "tmax" || s.Unit("tmax") != "" {
		t.Errorf("tmax is %+v, %v", c, ok)
	}
	if _, ok := s.Column("rain"); ok {
		t.Error("a column that is not there was found")
	}
}

func TestFirstOfEqualsIsTaken(t *testing.T) {
	layout := leaves
	layout.Fields = append([]Field{{Name: "time", MayRepeat: true}}, leaves.Fields...)
	s, err := Open(strings.NewReader("time,date,tmax,time\n7,1,2,8\ntime,date,tmax,moment\n"), "leaf.csv", layout)
	if err != nil {
		t.Fatal(err)
	}
	rows := rowsOf(t, s)
	if diff := cmp.Diff([][]string{{"time", "date", "tmax", "not used 4"}, {"7", "1", "2", "8"}, {"time", "date", "tmax", "moment"}}, rows); diff != "" {
		t.Error(diff)
	}
}

func TestRepeatedHeaderIsPassedOver(t *testing.T) {
	s, err := Open(strings.NewReader("date,TMAX,mine\n1,2,a\n date, tmax ,Mine\n3,4,b\ndate,mine,tmax\n"), "leaf.csv", leaves)
	if err != nil {
		t.Fatal(err)
	}
	rows := rowsOf(t, s)
	if diff := cmp.Diff([][]string{{"date", "tmax", "not used 3"}, {"1", "2", "a"}, {"3", "4", "b"}, {"date", "mine", "tmax"}}, rows); diff != "" {
		t.Error(diff)
	}
	seen := s.Findings()
	if last := seen[len(seen)-1]; last.Line != 3 || last.TreatedAs != "ignored" {
		t.Errorf("found %+v", seen)
	}
}

func TestFilesThatCannotBeOpened(t *testing.T) {
	var bomb bytes.Buffer
	zip := gzip.NewWriter(&bomb)
	zero := bytes.Repeat([]byte("0,"), 1<<19)
	for range 65 {
		zip.Write(zero)
	}
	zip.Close()
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "leaf.csv: is empty\nhint: a leaf list needs the columns date, tmax"},
		{"blank", " \n\n", "leaf.csv: is empty"},
		{"nothing known", "# leaves\nfoo;bar,x;z\n1;2;3\n", `leaf.csv:2: no column of a leaf list; found "foo", "bar,x", "z"` + "\nhint: a leaf list has columns such as date, tmax"},
		{"required missing", "# x\ndate,rain\n", `leaf.csv:2: no column tmax; found "date", "rain"`},
		{"two for one", "date,tmax,Max Temp (F),maxtemp\n", `leaf.csv:1: two columns for tmax: "tmax" and "Max Temp (F)"` + "\n" + `leaf.csv:1: two columns for tmax: "tmax" and "maxtemp"` + "\nhint: rename"},
		{"NUL", "date,tmax\n2012-01-01,\x001\n", "leaf.csv:2: holds a NUL byte"},
		{"workbook", "PK\x03\x04rest", "leaf.csv: is a spreadsheet workbook"},
		{"damaged gzip", "\x1f\x8bdate,tmax\n", "leaf.csv: the compressed file is damaged"},
		{"cut gzip", bomb.String()[:5000], "leaf.csv: the compressed file is damaged"},
		{"gzip that grows", bomb.String(), "leaf.csv: holds more than 64 MB"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Open(strings.NewReader(c.text), "leaf.csv", leaves)
			var input *InputError
			if !errors.As(err, &input) || !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("got %v, want %s", err, c.want)
			}
		})
	}
}

func TestReaderTroubleIsItself(t *testing.T) {
	broken := errors.New("disk on fire")
	if _, err := Open(io.MultiReader(strings.NewReader("date"), errorReader{broken}), "x", leaves); err != broken {
		t.Errorf("got %v", err)
	}
}

type errorReader struct{ err error }

func (r errorReader) Read([]byte) (int, error) { return 0, r.err }

func TestBadRowsAreFaultsWithTheirLine(t *testing.T) {
	s := open(t, "# preamble\n\ndate,tmax,rain,note\n"+ // line 3
		"2012-01-01,1,2,\"two\nlines\"\n"+ // 4 and 5
		"2012-01-02,1,2\n"+ // 6 short
		"2012-01-03,1,2,3,4\n"+ // 7 long
		"EXAMPLE-1,1,2,3\n"+ // 8
		"2012-01-05,1,2,5\" of snow\n"+ // 9
		"#2012-01-06,1,2,3\n"+ // 10
		"2012-01-07,1,2,ok\n")
	rows := rowsOf(t, s)
	if len(rows) != 3 || rows[1][3] != "two\nlines" || rows[2][0] != "2012-01-07" || s.Line() != 11 {
		t.Errorf("rows %q, last line %d", rows, s.Line())
	}
	var got []string
	for _, f := range s.Findings() {
		got = append(got, fmt.Sprintf("%s [%s]", f, f.Severity))
	}
	want := []string{
		`leaf.csv:6: 3 cells where the header has 4: "2012-01-02,1,2" [fault]`,
		`leaf.csv:7: 5 cells where the header has 4: "2012-01-03,1,2,3,4" [fault]`,
		`leaf.csv:8: still the example row that start wrote: "EXAMPLE-1" [fault]`,
		`leaf.csv:9: a quotation mark stands alone in "2012-01-05,1,2,5\" of snow" [fault]`,
		`leaf.csv:10: row with a comment mark left out: "#2012-01-06,1,2,3" [warning]`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestLinesAreCountedFromTheTopOfTheFile(t *testing.T) {
	for text, want := range map[string][2]int{
		"date,tmax\n1,2\n":                       {1, 2},
		"\n\n#\ndate,tmax\n\n1,2\n":              {4, 6},
		"a\n#\n# date,tmax\n#\n1,2":              {3, 5},
		"date,\"max\ntemp\"\n°C,°C\n,\n\n1,2\n":  {1, 6},
		"\r\ndate,tmax\r\n\"1\n1\",2\r\n1,2\r\n": {2, 5},
		"date,tmax\r1,2\r":                       {1, 2},
	} {
		s := open(t, text)
		rowsOf(t, s)
		if got := [2]int{s.HeaderLine(), s.Line()}; got != want {
			t.Errorf("%q: got %v, want %v", text, got, want)
		}
	}
}

func TestHugeCells(t *testing.T) {
	huge := strings.Repeat("a b-c/", 1<<17)
	s := open(t, "date,tmax,note\n2012-01-01,"+huge+",x\n"+huge+"\n2012-01-02,2,\"\n"+huge)
	if rows := rowsOf(t, s); len(rows) != 1 {
		t.Errorf("%d rows", len(rows))
	}
	if len(s.Findings()) != 3 {
		t.Errorf("%d findings", len(s.Findings()))
	}
	for _, f := range s.Findings() {
		if len(f.String()) > 400 || len(f.Value) > 200 {
			t.Errorf("a message of %d bytes", len(f.String()))
		}
	}
	if _, err := Open(strings.NewReader(huge), "leaf.csv", leaves); err == nil || len(err.Error()) > 400 {
		t.Errorf("got %.500v", err)
	}
}

func TestFileWithoutHeader(t *testing.T) {
	layout := leaves
	layout.Unheaded = func(first []string) []string {
		if len(first) == 2 && first[0] == "X1" {
			return []string{"note", "tmax"}
		}
		return nil
	}
	s, err := Open(strings.NewReader("X1,5\nX2,6\n"), "leaf.csv", layout)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([][]string{{"note", "tmax"}, {"X1", "5"}, {"X2", "6"}}, rowsOf(t, s)); diff != "" {
		t.Error(diff)
	}
	if s.Line() != 2 {
		t.Errorf("last row on line %d", s.Line())
	}
}
