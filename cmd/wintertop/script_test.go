package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"wintertop": main})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:   "testdata/script",
		Setup: func(env *testscript.Env) error { return smallTrial(filepath.Join(env.WorkDir, "trial")) },
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":     exits,
			"upto":      upto,
			"falsify":   falsify,
			"sametrees": sameTrees,
			"fewfiles":  fewFiles,
			"header":    header,
			"settle":    settle,
		},
		// [!long] stop: what comes after it runs with WINTERTOP_LONG=1.
		Condition: func(name string) (bool, error) {
			if name != "long" {
				return false, fmt.Errorf("unknown condition %q", name)
			}
			return os.Getenv("WINTERTOP_LONG") != "", nil
		},
		RequireUniqueNames: true,
	})
}

// exits runs a command and checks its exit status: exits 3 wintertop pick.
// Its output is for the stdout and stderr commands.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS PROGRAM [ARGUMENT...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	if exit, ok := err.(*exec.ExitError); ok {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// upto copies a station file without the days after a date: upto DATE FROM TO.
func upto(ts *testscript.TestScript, _ bool, args []string) {
	rewriteAfter(ts, args, func([]byte) []byte { return nil })
}

// falsify copies a station file with nonsense weather after a date:
// falsify DATE FROM TO.
func falsify(ts *testscript.TestScript, _ bool, args []string) {
	day := 0
	rewriteAfter(ts, args, func(row []byte) []byte {
		cells := bytes.Split(row, []byte(","))
		day++
		cells[1] = strconv.AppendInt(nil, int64(-20+day%7), 10)
		cells[2] = strconv.AppendInt(nil, int64(15-day%5), 10)
		return bytes.Join(cells, []byte(","))
	})
}

func rewriteAfter(ts *testscript.TestScript, args []string, change func(row []byte) []byte) {
	if len(args) != 3 {
		ts.Fatalf("usage: DATE FROM TO")
	}
	content, err := os.ReadFile(ts.MkAbs(args[1]))
	ts.Check(err)
	var out bytes.Buffer
	changed := 0
	for row := range bytes.Lines(content) {
		if len(row) > 10 && row[4] == '-' && string(row[:10]) > args[0] {
			changed++
			row = change(bytes.TrimRight(row, "\r\n"))
			if row == nil {
				continue
			}
			row = append(row, '\n')
		}
		out.Write(row)
	}
	if changed == 0 {
		ts.Fatalf("%s has no day after %s", args[1], args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), out.Bytes(), 0o666))
}

// sametrees compares every file of two folders: sametrees A B.
func sameTrees(ts *testscript.TestScript, neg bool, args []string) {
	a, b := tree(ts, args[0]), tree(ts, args[1])
	same := len(a) == len(b)
	for name, content := range a {
		if !bytes.Equal(content, b[name]) {
			same = false
			ts.Logf("%s differs", name)
		}
	}
	if same == neg {
		ts.Fatalf("same trees: %v", same)
	}
}

func tree(ts *testscript.TestScript, folder string) map[string][]byte {
	files := map[string][]byte{}
	var walk func(at string)
	walk = func(at string) {
		entries, err := os.ReadDir(ts.MkAbs(folder) + at)
		ts.Check(err)
		for _, e := range entries {
			name := at + "/" + e.Name()
			if e.IsDir() {
				walk(name)
				continue
			}
			content, err := os.ReadFile(ts.MkAbs(folder) + name)
			ts.Check(err)
			files[name] = content
		}
	}
	walk("")
	return files
}

// fewfiles checks that a folder holds exactly the names given, hidden ones
// and scraps included: fewfiles FOLDER [NAME...].
func fewFiles(ts *testscript.TestScript, _ bool, args []string) {
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	want := map[string]bool{}
	for _, name := range args[1:] {
		want[name] = true
	}
	for _, e := range entries {
		if !want[e.Name()] {
			ts.Fatalf("%s holds %s", args[0], e.Name())
		}
		delete(want, e.Name())
	}
	for name := range want {
		ts.Fatalf("%s lacks %s", args[0], name)
	}
}

// header checks the first columns of a CSV file: header FILE NAME,NAME,...
func header(ts *testscript.TestScript, _ bool, args []string) {
	content, err := os.ReadFile(ts.MkAbs(args[0]))
	ts.Check(err)
	first, _, _ := bytes.Cut(content, []byte("\r\n"))
	if got := string(first); got != args[1] && !bytes.HasPrefix(first, []byte(args[1]+",")) {
		ts.Fatalf("%s has the columns %s, want %s", args[0], got, args[1])
	}
}

// settle gives the one entry of a folder a name of its own: settle FOLDER NAME.
func settle(ts *testscript.TestScript, _ bool, args []string) {
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	if len(entries) != 1 {
		ts.Fatalf("%s holds %d entries", args[0], len(entries))
	}
	ts.Check(os.Rename(filepath.Join(ts.MkAbs(args[0]), entries[0].Name()), ts.MkAbs(args[1])))
}
