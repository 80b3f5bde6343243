package main

import (
	"errors"
	"strings"
	"testing"
)

// Seeds: testdata/fuzz/FuzzCommandLine, a word on each line.
func FuzzCommandLine(f *testing.F) {
	f.Fuzz(func(t *testing.T, line string) {
		a, err := parse(strings.Split(line, "\n"))
		var usage *usageError
		switch {
		case err != nil && (!errors.As(err, &usage) || usage.what == "" || exitCode(err) != exitCommandLine):
			t.Fatalf("an error that is not about the command line: %v", err)
		case err == nil && a.show == "" && (a.command == nil || a.command.run == nil):
			t.Fatal("nothing to do and nothing to show")
		case err == nil && a.show == "" && len(a.words) != len(strings.Fields(a.command.words)):
			t.Fatalf("%s got the words %q", a.command.name, a.words)
		}
	})
}
