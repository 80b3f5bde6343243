package main

import (
	"io"
	"io/fs"
	"maps"
	"os"
	"slices"
	"sync"
)

// role is one file of a trial folder, by the flag that names it.
type role string

const (
	stationRole   role = "station"
	siteRole      role = "site"
	linesRole     role = "lines"
	plantingsRole role = "plantings"
	notesRole     role = "notes"
	aheadRole     role = "ahead"
	loggerRole    role = "logger" // read by station alone
	demandRole    role = "demand" // read by what plans a sowing
)

// roles lists the files of a trial folder that every command takes.
var roles = [...]role{stationRole, siteRole, linesRole, plantingsRole, notesRole, aheadRole}

// fileName is the name of the file in a trial folder.
func (r role) fileName() string { return string(r) + ".csv" }

// does says what the file holds.
func (r role) does() string {
	return map[role]string{
		stationRole:   "station history `file`, a row per day",
		siteRole:      "site `file`, a row per item",
		linesRole:     "lines `file`, a row per line",
		plantingsRole: "plantings `file`, a row per planting",
		notesRole:     "notes `file`, a row per observation",
		loggerRole:    "`file` of a logger among the leaves, a row per day (logger.csv of the trial folder)",
		demandRole:    "`file` of what is wanted next winter, a row per week or range of days (demand.csv of the trial folder)",
		aheadRole:     "short-range weather forecast `file`, a row per day",
	}[r]
}

// inputs opens the files that a run reads, each under the name the user gave:
// any path of the system, or - for standard input. It remembers them, so that
// no output can be one of them.
type inputs struct {
	stdin  io.Reader
	folder bool            // the usual names stand for files in a trial folder
	named  map[string]bool // files that flags name

	mu    sync.Mutex
	used  bool // standard input was opened
	names []string
}

func newInputs(stdin io.Reader, a *asked) *inputs {
	in := &inputs{stdin: stdin, folder: a.in != "", named: map[string]bool{}}
	for _, name := range a.named {
		in.named[name] = true
	}
	return in
}

// open opens the file of that name. Without a trial folder a usual name that
// no flag gives is no file, whatever lies in the working folder.
func (in *inputs) open(name string) (io.ReadCloser, error) {
	in.mu.Lock()
	defer in.mu.Unlock()
	if name == "-" {
		if in.used {
			return nil, &fileError{name: "standard input", what: "was read already"}
		}
		in.used = true
		return io.NopCloser(in.stdin), nil
	}
	if !in.folder && !in.named[name] && slices.ContainsFunc(roles[:], func(r role) bool { return r.fileName() == name }) {
		return nil, newFileError(name, fs.ErrNotExist)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, newFileError(name, err)
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, &fileError{name: name, what: "is a folder, not a file", hint: "name a trial folder with --in, a file with its own flag"}
	}
	in.names = append(in.names, name)
	return f, nil
}

// readFile is a file that a run reads: the name given and which file it is.
type readFile struct {
	name string
	info fs.FileInfo
}

// opened lists the files opened so far, and those that flags name besides.
func (in *inputs) opened() []readFile {
	in.mu.Lock()
	defer in.mu.Unlock()
	names := slices.Concat(in.names, slices.Sorted(maps.Keys(in.named)))
	var read []readFile
	for _, name := range names {
		if info, err := os.Stat(name); err == nil {
			read = append(read, readFile{name, info})
		}
	}
	if f, ok := in.stdin.(*os.File); ok && in.used {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
			read = append(read, readFile{"standard input", info})
		}
	}
	return read
}
