package main

import (
	"context"
	"strings"

	"wintertop/weather/table"
)

// command is one entry of the list from which the help, the flags, the check
// of the command line and the nearest word of a mistaken one all come.
type command struct {
	name     string
	does     string
	words    string // what stands after the name besides flags
	examples []example
	more     string
	files    []string // written under --out
	scratch  bool     // without --out they go to a new temporary folder
	flags    flagGroup
	run      func(context.Context, *job) (*outcome, error)
	show     func(words []string) (string, error) // in place of run: text that needs no files
}

type example struct{ line, does string }

// commands lists every command in the order of a first day's work.
func commands() []*command {
	return []*command{
		demoCommand(), startCommand(), stationCommand(), eventsCommand(), seasonCommand(),
		learnCommand(), pickCommand(), orderCommand(), sowCommand(), nextCommand(), crossCommand(), trialCommand(), verifyCommand(),
		reportCommand(), constantsCommand(), completionCommand(),
	}
}

// findCommand gives the command of that name, or a usage error with the
// nearest name.
func findCommand(name string) (*command, error) {
	var names []string
	for _, c := range commands() {
		if c.name == name {
			return c, nil
		}
		names = append(names, c.name)
	}
	return nil, &usageError{
		what: "unknown command " + quote(name),
		hint: "did you mean " + nearest(name, append(names, "help")) + "? `wintertop help` lists them all",
	}
}

// nearest gives the word of the list that is least unlike the word.
func nearest(word string, list []string) string {
	best, _ := table.Nearest(strings.ToLower(word), list)
	return best
}
