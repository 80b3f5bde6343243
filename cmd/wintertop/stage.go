package main

import (
	"bufio"
	"context"
	"errors"
	"io"
	"io/fs"
	"path/filepath"
	"strconv"
)

// write stages the files in a temporary folder beside their own, then moves
// the whole set into place. Whatever fails, and when ctx is cancelled before
// the moving begins, it leaves everything as it was. scrap names the temporary
// folder where even that could not be removed, else it is "".
func (s *fileSet) write(ctx context.Context) (scrap string, err error) {
	if err := s.check(); err != nil {
		return "", err
	}
	target, err := filepath.Abs(s.folder)
	if err != nil {
		return "", newFileError(s.folder, err)
	}
	base, rest := target, ""
	for {
		if real, err := s.disk.EvalSymlinks(base); err == nil {
			base = real
			break
		} else if !errors.Is(err, fs.ErrNotExist) || base == filepath.Dir(base) {
			return "", newFileError(s.folder, err)
		}
		rest = filepath.Join(filepath.Base(base), rest)
		base = filepath.Dir(base)
	}
	stage, err := s.stageBeside(base, rest == "")
	if err != nil {
		return "", newFileError(s.folder, err)
	}
	defer func() {
		if !s.clear(stage) {
			scrap = stage
		}
	}()
	whole := filepath.Join(stage, "new", rest)
	if err := s.fill(ctx, whole); err != nil {
		return "", err
	}
	if ctx.Err() != nil {
		return "", errInterrupted
	}
	if rest == "" {
		return "", s.moveInto(base, whole, filepath.Join(stage, "old"))
	}
	top := firstPart(rest)
	if err := s.disk.Rename(filepath.Join(stage, "new", top), filepath.Join(base, top)); err != nil {
		return "", newFileError(s.folder, err)
	}
	s.syncFolder(base)
	return "", nil
}

func firstPart(path string) string {
	for filepath.Dir(path) != "." {
		path = filepath.Dir(path)
	}
	return path
}

// clear removes a temporary folder. It tries twice, as a scanner of viruses or
// an indexer may hold a file of it for a moment.
func (s *fileSet) clear(stage string) bool {
	err := s.disk.RemoveAll(stage)
	if err != nil {
		err = s.disk.RemoveAll(stage)
	}
	return err == nil
}

// stageBeside makes the temporary folder: in base where the target is still to
// be made there; otherwise beside base, or in it where base alone can be
// written to or is a file system of its own.
func (s *fileSet) stageBeside(base string, exists bool) (string, error) {
	const pattern = ".wintertop-*"
	if !exists {
		return s.disk.MkdirTemp(base, pattern)
	}
	if stage, err := s.disk.MkdirTemp(filepath.Dir(base), pattern); err == nil {
		// Only a rename tells whether both are on one file system.
		probe, there := filepath.Join(stage, "probe"), filepath.Join(base, filepath.Base(stage))
		err := s.disk.Mkdir(probe)
		if err == nil {
			err = s.disk.Rename(probe, there)
		}
		if err == nil && s.clear(there) {
			return stage, nil
		}
		s.clear(stage)
	}
	return s.disk.MkdirTemp(base, pattern)
}

// fill writes every file below the staging folder, to the disk itself, some at a
// time: a file takes a while to go down.
func (s *fileSet) fill(ctx context.Context, whole string) error {
	return sideBySide(filesAtATime, func(writer int) error {
		for i := writer; i < len(s.files); i += filesAtATime {
			f := s.files[i]
			path := filepath.Join(whole, filepath.FromSlash(f.name))
			if err := s.disk.MkdirAll(filepath.Dir(path)); err != nil {
				return newFileError(s.path(f), err)
			}
			if err := s.writeFile(ctx, path, f.write); err != nil {
				if ctx.Err() != nil {
					return errInterrupted
				}
				return newFileError(s.path(f), err)
			}
		}
		return nil
	})
}

// filesAtATime is how many files are written at a time.
const filesAtATime = 4

func (s *fileSet) writeFile(ctx context.Context, path string, write func(io.Writer) error) (err error) {
	f, err := s.disk.Create(path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	buffered := newBuffer(untilDone{ctx, f})
	if err := write(buffered); err != nil {
		return err
	}
	if err := buffered.Flush(); err != nil || s.passing {
		return err
	}
	return f.Sync()
}

// newBuffer collects small writes.
func newBuffer(w io.Writer) *bufio.Writer { return bufio.NewWriterSize(w, 64<<10) }

// untilDone writes until ctx is cancelled.
type untilDone struct {
	ctx context.Context
	w   io.Writer
}

func (u untilDone) Write(p []byte) (int, error) {
	if err := u.ctx.Err(); err != nil {
		return 0, err
	}
	return u.w.Write(p)
}

// moveInto moves the staged files one by one into a folder that exists. Files
// that they replace are kept in old until all are in place; if one cannot be
// moved, those before it are taken back.
func (s *fileSet) moveInto(folder, whole, old string) (err error) {
	var undo []func() error
	defer func() {
		if err == nil {
			return
		}
		for i := len(undo) - 1; i >= 0; i-- {
			err = errors.Join(err, undo[i]())
		}
	}()
	if err := s.disk.Mkdir(old); err != nil {
		return newFileError(s.folder, err)
	}
	for i, f := range s.files {
		name := filepath.FromSlash(f.name)
		to := filepath.Join(folder, name)
		if parent := filepath.Dir(to); parent != folder {
			if err := s.disk.Mkdir(parent); err == nil {
				undo = append(undo, func() error { return s.disk.Remove(parent) })
			} else if !errors.Is(err, fs.ErrExist) {
				return newFileError(s.path(f), err)
			}
		}
		kept := filepath.Join(old, strconv.Itoa(i))
		there, err := s.disk.Lstat(to)
		exists := err == nil
		switch {
		case err != nil && !errors.Is(err, fs.ErrNotExist):
			return newFileError(s.path(f), err)
		case exists && there.IsDir():
			return isFolder(s.path(f))
		case exists:
			if s.disk.Link(to, kept) != nil {
				if err := s.disk.Rename(to, kept); err != nil {
					return newFileError(s.path(f), err)
				}
			}
			undo = append(undo, func() error { return s.disk.Rename(kept, to) })
		}
		if err := s.disk.Rename(filepath.Join(whole, name), to); err != nil {
			return newFileError(s.path(f), err)
		}
		if !exists {
			undo = append(undo, func() error { return s.disk.Remove(to) })
		}
	}
	s.syncFolder(folder)
	return nil
}

// syncFolder asks the system to keep the new names too. Not every system can.
func (s *fileSet) syncFolder(folder string) { _ = s.disk.SyncFolder(folder) }
