package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// answers gives the files of a command as it would bring them back: with
// WINTERTOP_LONG=1 by running it on the small trial, else those that its help
// declares. nil stands for a command that writes none.
func (c *command) answers(t *testing.T, trial string) (*asked, *outcome) {
	t.Helper()
	if len(c.files) == 0 {
		return nil, nil
	}
	if os.Getenv("WINTERTOP_LONG") == "" {
		return &asked{command: c, format: "text"}, &outcome{files: declared(c)}
	}
	args := []string{c.name}
	for range strings.Fields(c.words) {
		args = append(args, "new")
	}
	if c.flags&fileFlags != 0 {
		args = append(args, "--in", trial)
	}
	if c.flags&pngFlag != 0 && c.name != "demo" {
		args = append(args, "--png")
	}
	a, err := parse(args)
	if err != nil {
		t.Fatal(err)
	}
	o, err := a.answer(context.Background(), streams{err: io.Discard})
	if err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	if len(o.files) == 0 {
		t.Fatalf("%v brings no file", args)
	}
	return a, o
}

// declared gives the files that the help of a command names; "what pick
// writes" stands for those of pick, "trial/" for the inputs.
func declared(c *command) (files []file) {
	add := func(name string) { files = append(files, file{name: name}) }
	for _, words := range c.files {
		name, _, _ := strings.Cut(words, " (")
		switch {
		case name == trialFolder+"/":
			for _, r := range roles {
				add(name + r.fileName())
			}
		case strings.HasPrefix(name, "what "):
			for _, other := range commands() {
				if other != c && strings.Contains(name, other.name) {
					files = append(files, declared(other)...)
				}
			}
		default:
			add(name)
		}
	}
	return files
}

// Whatever call to the file system fails, once or as on a full disk, a set is
// written whole or not at all, leaves no scraps, and says which it was. The
// commands come from the one list.
func TestEveryFaultOfTheDiskLeavesAllOrNothing(t *testing.T) {
	t.Parallel()
	trial := filepath.Join(t.TempDir(), "trial")
	long := os.Getenv("WINTERTOP_LONG") != ""
	if long {
		if err := smallTrial(trial); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range commands() {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			a, o := c.answers(t, trial)
			if o == nil {
				return
			}
			for i := range o.files {
				// What stands in a file makes no difference here: its length
				// does, and two writes are as good as many.
				o.files[i] = bytesFile(o.files[i].name, bytes.Repeat([]byte("new"), 24_000))
			}
			every := 1 // of two files every call; of more, all are as the second
			switch {
			case long:
			case len(o.files) > 5:
				every = 83
			case len(o.files) > 2:
				every = 13
			}
			for _, old := range [][]file{nil, o.files[:(len(o.files)+1)/2]} {
				for _, full := range []bool{false, true} {
					n := faultsOf(t, a, o, old, full, every)
					t.Logf("%d calls, %d files before, full disk %v: all failed once", n, len(old), full)
				}
			}
		})
	}
}

// faultsOf lets each call of a delivery fail in turn and gives their number.
func faultsOf(t *testing.T, a *asked, o *outcome, old []file, full bool, every int) (calls int) {
	base := t.TempDir()
	asked := *a
	asked.overwrite, asked.quiet = true, true
	for at := 1; ; at += every {
		within := filepath.Join(base, fmt.Sprint(at))
		folder := filepath.Join(within, "deep", "out")
		for _, f := range old {
			put(t, filepath.Join(folder, f.name), "old")
		}
		if old == nil {
			put(t, filepath.Join(within, "neighbour"), "old")
		}
		before := contents(t, within)
		asked.out = folder
		d := &faultyDisk{at: at, full: full}
		err := deliver(context.Background(), &asked, o, streams{out: io.Discard, err: io.Discard}, d)
		after := contents(t, within)
		whole := true
		for _, f := range o.files {
			path := filepath.Join(folder, f.name)
			whole = whole && len(after[path]) > len("old")
			delete(after, path)
			delete(before, path)
		}
		switch {
		case err == nil && !whole:
			t.Fatalf("call %d: no error, but files are missing or old", at)
		case err != nil && exitCode(err) != exitCouldNot:
			t.Fatalf("call %d: exit status %d for %v", at, exitCode(err), err)
		case err != nil:
			if len(before) < 1 && old == nil {
				t.Fatal("no file to compare with")
			}
			for _, f := range o.files {
				path := filepath.Join(folder, f.name)
				want := slices.ContainsFunc(old, func(g file) bool { return g.name == f.name })
				got, err := os.ReadFile(path)
				if (err == nil) != want || want && string(got) != "old" {
					t.Fatalf("call %d: %s holds %d bytes (%v), was there before: %v", at, path, len(got), err, want)
				}
			}
			if old == nil && exists(filepath.Join(within, "deep")) {
				t.Fatalf("call %d: a folder is left behind", at)
			}
		}
		if len(after) != len(before) {
			t.Fatalf("call %d (%v): left behind: %v", at, err, after)
		}
		if !d.failed {
			if err != nil {
				t.Fatal(err)
			}
			return d.calls
		}
		if err := os.RemoveAll(within); err != nil {
			t.Fatal(err)
		}
	}
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// contents gives every file below a folder, hidden ones included, and each
// folder that is a scrap.
func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if strings.HasPrefix(d.Name(), ".wintertop") {
				files[path] = "scrap"
			}
			return nil
		}
		content, err := os.ReadFile(path)
		files[path] = string(content)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}
