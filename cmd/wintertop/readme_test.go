package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wintertop/cmd/wintertop/demo"
)

// shellLines gives the commands of a Markdown text's sh blocks that run the
// program, as arguments.
func shellLines(markdown string) (commands [][]string) {
	inside := false
	for line := range strings.Lines(markdown) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "```") {
			inside = !inside && line == "```sh"
			continue
		}
		if !inside {
			continue
		}
		line, _, _ = strings.Cut(line, " #")
		for _, start := range []string{"wintertop ", "go run ./cmd/wintertop "} {
			if rest, ok := strings.CutPrefix(line, start); ok {
				commands = append(commands, strings.Fields(rest))
			}
		}
	}
	return commands
}

func TestShellLines(t *testing.T) {
	got := shellLines("wintertop no\n```sh\nwintertop pick --in a  # why\ngo test ./...\n  go run ./cmd/wintertop demo\n```\n```text\nwintertop no\n```\n")
	if len(got) != 2 || strings.Join(got[0], " ") != "pick --in a" || strings.Join(got[1], " ") != "demo" {
		t.Errorf("got %q", got)
	}
}

// The commands that README.md shows run in its order in an empty folder, the slow
// ones with WINTERTOP_LONG=1. The demo is run by its own script; here its trial
// folder is written cut down.
func TestReadmeCommandsRun(t *testing.T) {
	t.Parallel()
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	commands := shellLines(string(readme))
	if len(commands) == 0 {
		t.Fatal("README.md shows no command")
	}
	folder := t.TempDir()
	for _, args := range commands {
		if _, err := parse(args); err != nil {
			t.Errorf("wintertop %s: %v", strings.Join(args, " "), err)
		}
		if args[0] == "demo" {
			if len(args) > 1 {
				if err := smallTrial(filepath.Join(folder, args[len(args)-1], trialFolder)); err != nil {
					t.Fatal(err)
				}
			}
			continue
		}
		if slices.Contains(slowCommands(), args[0]) {
			continue
		}
		cmd := exec.Command("wintertop", args...)
		cmd.Dir = folder
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Errorf("wintertop %s: %v\n%s", strings.Join(args, " "), err, said)
		}
	}
}

// The words and figures that README.md shows below a command are what it says
// on the whole example: WINTERTOP_LONG=1, as the commands take some seconds.
func TestReadmeShowsWhatIsSaid(t *testing.T) {
	if os.Getenv("WINTERTOP_LONG") == "" {
		t.Skip("WINTERTOP_LONG=1 runs it")
	}
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	folder, commands, shown := t.TempDir(), "", 0
	if err := os.CopyFS(filepath.Join(folder, "demo", trialFolder), demo.Trial()); err != nil {
		t.Fatal(err)
	}
	flat := func(text string) string { return strings.Join(strings.Fields(text), " ") }
	for i, block := range strings.Split(string(readme), "```") {
		kind, text, _ := strings.Cut(block, "\n")
		switch {
		case i%2 == 0:
		case kind == "sh":
			commands = "```sh\n" + text + "```\n"
		case kind == "text":
			said := ""
			for _, args := range shellLines(commands) {
				cmd := exec.Command("wintertop", args...)
				cmd.Dir = folder
				out, err := cmd.Output()
				if err != nil {
					t.Errorf("wintertop %s: %v", strings.Join(args, " "), err)
				}
				said += flat(string(out)) + " "
			}
			for _, part := range strings.Split(strings.TrimSpace(text), "\n\n") {
				shown++
				if words := flat(part); !strings.Contains(said, words) {
					t.Errorf("README.md shows %q, which is not said", words)
				}
			}
		}
	}
	if shown == 0 {
		t.Error("README.md shows nothing of what is said")
	}
}
