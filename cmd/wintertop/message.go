package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"unicode"
	"unicode/utf8"

	"wintertop/weather/table"
)

// maxLines is how many findings or bad rows are named in one go.
const maxLines = 20

// maxQuoted is how many characters of a word of the command line are quoted.
const maxQuoted = 200

// usageError is a wrong command line.
type usageError struct{ what, hint string }

func (e *usageError) Error() string { return e.what }

// dataError is input that reads well but cannot answer what was asked.
type dataError struct{ what, hint string }

func (e *dataError) Error() string { return e.what }

// fileError is a file or folder that could not be read or written, under the
// name that the user gave it.
type fileError struct {
	name, what, hint string
	cause            error
}

func (e *fileError) Error() string { return e.name + ": " + e.what }

func (e *fileError) Unwrap() error { return e.cause }

// internalError is a panic: a fault of the program's own.
type internalError struct{ value any }

func (e *internalError) Error() string { return fmt.Sprintf("internal fault: %v", e.value) }

// errInterrupted is what a run ends with after Ctrl-C or a request to stop.
var errInterrupted = errors.New("interrupted: nothing was written")

// newFileError says under the name given what the system said of a file.
func newFileError(name string, err error) *fileError {
	e := &fileError{name: name, cause: err, what: reason(err)}
	if errors.Is(err, fs.ErrNotExist) {
		e.what = "no such file or folder"
	}
	return e
}

// reason strips the operation and the path that the system's errors carry, as
// the path may be that of a temporary folder.
func reason(err error) string {
	var (
		path *fs.PathError
		link *os.LinkError
	)
	switch {
	case errors.As(err, &path):
		return path.Err.Error()
	case errors.As(err, &link):
		return link.Err.Error()
	}
	return err.Error()
}

// complain writes the message of an error: what is wrong, then a hint with
// what to do where there is one.
func complain(w io.Writer, err error) {
	if err == nil {
		return
	}
	var (
		usage *usageError
		data  *dataError
		file  *fileError
		input *table.InputError
		inner *internalError
	)
	switch {
	case errors.As(err, &input):
		complainRows(w, input)
	case errors.As(err, &usage):
		say(w, "wintertop: ", usage.what, usage.hint)
	case errors.As(err, &data):
		say(w, "wintertop: ", data.what, data.hint)
	case errors.As(err, &file):
		say(w, "wintertop: ", file.Error(), file.hint)
	case errors.As(err, &inner):
		say(w, "wintertop: ", inner.Error(),
			"this is a fault of the program: please report it with the command and `wintertop --version`")
	case errors.Is(err, context.Canceled):
		say(w, "wintertop: ", errInterrupted.Error(), "")
	default:
		say(w, "wintertop: ", err.Error(), "")
	}
}

// complainRows writes one message a line, as the error lists them.
func complainRows(w io.Writer, err *table.InputError) {
	for line := range strings.Lines(err.Error()) {
		line = strings.TrimSuffix(line, "\n")
		if hint, ok := strings.CutPrefix(line, "hint: "); ok {
			say(w, "hint: ", hint, "")
		} else {
			say(w, "wintertop: ", line, "")
		}
	}
}

// report names what was seen in the input files and is no reason to stop;
// all says where every finding is to be read.
func report(w io.Writer, findings table.Findings, all string) {
	for i, f := range findings {
		if i == maxLines {
			fmt.Fprintf(w, "and %d more (%s)\n", len(findings)-maxLines, plain(all))
			return
		}
		kind := "note: "
		if f.Severity != table.Note {
			kind = "warning: "
		}
		say(w, kind, f.String(), f.Hint)
	}
}

func say(w io.Writer, kind, what, hint string) {
	fmt.Fprintf(w, "%s%s\n", kind, plain(what))
	if hint != "" {
		fmt.Fprintf(w, "hint: %s\n", plain(hint))
	}
}

// plain shows characters that would steer a terminal or turn the text around
// by their code, as input files can hold any.
func plain(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\n':
			b.WriteString(" ")
		case r == utf8.RuneError || unicode.IsPrint(r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "\\u%04x", r)
		}
	}
	return b.String()
}

// quote quotes a word of the command line, cut where it is very long.
func quote(s string) string {
	if runes := []rune(s); len(runes) > maxQuoted {
		s = string(runes[:maxQuoted]) + "…"
	}
	return `"` + s + `"`
}
