// Wintertop forecasts how much of their tops overwintered root crops keep, and
// which lines the lifting belts can still pull in late winter.
//
// One file per command holds what that command computes and shows; command.go
// holds the one list of commands, flags.go the flags, input.go the files read,
// output.go the files written, message.go all that is said on standard error.
package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"syscall"

	"wintertop/weather/table"
)

// streams are the three standard streams of one run.
type streams struct {
	in  io.Reader
	out io.Writer
	err io.Writer
}

func main() {
	stops := []os.Signal{os.Interrupt, syscall.SIGTERM}
	// A run that nohup started goes on when its terminal closes.
	if !signal.Ignored(syscall.SIGHUP) {
		stops = append(stops, syscall.SIGHUP)
	}
	ctx, stop := signal.NotifyContext(context.Background(), stops...)
	defer stop()
	// A closed pipe then comes back as an error of Write, and ends in exit 0.
	signal.Ignore(syscall.SIGPIPE)
	err := run(ctx, os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr})
	complain(os.Stderr, err)
	os.Exit(exitCode(err))
}

// run does what the arguments after the program's name ask for. It returns nil
// when all was done, also when the reader of standard output left early.
func run(ctx context.Context, args []string, s streams) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = &internalError{v}
		}
	}()
	a, err := parse(args)
	if err != nil {
		return err
	}
	if a.show != "" {
		_, err := io.WriteString(s.out, a.show)
		return quietPipe(err)
	}
	o, err := a.answer(ctx, s)
	if err != nil {
		return err
	}
	return deliver(ctx, a, o, s, realDisk{})
}

// answer runs the command asked for; nothing is printed or written yet.
func (a *asked) answer(ctx context.Context, s streams) (*outcome, error) {
	return await(ctx, s.err, func() (*outcome, error) {
		j := &job{asked: a, inputs: newInputs(s.in, a)}
		o, err := a.command.run(ctx, j)
		if err == nil {
			o.inputs = j.inputs.opened()
			o.addFindings()
		}
		return o, err
	})
}

// The exit statuses of the program.
const (
	exitDone = iota
	exitCouldNot
	exitCommandLine
	exitInput
)

// exitCode gives the exit status for what run returned: 0 done, 1 could not,
// 2 wrong command line, 3 wrong input data.
func exitCode(err error) int {
	var (
		usage *usageError
		input *table.InputError
		data  *dataError
	)
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &usage):
		return exitCommandLine
	case errors.As(err, &input), errors.As(err, &data):
		return exitInput
	}
	return exitCouldNot
}
