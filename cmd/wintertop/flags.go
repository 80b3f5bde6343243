package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"wintertop/forecast"
	"wintertop/weather"
)

// asked is the command line, read and checked as far as it can be without the
// files.
type asked struct {
	command *command
	help    bool
	show    string // help or version text, which then is all that is wanted
	words   []string

	in    string
	named map[role]string // files named by their own flags

	units, dateOrder string
	asOf             weather.Date
	hasAsOf          bool
	since            weather.Date
	hasSince         bool
	detrend          bool
	verify           bool
	decision         string
	differ           forecast.Difference
	chance           float64
	bestOf           int
	winter           string
	crossing         crossing
	window           window

	all              bool
	out, format      string
	quiet, overwrite bool
	png              bool
}

// writes says whether the command's files will be written.
func (a *asked) writes() bool { return a.out != "" || a.command.scratch }

// monthDay is a day of the year.
type monthDay struct {
	month time.Month
	day   int
}

// window is a stretch of days that comes once a winter.
type window struct {
	from, to monthDay
	given    bool
}

// parse reads the command line: flags may stand before or after the command
// and its words.
func parse(args []string) (*asked, error) {
	a := &asked{named: map[role]string{}, format: "text"}
	all := a.flagSet(everyGroup)
	version := all.Bool("version", false, "print the version")
	all.SetInterspersed(false)
	if err := all.Parse(args); err != nil {
		return nil, flagError(err, all)
	}
	switch {
	case a.help && all.NArg() == 0, len(args) == 0:
		a.show = generalHelp()
		return a, nil
	case *version:
		a.show = versionText()
		return a, nil
	case all.NArg() == 0:
		return nil, &usageError{what: "no command is named", hint: "`wintertop help` lists the commands"}
	}
	name, rest := all.Arg(0), all.Args()[1:]
	before := args[:len(args)-all.NArg()]
	if n := len(before); n > 0 && before[n-1] == "--" {
		before = before[:n-1]
	}
	if name == "help" {
		return a, a.helpCommand(rest)
	}
	var err error
	if a.command, err = findCommand(name); err != nil {
		return nil, err
	}
	return a.parseCommand(append(slices.Clip(before), rest...))
}

// parseCommand reads the flags and words of a.command.
func (a *asked) parseCommand(args []string) (*asked, error) {
	c := a.command
	*a = asked{command: c, named: map[role]string{}, format: "text"}
	fs := a.flagSet(c.flags)
	if err := fs.Parse(args); err != nil {
		return nil, c.flagError(err, fs)
	}
	if a.help {
		a.show = c.help()
		return a, nil
	}
	a.words = fs.Args()
	switch want := len(strings.Fields(c.words)); {
	case len(a.words) > want:
		stray := a.words[want]
		hint := "`wintertop help " + c.name + "` shows what it takes"
		if stray == "true" || stray == "false" {
			hint = "a flag that is on or off takes no word after it: leave it out, or write --quiet=" + stray
		}
		return nil, &usageError{what: c.name + " does not take the word " + quote(stray), hint: hint}
	case len(a.words) < want:
		return nil, &usageError{what: c.name + " needs a " + c.words, hint: "for example: " + c.examples[0].line}
	}
	if c.show != nil {
		var err error
		a.show, err = c.show(a.words)
		return a, err
	}
	return a, a.checkNames(fs)
}

// checkNames refuses empty names and standard input named twice.
func (a *asked) checkNames(fs *pflag.FlagSet) (err error) {
	var stdin string
	fs.Visit(func(f *pflag.Flag) {
		switch {
		case err != nil:
		case f.Value.Type() == "string" && f.Value.String() == "":
			err = &usageError{what: "--" + f.Name + " names nothing", hint: "give it a name, or leave the flag out"}
		case (f.Name == "in" || f.Name == "out") && f.Value.String() == "-":
			err = &usageError{what: "--" + f.Name + " is a folder and cannot be standard input or output", hint: "name a folder"}
		case f.Value.Type() == "file" && f.Value.String() == "-" && stdin != "":
			err = &usageError{
				what: fmt.Sprintf("--%s and --%s both name standard input", stdin, f.Name),
				hint: "standard input can be read once: name a file for one of them",
			}
		case f.Value.Type() == "file" && f.Value.String() == "-":
			stdin = f.Name
		}
	})
	return err
}

// helpCommand is the command `help`.
func (a *asked) helpCommand(words []string) error {
	fs := a.flagSet(everyGroup)
	if err := fs.Parse(words); err != nil {
		return flagError(err, fs)
	}
	switch words = fs.Args(); len(words) {
	case 0:
		a.show = generalHelp()
		return nil
	case 1:
		if words[0] == "help" {
			a.show = generalHelp()
			return nil
		}
		c, err := findCommand(words[0])
		if err == nil {
			a.show = c.help()
		}
		return err
	}
	return &usageError{what: "help does not take the word " + quote(words[1]), hint: "name one command"}
}

// flagError is flagError for the flags of one command: a flag that only others
// take is not misspelt.
func (c *command) flagError(err error, fs *pflag.FlagSet) error {
	var unknown *pflag.NotExistError
	if errors.As(err, &unknown) && (&asked{}).flagSet(everyGroup).Lookup(unknown.GetSpecifiedName()) != nil {
		return &usageError{
			what: c.name + " does not take the flag --" + unknown.GetSpecifiedName(),
			hint: "`wintertop help " + c.name + "` lists its flags",
		}
	}
	return flagError(err, fs)
}

// flagError turns what the flag package says into a usage error with the
// nearest flag.
func flagError(err error, fs *pflag.FlagSet) error {
	var (
		unknown *pflag.NotExistError
		invalid *pflag.InvalidValueError
		missing *pflag.ValueRequiredError
	)
	switch {
	case errors.As(err, &unknown):
		written, name := "--"+unknown.GetSpecifiedName(), unknown.GetSpecifiedName()
		if short := unknown.GetSpecifiedShortnames(); short != "" {
			written, name = "-"+short, short
		}
		name, _, _ = strings.Cut(name, "=")
		var names []string
		fs.VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		return &usageError{what: "unknown flag " + quote(written), hint: "did you mean --" + nearest(name, names) + "?"}
	case errors.As(err, &invalid):
		var wrong *usageError
		if errors.As(err, &wrong) {
			return wrong
		}
		return &usageError{
			what: fmt.Sprintf("--%s %s cannot be read", invalid.GetFlag().Name, quote(invalid.GetValue())),
			hint: "leave it out, or write --" + invalid.GetFlag().Name + "=true or =false",
		}
	case errors.As(err, &missing):
		return &usageError{what: "--" + missing.GetFlag().Name + " needs a value after it", hint: missing.GetFlag().Usage}
	}
	return &usageError{what: err.Error(), hint: "`wintertop help` shows how a command line looks"}
}
