package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"
)

// await runs work to its end, or leaves it behind once ctx is cancelled: work
// may be waiting for standard input or for a reader of standard output, which
// no context ends. Work itself must write no file. A panic comes back as an
// error. On a terminal the seconds are shown once the first has passed.
func await[T any](ctx context.Context, stderr io.Writer, work func() (T, error)) (T, error) {
	type ended struct {
		value T
		err   error
	}
	done := make(chan ended, 1)
	go func() {
		defer func() {
			if v := recover(); v != nil {
				done <- ended{err: &internalError{v}}
			}
		}()
		value, err := work()
		done <- ended{value, err}
	}()
	second := time.NewTicker(time.Second)
	defer second.Stop()
	screen := isTerminal(stderr)
	defer func() {
		if screen {
			fmt.Fprint(stderr, "\r\x1b[K")
		}
	}()
	for seconds := 1; ; seconds++ {
		select {
		case e := <-done:
			if ctx.Err() != nil {
				return e.value, errInterrupted
			}
			return e.value, e.err
		case <-ctx.Done():
			var none T
			return none, errInterrupted
		case <-second.C:
			if screen {
				fmt.Fprintf(stderr, "\rworking, %d s", seconds)
			}
		}
	}
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
