package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

func completionOf(t *testing.T, shell string) string {
	t.Helper()
	script, err := completionCommand().show([]string{shell})
	if err != nil {
		t.Fatal(err)
	}
	return script
}

// Each command and each of its flags is in the script of each shell, and the
// shell, where it is here, finds nothing wrong with it.
func TestCompletionKnowsTheOneList(t *testing.T) {
	for shell, check := range map[string]string{"bash": "-n", "zsh": "-n", "fish": "--no-execute"} {
		script := completionOf(t, shell)
		for _, c := range commands() {
			(&asked{}).flagSet(c.flags).VisitAll(func(f *pflag.Flag) {
				want := "--" + f.Name
				if shell == "fish" {
					want = fmt.Sprintf("'__fish_seen_subcommand_from %s' -l %s ", c.name, f.Name)
				}
				if !strings.Contains(script, want) {
					t.Errorf("%s: %s of %s is missing", shell, want, c.name)
				}
			})
		}
		path := filepath.Join(t.TempDir(), "script")
		put(t, path, script)
		if _, err := exec.LookPath(shell); err != nil {
			continue
		}
		if said, err := exec.Command(shell, check, path).CombinedOutput(); err != nil {
			t.Errorf("%s: %v: %s", shell, err, said)
		}
	}
}

func TestBashCompletes(t *testing.T) {
	if _, err := exec.LookPath("bash"); err != nil {
		t.Skip("bash is not here")
	}
	folder := t.TempDir()
	put(t, filepath.Join(folder, "my field.csv"), "")
	if err := os.Mkdir(filepath.Join(folder, "my trial"), 0o777); err != nil {
		t.Fatal(err)
	}
	lines := []struct{ line, want string }{
		{"wintertop pi", "pick"},
		{"wintertop --quiet s", "start|station|season|sow"},
		{"wintertop pick --si", "--site|--since"},
		{"wintertop events --format ", "text|csv|json"},
		{"wintertop station --units t", "tenths"},
		{"wintertop station --station my", "my field.csv|my trial"},
		{"wintertop pick --in my", "my trial"},
		{"wintertop completion z", "zsh"},
		{"wintertop help rep", "report"},
		{"wintertop constants --in", ""},
	}
	script := completionOf(t, "bash")
	for _, c := range lines {
		words := strings.Split(c.line, " ")
		script += fmt.Sprintf("COMP_WORDS=('%s'); COMP_CWORD=%d; _wintertop; IFS='|'; echo \"${COMPREPLY[*]}\"\n", strings.Join(words, "' '"), len(words)-1)
	}
	cmd := exec.Command("bash", "--norc", "-c", script)
	cmd.Dir = folder
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatal(err, string(out))
	}
	for i, got := range strings.Split(strings.TrimSuffix(string(out), "\n"), "\n") {
		answers := strings.Split(got, "|")
		if i > 4 { // names of files come in the folder's order
			slices.Sort(answers)
		}
		if got := strings.Join(answers, "|"); got != lines[i].want {
			t.Errorf("%q: %s, want %s", lines[i].line, got, lines[i].want)
		}
	}
}
