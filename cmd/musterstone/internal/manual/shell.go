package manual

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"
)

// Shells are the shells that Completion knows.
var Shells = []string{"bash", "zsh", "fish"}

// Completion writes the completion of a shell, to be read by it; ok is false for a shell that is not known.
func Completion(app *cli.App, shell string) (script string, ok bool) {
	switch shell {
	case "bash":
		return bash(app), true
	case "zsh":
		return zsh(app), true
	case "fish":
		return fish(app), true
	}
	return "", false
}

// quoted is a text as one word of a shell.
func quoted(s string) string { return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'" }

// bash writes a function for bash 3.2 and later. It calls nothing but bash's own compgen.
func bash(app *cli.App) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	name := app.Name
	var names []string
	for _, c := range commands(app) {
		names = append(names, c.Name)
	}
	for _, o := range global(app) {
		names = append(names, o.names...)
	}
	line("# completion of %s for bash; try it with: source <(%s completion bash)", name, name)
	line("_%s() {", name)
	line("\tlocal cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]} words= kind= word")
	line("\tCOMPREPLY=()")
	line("\tif [ \"$COMP_CWORD\" -eq 1 ]; then")
	line("\t\twords=%s", quoted(strings.Join(names, " ")))
	line("\telse")
	line("\t\tcase \"$command $prev\" in")
	for _, c := range commands(app) {
		for _, o := range options(c.Flags) {
			if o.value != "" {
				var cases []string
				for _, n := range o.names {
					cases = append(cases, quoted(c.Name+" "+n))
				}
				line("\t\t%s) %s ;;", strings.Join(cases, "|"), bashValue(o.value))
			}
		}
	}
	line("\t\t*)")
	line("\t\t\tcase $command in")
	for _, c := range commands(app) {
		var flags []string
		for _, o := range options(c.Flags) {
			flags = append(flags, o.names...)
		}
		line("\t\t\t%s)", c.Name)
		line("\t\t\t\tcase $cur in")
		line("\t\t\t\t-*) words=%s ;;", quoted(strings.Join(flags, " ")))
		line("\t\t\t\t*) %s ;;", bashValue(c.ArgsUsage))
		line("\t\t\t\tesac ;;")
	}
	line("\t\t\tesac ;;")
	line("\t\tesac")
	line("\tfi")
	line("\tcase $kind in")
	line("\tfolder) compopt -o filenames 2>/dev/null; while IFS= read -r word; do COMPREPLY+=(\"$word\"); done < <(compgen -d -- \"$cur\") ;;")
	line("\tfile) compopt -o filenames 2>/dev/null; while IFS= read -r word; do COMPREPLY+=(\"$word\"); done < <(compgen -f -- \"$cur\") ;;")
	line("\t*) while IFS= read -r word; do COMPREPLY+=(\"$word\"); done < <(compgen -W \"$words\" -- \"$cur\") ;;")
	line("\tesac")
	line("}")
	line("complete -F _%s %s", name, name)
	return b.String()
}

// bashValue sets what completes a value.
func bashValue(value string) string {
	switch words := choices(value); {
	case words != nil:
		return "words=" + quoted(strings.Join(words, " "))
	case value == "FOLDER":
		return "kind=folder"
	case value == "FILE":
		return "kind=file"
	}
	return ":"
}

// zsh writes a function for zsh's own completion system.
func zsh(app *cli.App) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	name := app.Name
	line("#compdef %s", name)
	line("# completion of %s for zsh; try it with: source <(%s completion zsh)", name, name)
	line("_%s() {", name)
	line("\tlocal context state state_descr line")
	line("\ttypeset -A opt_args")
	line("\t_arguments -C \\")
	for _, o := range global(app) {
		for _, n := range o.names {
			line("\t\t%s \\", quoted("(- *)"+n+"["+bracketed(o.usage)+"]"))
		}
	}
	line("\t\t'1:command:->command' '*::argument:->argument'")
	line("\tcase $state in")
	line("\tcommand)")
	line("\t\tlocal -a commands=(")
	for _, c := range commands(app) {
		line("\t\t\t%s", quoted(c.Name+":"+c.Usage))
	}
	line("\t\t)")
	line("\t\t_describe command commands ;;")
	line("\targument)")
	line("\t\tcase $line[1] in")
	for _, c := range commands(app) {
		line("\t\t%s) _arguments \\", c.Name)
		for _, o := range options(c.Flags) {
			for _, n := range o.names {
				spec := n + "[" + bracketed(o.usage) + "]"
				if o.value != "" {
					spec += ":" + strings.ReplaceAll(plainValue(o.value), ":", `\:`) + ":" + zshValue(o.value)
				}
				line("\t\t\t%s \\", quoted(spec))
			}
		}
		line("\t\t\t%s ;;", quoted("*:"+strings.ReplaceAll(plainValue(c.ArgsUsage), ":", `\:`)+":"+zshValue(c.ArgsUsage)))
	}
	line("\t\tesac ;;")
	line("\tesac")
	line("}")
	line("if [ \"$funcstack[1]\" = _%s ]; then _%s \"$@\"; else compdef _%s %s; fi", name, name, name, name)
	return b.String()
}

// bracketed is a text inside the brackets of a zsh specification.
func bracketed(s string) string {
	return strings.NewReplacer(`\`, `\\`, "[", `\[`, "]", `\]`, ":", `\:`).Replace(s)
}

func zshValue(value string) string {
	switch words := choices(value); {
	case words != nil:
		return "(" + strings.Join(words, " ") + ")"
	case value == "FOLDER":
		return "_directories"
	case value == "FILE":
		return "_files"
	}
	return " "
}

// plainValue is what a value is called where it is asked for.
func plainValue(value string) string {
	switch {
	case choices(value) != nil:
		return "one of"
	case value == "":
		return "nothing more"
	}
	return strings.ToLower(value)
}

// fish writes the rules of fish.
func fish(app *cli.App) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	name := app.Name
	line("# completion of %s for fish; try it with: %s completion fish | source", name, name)
	line("complete -c %s -f", name)
	for _, o := range global(app) {
		line("complete -c %s -n __fish_use_subcommand%s -d %s", name, fishNames(o), fishQuoted(o.usage))
	}
	for _, c := range commands(app) {
		line("complete -c %s -n __fish_use_subcommand -a %s -d %s", name, c.Name, fishQuoted(c.Usage))
	}
	for _, c := range commands(app) {
		when := fishQuoted("__fish_seen_subcommand_from " + c.Name)
		for _, o := range options(c.Flags) {
			take := ""
			if o.value != "" {
				take = " -x" + fishValue(o.value)
			}
			line("complete -c %s -n %s%s%s -d %s", name, when, fishNames(o), take, fishQuoted(o.usage))
		}
		if take := fishValue(c.ArgsUsage); take != "" {
			line("complete -c %s -n %s%s", name, when, take)
		}
	}
	return b.String()
}

func fishNames(o option) string {
	s := ""
	for _, n := range o.names {
		if long, ok := strings.CutPrefix(n, "--"); ok {
			s += " -l " + long
		} else {
			s += " -s " + strings.TrimPrefix(n, "-")
		}
	}
	return s
}

func fishValue(value string) string {
	switch words := choices(value); {
	case words != nil:
		return " -a " + fishQuoted(strings.Join(words, " "))
	case value == "FOLDER":
		return " -a '(__fish_complete_directories (commandline -ct))'"
	case value == "FILE":
		return " -a '(__fish_complete_path (commandline -ct))'"
	}
	return ""
}

// fishQuoted is a text as one word of fish, where a backslash inside quotes escapes itself and the quote mark.
func fishQuoted(s string) string {
	return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(s) + "'"
}
