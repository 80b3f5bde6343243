package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"wintertop/weather/table"
)

// program gives the program as a process of its own, in a folder that holds
// the small trial.
func program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("signals and pipes differ")
	}
	folder := t.TempDir()
	if err := smallTrial(filepath.Join(folder, "trial")); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("wintertop", args...)
	cmd.Dir = folder
	return cmd
}

// entries lists what lies in a folder, hidden names included.
func entries(t *testing.T, folder string) string {
	t.Helper()
	list, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range list {
		names = append(names, e.Name())
	}
	return strings.Join(names, " ")
}

func TestInterruptEndsWithinHalfASecond(t *testing.T) {
	// More than a pipe holds: once it is written the program has begun to read,
	// and so is there to be stopped.
	remarks := strings.Repeat("# nothing\n", 20_000)
	for _, c := range []struct {
		name string
		args []string
		ends bool // standard input, after the station's days
		stop os.Signal
	}{
		{"reading", []string{"station", "--station", "-", "--out", "made/here"}, false, os.Interrupt},
		{"reading, terminal closed", []string{"station", "--station", "-"}, false, syscall.SIGHUP},
		{"computing", []string{"report", "--in", "trial", "--station", "-", "--out", "made/here"}, true, syscall.SIGTERM},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			cmd := program(t, c.args...)
			input, err := cmd.StdinPipe()
			if err != nil {
				t.Fatal(err)
			}
			defer input.Close()
			var stderr bytes.Buffer
			cmd.Stderr = &stderr
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			if c.ends {
				days, err := os.ReadFile(filepath.Join(cmd.Dir, "trial", "station.csv"))
				if err != nil {
					t.Fatal(err)
				}
				if _, err := input.Write(days); err != nil {
					t.Fatal(err)
				}
			}
			if _, err := io.WriteString(input, remarks); err != nil {
				t.Fatal(err)
			}
			if c.ends {
				input.Close()
				time.Sleep(20 * time.Millisecond)
			}
			if err := cmd.Process.Signal(c.stop); err != nil {
				t.Fatal(err)
			}
			start := time.Now()
			late := time.AfterFunc(5*time.Second, func() { cmd.Process.Kill() })
			defer late.Stop()
			cmd.Wait()
			if d := time.Since(start); d > 500*time.Millisecond {
				t.Errorf("ended after %v", d)
			}
			if code := cmd.ProcessState.ExitCode(); code != 1 {
				t.Errorf("exit status %d, want 1", code)
			}
			if got := stderr.String(); got != "wintertop: interrupted: nothing was written\n" {
				t.Errorf("said %q", got)
			}
			if got := entries(t, cmd.Dir); got != "trial" {
				t.Errorf("left behind: %s", got)
			}
		})
	}
}

func TestClosedPipeIsQuiet(t *testing.T) {
	// More than a pipe holds, so that the program is still writing.
	cmd := program(t, "season", "--in", "trial", "--format", "csv", "--quiet")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadFull(out, make([]byte, 100)); err != nil {
		t.Fatal(err)
	}
	out.Close()
	if err := cmd.Wait(); err != nil {
		t.Error(err)
	}
	if stderr.Len() > 0 {
		t.Errorf("said %q", stderr.String())
	}
}

func TestStandardInputIsNoOutput(t *testing.T) {
	cmd := program(t, "station", "--station", "-", "--out", "held", "--overwrite", "--quiet")
	held := filepath.Join(cmd.Dir, "held", "winters.csv")
	if err := os.Mkdir(filepath.Dir(held), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(cmd.Dir, "trial", "station.csv"), held); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(held)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	cmd.Stdin = f
	said, _ := cmd.CombinedOutput()
	if cmd.ProcessState.ExitCode() != 1 || !strings.Contains(string(said), "is an input (standard input)") {
		t.Errorf("exit status %d: %s", cmd.ProcessState.ExitCode(), said)
	}
}

func TestExitCode(t *testing.T) {
	fault := table.Findings{{File: "a.csv", Line: 3, What: "bad", Severity: table.Fault}}
	for _, c := range []struct {
		err  error
		want int
	}{
		{nil, 0},
		{errInterrupted, 1},
		{&fileError{name: "a.csv", what: "no such file"}, 1},
		{&internalError{"index out of range"}, 1},
		{errors.New("anything"), 1},
		{&usageError{what: "unknown flag"}, 2},
		{fmt.Errorf("trial: %w", fault.Err()), 3},
		{&dataError{what: "no planting"}, 3},
	} {
		if got := exitCode(c.err); got != c.want {
			t.Errorf("%v: exit status %d, want %d", c.err, got, c.want)
		}
	}
}

func TestPanicIsAMessage(t *testing.T) {
	_, err := await(context.Background(), io.Discard, func() (int, error) { panic("out of\x1b[2J range") })
	var said bytes.Buffer
	complain(&said, err)
	if got := said.String(); !strings.HasPrefix(got, "wintertop: internal fault: out of\\u001b[2J range\nhint: ") || strings.Count(got, "\n") != 2 {
		t.Errorf("said %q", got)
	}
}

func TestComplainNamesTwentyRows(t *testing.T) {
	var faults table.Findings
	for line := range 25 {
		faults = append(faults, table.Finding{File: "notes.csv", Line: line + 2, What: "no date", Hint: "give one", Severity: table.Fault})
	}
	var said bytes.Buffer
	complain(&said, faults.Err())
	lines := strings.Split(strings.TrimSpace(said.String()), "\n")
	if lines[0] != "wintertop: notes.csv:2: no date" || lines[len(lines)-1] != "wintertop: and 5 more" {
		t.Errorf("said\n%s", said.String())
	}
	if n := strings.Count(said.String(), "no date"); n != 20 {
		t.Errorf("named %d rows", n)
	}
}

func TestReportNamesTwentyFindings(t *testing.T) {
	var said bytes.Buffer
	report(&said, make(table.Findings, 22), "see here")
	if got := said.String(); strings.Count(got, "note: ") != 20 || !strings.Contains(got, "and 2 more (see here)\n") {
		t.Errorf("said\n%s", got)
	}
}
