package table

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

func TestErrorListsTwentyFaults(t *testing.T) {
	var seen Findings
	if seen.Err() != nil {
		t.Error("no findings are an error")
	}
	seen = append(seen, Finding{File: "a.csv", Line: 1, What: "odd", Severity: Warning})
	if seen.Err() != nil {
		t.Error("a warning is an error")
	}
	for i := range 23 {
		hint := ""
		if i < 2 {
			hint = "use a point"
		}
		seen = append(seen, Finding{File: "a.csv", Line: i + 2, What: fmt.Sprintf("wrong %d", i), Hint: hint, Severity: Fault})
	}
	err := seen.Err()
	var input *InputError
	if !errors.As(err, &input) || len(input.Faults) != 23 {
		t.Fatalf("got %#v", err)
	}
	lines := strings.Split(err.Error(), "\n")
	if lines[0] != "a.csv:2: wrong 0" || lines[1] != "a.csv:3: wrong 1" || lines[2] != "hint: use a point" || lines[3] != "a.csv:4: wrong 2" ||
		len(lines) != 22 || lines[20] != "a.csv:21: wrong 19" || lines[21] != "and 3 more" {
		t.Errorf("got\n%s", err)
	}
}

func TestQuoteIsCut(t *testing.T) {
	for in, want := range map[string]string{
		"a":                      `"a"`,
		"a\x1b[2J":               `"a\x1b[2J"`,
		strings.Repeat("ü", 200): `"` + strings.Repeat("ü", 200) + `"`,
		strings.Repeat("ü", 201): `"` + strings.Repeat("ü", 200) + `"…`,
	} {
		if got := Quote(in); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}
