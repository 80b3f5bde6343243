package table

import (
	"fmt"
	"strings"
)

// Severity says how bad a Finding is.
type Severity int

const (
	Note    Severity = iota // told for completeness, nothing to do
	Warning                 // something was changed or left out
	Fault                   // the file cannot be used as it is
)

// String gives "note", "warning" or "fault".
func (s Severity) String() string {
	return [...]string{"note", "warning", "fault"}[s]
}

// Finding is one thing seen in an input file. Line counts from 1; 0 means the
// file as a whole. Date is ISO text or "". TreatedAs says what was done with
// the value: "missing", "0", "filled", "kept", "ignored", "sorted" or "refused".
type Finding struct {
	File                string
	Line                int
	Date, Column, Value string
	What, TreatedAs     string
	Hint                string
	Severity            Severity
}

// String gives "FILE:LINE: what", without the hint.
func (f Finding) String() string {
	if f.Line == 0 {
		return f.File + ": " + f.What
	}
	return fmt.Sprintf("%s:%d: %s", f.File, f.Line, f.What)
}

// Findings are in the order in which they were seen.
type Findings []Finding

// Err gives nil where there is no fault, else an *InputError with all faults.
func (f Findings) Err() error {
	var faults Findings
	for _, finding := range f {
		if finding.Severity == Fault {
			faults = append(faults, finding)
		}
	}
	if faults == nil {
		return nil
	}
	return &InputError{faults}
}

// InputError holds the faults that keep a file from being used.
type InputError struct{ Faults Findings }

// shownFaults is how many bad rows one message lists.
const shownFaults = 20

// Error lists up to 20 faults, one "FILE:LINE: what" a line, each followed by
// its hint where that differs from the one before, then "and N more".
func (e *InputError) Error() string {
	var b strings.Builder
	for i, f := range e.Faults {
		if i == shownFaults {
			fmt.Fprintf(&b, "\nand %d more", len(e.Faults)-i)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(f.String())
		next := i + 1
		if f.Hint != "" && (next == len(e.Faults) || next == shownFaults || e.Faults[next].Hint != f.Hint) {
			b.WriteString("\nhint: " + f.Hint)
		}
	}
	return b.String()
}

// quotedLength is the most characters of input that a message repeats.
const quotedLength = 200

// Quote puts a piece of input into quotation marks for a message, control
// characters escaped, cut at 200 characters.
func Quote(s string) string {
	if short := Cut(s); len(short) < len(s) {
		return fmt.Sprintf("%q…", short)
	}
	return fmt.Sprintf("%q", s)
}

// Cut gives at most the first 200 characters of s.
func Cut(s string) string {
	count := 0
	for i := range s {
		if count == quotedLength {
			return s[:i]
		}
		count++
	}
	return s
}
