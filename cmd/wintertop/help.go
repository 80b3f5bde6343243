package main

import (
	"fmt"
	"runtime/debug"
	"strings"
	"text/tabwriter"
)

// generalHelp is what the program prints when nothing or help is asked for.
func generalHelp() string {
	var b strings.Builder
	b.WriteString("wintertop says how much of their tops overwintered root crops will keep, and which\nlines the lifting belts can still pull in late winter.\n\nExamples:\n")
	columns(&b, func(w *tabwriter.Writer) {
		for _, e := range generalExamples() {
			fmt.Fprintf(w, "  %s\t%s\n", e.line, e.does)
		}
	})
	b.WriteString("\nCommands:\n")
	columns(&b, func(w *tabwriter.Writer) {
		for _, c := range commands() {
			fmt.Fprintf(w, "  %s\t%s\n", strings.TrimSpace(c.name+" "+c.words), c.does)
		}
		fmt.Fprintf(w, "  help COMMAND\t%s\n", helpDoes)
	})
	b.WriteString("\nFlags of most commands, before or after the command:\n")
	flags := (&asked{}).flagSet(trialFlags | outFlags)
	flags.Bool("version", false, "print the version")
	b.WriteString(flags.FlagUsages())
	b.WriteString("\nExit status: 0 done, 1 could not, 2 wrong command line, 3 wrong input data.\n")
	return b.String()
}

// generalExamples are a first day's work.
func generalExamples() []example {
	return []example{
		{"wintertop demo", "the whole job on the built-in example, no files needed"},
		{"wintertop start my-trial", "a trial folder to fill in"},
		{"wintertop pick --in my-trial", "which lines to lift when"},
		{"wintertop report --in my-trial --out page", "one page with all of it"},
	}
}

// help is the help of one command.
func (c *command) help() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n\nExamples:\n", strings.TrimSpace("wintertop "+c.name+" "+c.words), c.does)
	columns(&b, func(w *tabwriter.Writer) {
		for _, e := range c.examples {
			fmt.Fprintf(w, "  %s\t%s\n", e.line, e.does)
		}
	})
	if c.more != "" {
		fmt.Fprintf(&b, "\n%s\n", c.more)
	}
	if len(c.files) > 0 {
		fmt.Fprintf(&b, "\nFiles written: %s\n", strings.Join(c.files, ", "))
	}
	b.WriteString("\nFlags:\n")
	b.WriteString((&asked{}).flagSet(c.flags).FlagUsages())
	return b.String()
}

// columns sets tab-separated rows in columns.
func columns(b *strings.Builder, rows func(*tabwriter.Writer)) {
	w := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	rows(w)
	w.Flush()
}

// version gives the version that the build recorded.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok {
		return info.Main.Version
	}
	return "unknown"
}

// versionText tells from the build's own record what this program is.
func versionText() string {
	text := "wintertop " + version()
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision":
				text += ", revision " + s.Value
			case s.Key == "vcs.modified" && s.Value == "true":
				text += ", modified"
			}
		}
		text += ", " + info.GoVersion
	}
	return text + "\n"
}
