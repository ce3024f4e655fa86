package manual

import (
	"slices"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"
)

// invented is a program of two commands and a hidden one, with all that a tree of commands may hold that a shell or a page could take for its own.
func invented() *cli.App {
	return &cli.App{
		Name: "sexton", Usage: "keeps a yard", UsageText: "sexton COMMAND", Version: "1", Description: "Line one.\n.line two",
		Flags: []cli.Flag{&cli.StringFlag{Name: "yard", Usage: "the `FOLDER` of the yard"}},
		Commands: []*cli.Command{
			{Name: "dig", Usage: "digs", UsageText: "sexton dig [--how slow|fast] FILE", ArgsUsage: "FILE",
				Description: "It digs,\nand goes on.\n\n  first\n  second\n\nExample: sexton dig --how fast it's.csv",
				Flags: []cli.Flag{
					&cli.StringFlag{Name: "how", Aliases: []string{"w"}, Usage: "dig `slow|fast`"},
					&cli.BoolFlag{Name: "deep", Usage: "dig the `gardener's' way"},
					&cli.BoolFlag{Name: "secret", Hidden: true},
				}},
			{Name: "rest", Usage: "rests", UsageText: "sexton rest", ArgsUsage: "oak|elm"},
			{Name: "ghost", Hidden: true},
		},
	}
}

func TestOptions(t *testing.T) {
	dig := invented().Commands[0]
	var got []string
	for _, o := range options(dig.Flags) {
		got = append(got, strings.Join(o.names, " ")+"|"+o.value+"|"+o.usage)
	}
	want := []string{"--how -w|slow|fast|dig slow|fast", "--deep||dig the `gardener's' way", "--help -h||show help"}
	if !slices.Equal(got, want) {
		t.Errorf("options\n%q, want\n%q", got, want)
	}
	if got := choices("slow|fast"); !slices.Equal(got, []string{"slow", "fast"}) || choices("FILE") != nil {
		t.Errorf("choices %q and %q", got, choices("FILE"))
	}
}

func TestExampleAndParagraphs(t *testing.T) {
	dig := invented().Commands[0]
	if got := Example(dig); got != "sexton dig --how fast it's.csv" {
		t.Errorf("example %q", got)
	}
	if got := paragraphs(dig); !slices.Equal(got, []string{"It digs, and goes on.", "  first\n  second"}) {
		t.Errorf("paragraphs %q", got)
	}
	if got := Example(invented().Commands[1]); got != "" {
		t.Errorf("example of a command without one: %q", got)
	}
}

// TestMan: what the tree says stands on the page, and nothing in it is taken for a request or an escape.
func TestMan(t *testing.T) {
	page := Man(invented())
	for _, want := range []string{".TH SEXTON 1", "Line one.\n.br\n\\&.line two", ".SS dig", `\fB\-\-how\fR \fIslow|fast\fR`, `it\(aqs.csv`, `\(gagardener\(aqs\(aq way`, ".TP\n.B 3\n"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, hidden := range []string{"ghost", "secret"} {
		if strings.Contains(page, hidden) {
			t.Errorf("the page tells of %q", hidden)
		}
	}
	if got, want := roffLine(`.a-b\c`), `\&.a\-b\ec`; got != want {
		t.Errorf("roffLine: %q, want %q", got, want)
	}
}

// TestCompletion: every shell is told of every command and option, and of no hidden one. What the shells make of it is tested with the shells themselves, beside
// the command.
func TestCompletion(t *testing.T) {
	for _, shell := range Shells {
		script, ok := Completion(invented(), shell)
		if !ok {
			t.Fatalf("no completion for %s", shell)
		}
		for _, want := range []string{"dig", "rest", "how", "deep", "slow", "fast", "oak", "elm", "yard"} {
			if !strings.Contains(script, want) {
				t.Errorf("%s is not told of %s", shell, want)
			}
		}
		for _, hidden := range []string{"ghost", "secret"} {
			if strings.Contains(script, hidden) {
				t.Errorf("%s is told of %s", shell, hidden)
			}
		}
	}
	if script, ok := Completion(invented(), "perl"); ok || script != "" {
		t.Errorf("completion for perl: %q", script)
	}
	if got, want := quoted("it's"), `'it'\''s'`; got != want {
		t.Errorf("quoted: %s, want %s", got, want)
	}
}
