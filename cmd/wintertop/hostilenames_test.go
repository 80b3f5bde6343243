package main

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
)

// unsafe finds what steers a terminal or turns text around; "" where nothing
// does. Isolates may stand around a name with right-to-left letters.
func unsafe(text string) string {
	for _, r := range text {
		if unicode.IsControl(r) && r != '\n' && r != '\t' && r != '\r' || unicode.Is(unicode.Bidi_Control, r) && r != '\u2068' && r != '\u2069' {
			return string(r)
		}
	}
	return ""
}

// Names that hold formulas, markup, control characters or marks that turn text
// around are shown for what they are, in every form of output.
func TestHostileNamesAreHarmless(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	trial := filepath.Join(folder, "trial")
	if err := smallTrial(trial); err != nil {
		t.Fatal(err)
	}
	names := []string{"=1+1", "<b>bold</b>&amp;", "a\x1b[2J\u202egnp.exe"}
	lines := readCSV(t, filepath.Join(trial, "lines.csv"))["line"]
	for _, file := range []string{"lines.csv", "plantings.csv"} {
		content, err := os.ReadFile(filepath.Join(trial, file))
		if err != nil {
			t.Fatal(err)
		}
		text := string(content)
		for i, line := range lines {
			for _, before := range []string{"\n", ","} {
				text = strings.ReplaceAll(text, before+line+",", before+names[i]+",")
			}
		}
		put(t, filepath.Join(trial, file), text)
	}
	hostileOutputs(t, trial, filepath.Join(folder, "out"), names)
}

func hostileOutputs(t *testing.T, trial, out string, names []string) {
	answer := func(args ...string) string {
		var printed, said bytes.Buffer
		if err := run(context.Background(), append(args, "--in", trial), streams{nil, &printed, &said}); err != nil {
			t.Fatal(err)
		}
		if r := unsafe(said.String()); r != "" {
			t.Errorf("%v: %q on standard error", args, r)
		}
		return printed.String()
	}
	text := answer("pick", "--out", out)
	if r := unsafe(text); r != "" {
		t.Errorf("text holds %q", r)
	}
	answer("report", "--out", out)
	var rows []map[string]any
	if err := json.Unmarshal([]byte(answer("pick", "--format", "json")), &rows); err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		found := false
		for _, row := range rows {
			found = found || row["line"] == name
		}
		if !found {
			t.Errorf("json lacks %q", name)
		}
	}
	lines := readCSV(t, filepath.Join(out, "pick.csv"))["line"]
	if got := strings.Join(lines, "\n"); !strings.Contains(got, "'=1+1") || strings.Contains("\n"+got, "\n=") {
		t.Errorf("csv has the lines %q", lines)
	}
	for _, file := range []string{"calendar.svg", "report.html"} {
		content, err := os.ReadFile(filepath.Join(out, file))
		if err != nil {
			t.Fatal(err)
		}
		if r := unsafe(string(content)); r != "" || bytes.Contains(content, []byte("<b>bold")) || !bytes.Contains(content, []byte("&lt;b&gt;bold")) {
			t.Errorf("%s holds %q or markup of a name", file, r)
		}
		for d := xml.NewDecoder(bytes.NewReader(content)); strings.HasSuffix(file, ".svg"); {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
	}
}
