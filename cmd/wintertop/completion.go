package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"
)

func completionCommand() *command {
	return &command{
		name:  "completion",
		words: "SHELL",
		does:  "print a script that completes commands and flags in bash, zsh or fish",
		examples: []example{
			{"wintertop completion bash > wintertop.bash", "then: source wintertop.bash, from ~/.bashrc"},
			{"wintertop completion zsh > _wintertop", "in a folder of $fpath"},
			{"wintertop completion fish > wintertop.fish", "in ~/.config/fish/completions"},
		},
		show: func(words []string) (string, error) {
			switch words[0] {
			case "bash":
				return bashCompletion(), nil
			case "zsh":
				return zshCompletion(), nil
			case "fish":
				return fishCompletion(), nil
			}
			return "", &usageError{what: "no completion for the shell " + quote(words[0]), hint: "write bash, zsh or fish"}
		},
	}
}

// flagWord is a flag as a shell completes it.
type flagWord struct {
	name, does string
	values     []string // that it may take, where they can be listed
	file       bool     // its value is a file
	folder     bool     // its value is a folder
	alone      bool     // it takes no value
}

// flagWords gives the flags of a command in the order of its help.
func (c *command) flagWords() (words []flagWord) {
	(&asked{}).flagSet(c.flags).VisitAll(func(f *pflag.Flag) {
		kind, does := pflag.UnquoteUsage(f)
		w := flagWord{name: f.Name, does: does, file: f.Value.Type() == "file", folder: kind == "folder", alone: f.NoOptDefVal != ""}
		if strings.Contains(f.Value.Type(), "|") {
			w.values = strings.Split(f.Value.Type(), "|")
		}
		words = append(words, w)
	})
	return words
}

const helpDoes = "examples, files and flags of one command"

// commandNames gives the words that may stand first, help among them.
func commandNames() []string {
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return append(names, "help")
}

// bashCompletion works with bash 3.2 and later.
func bashCompletion() string {
	var b strings.Builder
	b.WriteString(`_wintertop() {
	local IFS=$'\n' cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} cmd= i
	local names="` + strings.Join(commandNames(), " ") + `" flags=
	COMPREPLY=()
	for ((i = 1; i < COMP_CWORD; i++)); do
		case " $names " in *" ${COMP_WORDS[i]} "*) cmd=${COMP_WORDS[i]}; break ;; esac
	done
	case $prev in
`)
	seen := map[string]bool{}
	for _, c := range commands() {
		for _, f := range c.flagWords() {
			if seen[f.name] || f.alone {
				continue
			}
			seen[f.name] = true
			answer := "return"
			switch {
			case f.file:
				answer = `COMPREPLY=($(compgen -f -- "$cur")); return`
			case f.folder:
				answer = `COMPREPLY=($(compgen -d -- "$cur")); return`
			case f.values != nil:
				answer = fmt.Sprintf(`COMPREPLY=($(IFS=' '; compgen -W "%s" -- "$cur")); return`, strings.Join(f.values, " "))
			}
			fmt.Fprintf(&b, "\t--%s) %s ;;\n", f.name, answer)
		}
	}
	b.WriteString("\tesac\n\tcase $cmd in\n\t\"\") COMPREPLY=($(IFS=' '; compgen -W \"$names --help --version\" -- \"$cur\")); return ;;\n")
	for _, c := range commands() {
		var flags []string
		for _, f := range c.flagWords() {
			flags = append(flags, "--"+f.name)
		}
		fmt.Fprintf(&b, "\t%s) flags=%q ;;\n", c.name, strings.Join(flags, " "))
	}
	b.WriteString("\thelp) flags=$names ;;\n\tesac\n")
	fmt.Fprintf(&b, "\t[ \"$cmd\" = completion ] && flags=\"bash zsh fish $flags\"\n")
	b.WriteString("\tCOMPREPLY=($(IFS=' '; compgen -W \"$flags\" -- \"$cur\"))\n}\ncomplete -o filenames -o default -F _wintertop wintertop\n")
	return b.String()
}

func zshCompletion() string {
	// quoted gives one word of a list of names or flags with what it does.
	quoted := func(word, does, after string) string {
		return "\t\t'" + word + strings.NewReplacer("'", `'\''`, "[", "(", "]", ")", ":", `\:`).Replace(does) + after + "'\n"
	}
	var b strings.Builder
	b.WriteString("#compdef wintertop\n\n_wintertop() {\n\tlocal -a names flags\n\tnames=(\n")
	for _, c := range commands() {
		b.WriteString(quoted(c.name+":", c.does, ""))
	}
	b.WriteString(quoted("help:", helpDoes, "") + "\t)\n")
	b.WriteString("\tlocal cmd=${words[2,CURRENT-1][(r)(" + strings.Join(commandNames(), "|") + ")]}\n\tcase $cmd in\n")
	b.WriteString("\t''|help) _describe command names; return ;;\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "\t%s) flags=(\n", c.name)
		for _, f := range c.flagWords() {
			takes := "]:value: "
			switch {
			case f.alone:
				takes = "]"
			case f.file:
				takes = "]:file:_files"
			case f.folder:
				takes = "]:folder:_files -/"
			case f.values != nil:
				takes = "]:value:(" + strings.Join(f.values, " ") + ")"
			}
			b.WriteString(quoted("--"+f.name+"[", f.does, takes))
		}
		b.WriteString("\t) ;;\n")
	}
	b.WriteString(`	esac
	case $cmd in
	completion) _arguments '*:shell:(completion bash zsh fish)' $flags ;;
	*) _arguments '*:folder:_files -/' $flags ;;
	esac
}

if [[ $funcstack[1] == _wintertop ]]; then
	_wintertop "$@"
else
	compdef _wintertop wintertop
fi
`)
	return b.String()
}

func fishCompletion() string {
	quoted := func(s string) string {
		return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(s) + "'"
	}
	var b strings.Builder
	names := strings.Join(commandNames(), " ")
	b.WriteString("complete -c wintertop -f\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "complete -c wintertop -n 'not __fish_seen_subcommand_from %s' -a %s -d %s\n", names, c.name, quoted(c.does))
	}
	fmt.Fprintf(&b, "complete -c wintertop -n 'not __fish_seen_subcommand_from %s' -a help -d %s\n", names, quoted(helpDoes))
	fmt.Fprintf(&b, "complete -c wintertop -n '__fish_seen_subcommand_from help' -a %s\n", quoted(names))
	b.WriteString("complete -c wintertop -n '__fish_seen_subcommand_from completion' -a 'bash zsh fish'\n")
	for _, c := range commands() {
		for _, f := range c.flagWords() {
			takes := " -x"
			switch {
			case f.alone:
				takes = ""
			case f.file:
				takes = " -r -F"
			case f.folder:
				takes = " -x -a '(__fish_complete_directories)'"
			case f.values != nil:
				takes = " -x -a " + quoted(strings.Join(f.values, " "))
			}
			fmt.Fprintf(&b, "complete -c wintertop -n '__fish_seen_subcommand_from %s' -l %s%s -d %s\n", c.name, f.name, takes, quoted(f.does))
		}
	}
	return b.String()
}
