package main

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func set(folder string, names ...string) *fileSet {
	s := &fileSet{disk: realDisk{}, folder: folder, overwrite: true}
	for _, name := range names {
		s.files = append(s.files, bytesFile(name, []byte("new "+name)))
	}
	return s
}

func put(t *testing.T, path, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(content), 0o666); err != nil {
		t.Fatal(err)
	}
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("%s holds %q (%v), want %q", path, got, err, want)
	}
}

func TestSetIsWhole(t *testing.T) {
	base := t.TempDir()
	out := filepath.Join(base, "out")
	for range 2 { // a new folder, then one that exists
		if _, err := set(out, "a.csv", "sub/b.csv").write(context.Background()); err != nil {
			t.Fatal(err)
		}
		holds(t, filepath.Join(out, "a.csv"), "new a.csv")
		holds(t, filepath.Join(out, "sub", "b.csv"), "new sub/b.csv")
		if got := entries(t, base) + ": " + entries(t, out); got != "out: a.csv sub" {
			t.Errorf("there is %s", got)
		}
	}
}

func TestFailureLeavesEverythingAsItWas(t *testing.T) {
	broken := errors.New("no space left")
	for _, c := range []struct {
		name  string
		spoil func(s *fileSet, out string)
	}{
		{"a file cannot be made", func(s *fileSet, _ string) {
			s.files[2].write = func(w io.Writer) error {
				io.WriteString(w, "half")
				return broken
			}
		}},
		// After the check something takes the last file's place.
		{"a file cannot be moved", func(s *fileSet, out string) {
			s.files[2].write = func(io.Writer) error { return os.MkdirAll(filepath.Join(out, "c.csv", "in the way"), 0o777) }
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			base := t.TempDir()
			out := filepath.Join(base, "out")
			put(t, filepath.Join(out, "a.csv"), "old")
			s := set(out, "a.csv", "sub/b.csv", "c.csv")
			c.spoil(s, out)
			_, err := s.write(context.Background())
			var file *fileError
			if !errors.As(err, &file) || exitCode(err) != exitCouldNot {
				t.Fatalf("got %v", err)
			}
			if !strings.HasSuffix(file.name, "out/c.csv") {
				t.Errorf("named %s", file.name)
			}
			holds(t, filepath.Join(out, "a.csv"), "old")
			os.RemoveAll(filepath.Join(out, "c.csv"))
			if got := entries(t, base) + ": " + entries(t, out); got != "out: a.csv" {
				t.Errorf("left behind: %s", got)
			}
		})
	}
}

// A fault of the program's own in one file is said, and leaves nothing.
func TestPanicWhileAFileIsWritten(t *testing.T) {
	base := t.TempDir()
	s := set(filepath.Join(base, "out"), "a.csv", "b.csv")
	s.files[0].write = func(io.Writer) error { panic("out of range") }
	_, err := s.write(context.Background())
	var bug *internalError
	if !errors.As(err, &bug) {
		t.Errorf("got %v", err)
	}
	if got := entries(t, base); got != "" {
		t.Errorf("left behind: %s", got)
	}
}

// tiredDisk cannot say that a file is down.
type tiredDisk struct{ realDisk }

type tiredFile struct{ diskFile }

func (tiredDisk) Create(name string) (diskFile, error) {
	f, err := realDisk{}.Create(name)
	return tiredFile{f}, err
}

func (tiredFile) Sync() error { return errors.New("not down") }

// A set is not whole before the disk has it, but for one in a temporary folder.
func TestFilesAreDownBeforeTheyAreMoved(t *testing.T) {
	for _, passing := range []bool{false, true} {
		base := t.TempDir()
		s := set(filepath.Join(base, "out"), "a.csv")
		s.disk, s.passing = tiredDisk{}, passing
		if _, err := s.write(context.Background()); (err == nil) != passing {
			t.Errorf("passing %t: got %v", passing, err)
		}
		if got := entries(t, base); (got == "out") != passing {
			t.Errorf("passing %t: there is %q", passing, got)
		}
	}
}

func TestCancelledSetIsNotWritten(t *testing.T) {
	base := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	s := set(filepath.Join(base, "deep", "out"), "a.csv", "b.csv")
	s.files[1].write = func(io.Writer) error { cancel(); return nil }
	if _, err := s.write(ctx); !errors.Is(err, errInterrupted) {
		t.Errorf("got %v", err)
	}
	if got := entries(t, base); got != "" {
		t.Errorf("left behind: %s", got)
	}
}
