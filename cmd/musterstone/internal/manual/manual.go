// Package manual writes what a system keeps about a program, from the program's own tree of commands: completions for the shells bash, zsh and fish, and a
// man page. The help that the program prints comes from the same tree, so that the three say the same.
//
// Of each command it reads Name, Usage, UsageText, Description, Flags and ArgsUsage. The last says what the arguments are: FOLDER, FILE, words to choose from
// parted by "|", or anything else, for which no completion is offered. The same holds for the `WORD` in backticks in the usage of an option.
package manual

import (
	"strings"

	"github.com/urfave/cli/v2"
)

// option is an option of a command.
type option struct {
	names []string // as typed: --survey, -h
	value string   // what its value is; "" where it takes none
	usage string   // without backticks
}

// options are those of a command, its help among them.
func options(flags []cli.Flag) []option {
	var out []option
	for _, f := range flags {
		d, ok := f.(cli.DocGenerationFlag)
		if v, hidden := f.(cli.VisibleFlag); !ok || hidden && !v.IsVisible() {
			continue
		}
		if name := f.Names()[0]; name == "help" || name == "version" {
			continue // added by the library, once a command has run
		}
		o := option{usage: d.GetUsage()}
		for _, n := range f.Names() {
			if len(n) == 1 {
				o.names = append(o.names, "-"+n)
			} else {
				o.names = append(o.names, "--"+n)
			}
		}
		if d.TakesValue() {
			o.value = "VALUE"
			if before, rest, found := strings.Cut(o.usage, "`"); found {
				value, after, _ := strings.Cut(rest, "`")
				o.value, o.usage = value, before+value+after
			}
		}
		out = append(out, o)
	}
	return append(out, option{names: []string{"--help", "-h"}, usage: "show help"})
}

// commands are those that help lists.
func commands(app *cli.App) []*cli.Command {
	var out []*cli.Command
	for _, c := range app.Commands {
		if !c.Hidden && c.Name != "help" {
			out = append(out, c)
		}
	}
	return out
}

// global are the options before any command.
func global(app *cli.App) []option {
	return append(options(app.Flags), option{names: []string{"--version", "-v"}, usage: "print the version"})
}

// choices are the words that a value is one of, if it is.
func choices(value string) []string {
	if !strings.Contains(value, "|") {
		return nil
	}
	return strings.Split(value, "|")
}

// Example is the worked example at the end of a command's description; "" where it has none.
func Example(c *cli.Command) string {
	_, example, _ := strings.Cut(c.Description, "\n\nExample: ")
	return example
}

// paragraphs parts a description, its example left out, at its empty lines; lines of a paragraph are joined. A paragraph that lists
// something, its lines beginning with an option or with blanks, is kept line by line.
func paragraphs(c *cli.Command) []string {
	text, _, _ := strings.Cut(c.Description, "\n\nExample: ")
	var out []string
	for _, p := range strings.Split(text, "\n\n") {
		if strings.HasPrefix(p, "--") && strings.Contains(p, "\n--") || strings.HasPrefix(p, "  ") {
			out = append(out, p)
			continue
		}
		out = append(out, strings.Join(strings.Fields(p), " "))
	}
	return out
}
