package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"wintertop/weather"
	"wintertop/weather/table"
)

// outcome is all that a command brings back: nothing of it is printed or
// written before the command has ended well.
type outcome struct {
	table    *table.Table
	text     []section // what text form prints instead of table
	before   []string  // lines above the table, in text form
	after    []string  // lines below it, in text form
	findings table.Findings
	remarks  []string // said on standard error unless --quiet
	files    []file
	folder   string                       // where files go when no --out says so; "" is nowhere
	told     func(folder string) []string // said on standard error in any case
	inputs   []readFile
}

// file is one file to be written: its name within --out, slashes between
// folders, and its content.
type file struct {
	name  string
	write func(io.Writer) error
}

// tableFile is a result table as a file.
func tableFile(t *table.Table) file { return file{t.Name + ".csv", t.CSV} }

// bytesFile is content made before.
func bytesFile(name string, content []byte) file {
	return file{name, func(w io.Writer) error { _, err := w.Write(content); return err }}
}

// deliver writes the files of an outcome to d, then prints what it has to say.
func deliver(ctx context.Context, a *asked, o *outcome, s streams, d disk) error {
	folder := a.out
	if folder == "" {
		folder = o.folder
	}
	scratch := ""
	if folder == "" && a.command.scratch {
		var err error
		if scratch, err = d.MkdirTemp(os.TempDir(), "wintertop-"+a.command.name+"-"); err != nil {
			return newFileError(os.TempDir(), err)
		}
		folder = scratch
	}
	if folder != "" && len(o.files) > 0 {
		set := fileSet{disk: d, folder: folder, files: o.files, overwrite: a.overwrite, passing: scratch != "", inputs: o.inputs}
		scrap, err := set.write(ctx)
		if scrap != "" {
			say(s.err, "warning: ", "the temporary folder "+scrap+" could not be removed", "")
		}
		if err != nil {
			if scratch != "" {
				set.clear(scratch)
			}
			return err
		}
	}
	if !a.quiet {
		report(s.err, o.findings, o.allFindings(folder))
		for _, line := range o.remarks {
			say(s.err, "", line, "")
		}
	}
	_, err := await(ctx, io.Discard, func() (struct{}, error) { return struct{}{}, printTable(s.out, a.format, o) })
	if errors.Is(err, errInterrupted) && folder != "" {
		return fmt.Errorf("interrupted while printing: the files in %s are complete", folder)
	}
	if err = quietPipe(err); err != nil {
		var file *fileError
		if folder != "" && errors.As(err, &file) {
			file.hint = "the files in " + folder + " are complete"
		}
		return err
	}
	if o.told != nil {
		for _, line := range o.told(folder) {
			say(s.err, "", line, "")
		}
	}
	return nil
}

// findingsFile is the file of all findings, written where they are more than
// are printed.
const findingsFile = "findings"

// addFindings adds the file of all findings where that is called for and the
// set has none of its own.
func (o *outcome) addFindings() {
	if len(o.findings) <= maxLines || o.holds(stationFindings) {
		return
	}
	t := weather.FindingsTable(o.findings)
	t.Name = findingsFile
	o.files = append(o.files, tableFile(t))
}

// stationFindings is the file of the findings about stations.
const stationFindings = "station-findings"

func (o *outcome) holds(name string) bool {
	return slices.ContainsFunc(o.files, func(f file) bool { return f.name == name+".csv" })
}

// allFindings says where every finding is to be read.
func (o *outcome) allFindings(folder string) string {
	name := findingsFile
	if o.holds(stationFindings) {
		name = stationFindings
	}
	if folder == "" {
		return "--out DIR writes all of them, to DIR/" + name + ".csv"
	}
	return "all are in " + joinGiven(folder, name+".csv")
}

func printTable(w io.Writer, format string, o *outcome) error {
	if o.table == nil {
		return nil
	}
	buffered := newBuffer(w)
	var err error
	switch format {
	case "csv":
		err = o.table.CSV(buffered)
	case "json":
		err = o.table.JSON(buffered)
	default:
		sections := o.text
		if sections == nil {
			sections = []section{{table: o.table}}
		}
		writeLines(buffered, o.before, "", "\n")
		for i, s := range sections {
			if i > 0 {
				io.WriteString(buffered, "\n")
			}
			if len(s.before) > 0 && len(s.table.Rows) == 0 {
				writeLines(buffered, s.before, "", "") // they say why there is no row
				continue
			}
			writeLines(buffered, s.before, "", "\n")
			err = errors.Join(err, s.table.Text(buffered))
		}
		writeLines(buffered, o.after, "\n", "")
	}
	return errors.Join(err, buffered.Flush())
}

// writeLines writes sentences, a line each, between what stands above and
// below them.
func writeLines(w io.Writer, lines []string, above, below string) {
	if len(lines) == 0 {
		return
	}
	io.WriteString(w, above)
	for _, line := range lines {
		fmt.Fprintln(w, plain(line))
	}
	io.WriteString(w, below)
}

// quietPipe takes a reader of standard output that left early for no error.
func quietPipe(err error) error {
	if errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) {
		return nil
	}
	if err == nil || errors.Is(err, errInterrupted) {
		return err
	}
	var inner *internalError
	if errors.As(err, &inner) {
		return err
	}
	return newFileError("standard output", err)
}

// fileSet is a set of files that is written as a whole or not at all.
type fileSet struct {
	disk      disk
	folder    string // as given
	files     []file
	overwrite bool
	passing   bool // in a folder among the temporary ones: need not outlast a power cut
	inputs    []readFile
}

func (s *fileSet) path(f file) string { return joinGiven(s.folder, f.name) }

// joinGiven joins a folder and a name, the folder as it was given.
func joinGiven(folder, name string) string {
	if strings.HasSuffix(folder, "/") || strings.HasSuffix(folder, string(filepath.Separator)) {
		return folder + name
	}
	return folder + "/" + name
}

// check refuses a folder that is a file, an output that is an input, and files
// that exist unless they may be replaced.
func (s *fileSet) check() error {
	if info, err := s.disk.Stat(s.folder); err == nil && !info.IsDir() {
		return &fileError{name: s.folder, what: "is a file, not a folder", hint: "name another folder with --out"}
	}
	var there []string
	for _, f := range s.files {
		path := s.path(f)
		info, err := s.disk.Stat(path)
		if err == nil {
			for _, in := range s.inputs {
				if os.SameFile(info, in.info) {
					return &fileError{name: path, what: "is an input (" + in.name + ") and will not be written over", hint: "name another folder with --out"}
				}
			}
		} else if !nothingThere(err) {
			return newFileError(path, err)
		}
		info, err = s.disk.Lstat(path)
		switch {
		case nothingThere(err):
		case err != nil:
			return newFileError(path, err)
		case info.IsDir():
			return isFolder(path)
		case !s.overwrite:
			there = append(there, path)
		}
	}
	if len(there) > 0 {
		e := &fileError{name: there[0], what: "exists and would be overwritten", hint: "name another folder, or add --overwrite"}
		if len(there) > 1 {
			e.what = fmt.Sprintf("exists and would be overwritten, and so would %d more", len(there)-1)
		}
		return e
	}
	return nil
}

// writable refuses, before the long work, to write over what is there, of the files
// that the command writes wherever there is an --out. The others are checked when
// they are known.
func (a *asked) writable(d disk, inputs []readFile) error {
	if a.out == "" {
		return nil
	}
	set := fileSet{disk: d, folder: a.out, overwrite: a.overwrite, inputs: inputs}
	for _, name := range a.command.files {
		if kind := path.Ext(name); kind == ".csv" || kind == ".html" {
			set.files = append(set.files, file{name: name})
		}
	}
	return set.check()
}

func nothingThere(err error) bool {
	return errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR)
}

func isFolder(path string) error {
	return &fileError{name: path, what: "is a folder where a file must go", hint: "name another folder with --out"}
}
