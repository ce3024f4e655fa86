package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/cmd/musterstone/internal/demo"
	"musterstone/cmd/musterstone/internal/manual"
	"musterstone/index/intake"
	"musterstone/link/ledger"
)

// TestExamples runs the example of each command's help on the invented survey.
func TestExamples(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	a := &app{}
	for _, c := range a.cli().Commands {
		example := manual.Example(c)
		if example == "" || strings.Contains(example, "\n") {
			t.Errorf("%s has no example of one line: %q", c.Name, example)
			continue
		}
		t.Run(c.Name, func(t *testing.T) {
			layForExample(t, c.Name)
			in, command := "", example
			if before, after, ok := strings.Cut(example, " | "); ok {
				in, command = strings.Join(words(before)[1:], " ")+"\n", after // echo
			}
			ctx, cancel := context.WithCancel(context.Background())
			defer cancel()
			var out bytes.Buffer
			errs := untilSaid{text: "the review desk is open", do: cancel} // which serves until it is told to stop
			code := run(ctx, words(command), strings.NewReader(in), &out, &errs)
			if code != exitDone {
				t.Errorf("%s\nended with status %d\n%s", example, code, errs.String())
			}
			if out.Len() == 0 && c.Name != "review" {
				t.Errorf("%s\nprinted nothing", example)
			}
			if strings.Contains(out.String(), "nothing found") {
				t.Errorf("%s\nfinds nothing to show", example)
			}
		})
	}
}

// untilSaid takes what a program says, and does something once the text is in it.
type untilSaid struct {
	bytes.Buffer
	text string
	do   func()
}

func (u *untilSaid) Write(b []byte) (int, error) {
	n, err := u.Buffer.Write(b)
	if strings.Contains(u.String(), u.text) {
		u.do()
	}
	return n, err
}

// layForExample puts into the working folder what the example of a command speaks of.
func layForExample(t *testing.T, command string) {
	t.Helper()
	for _, old := range []string{"alder", "alder-1998", "alder-2025", "our-survey", "ann", "bob"} {
		if err := os.RemoveAll(old); err != nil {
			t.Fatal(err)
		}
	}
	lay := func(dir string) {
		if err := demo.Lay(dir); err != nil {
			t.Fatal(err)
		}
	}
	switch command {
	case "demo":
	case "changes":
		lay("alder-1998")
		lay("alder-2025")
	case "begin":
		lay("our-survey")
		if err := os.Remove(filepath.Join("our-survey", intake.MetadataFile)); err != nil {
			t.Fatal(err)
		}
	case "merge":
		lay("alder")
		for _, who := range []string{"ann", "bob"} {
			if err := os.Mkdir(who, 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(who, ledger.FileName), nil, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	default:
		lay("alder")
	}
}

// completions are the cases that each shell is asked: what stands on the line, and some of what must be offered, or all of it.
var completions = []struct {
	line []string
	some []string
	all  bool
}{
	{line: []string{"pro"}, some: []string{"propose"}, all: true},
	{line: []string{"de"}, some: []string{"decide", "demo"}, all: true},
	{line: []string{"propose", "--pre"}, some: []string{"--precision"}, all: true},
	{line: []string{"find", "--kind", ""}, some: []string{"record", "stone"}, all: true},
	{line: []string{"decide", "--as", "un"}, some: []string{"unsure"}, all: true},
	{line: []string{"completion", ""}, some: []string{"bash", "fish", "zsh"}, all: true},
	{line: []string{"propose", "--survey", "our "}, some: []string{"our survey"}},
	{line: []string{"assess", "our"}, some: []string{"our survey", "our.csv"}},
}

func completionFolder(t *testing.T) string {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "our survey"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "our.csv"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// offered checks what a shell offers against a case.
func offered(t *testing.T, line, got []string, i int) {
	t.Helper()
	for n := range got {
		got[n] = strings.TrimSuffix(got[n], "/")
	}
	slices.Sort(got)
	want := completions[i]
	if want.all && !slices.Equal(got, want.some) {
		t.Errorf("%q: offered %q, want %q", line, got, want.some)
	}
	for _, w := range want.some {
		if !slices.Contains(got, w) {
			t.Errorf("%q: offered %q, want %q among it", line, got, w)
		}
	}
}

func TestCompletionInBash(t *testing.T) {
	bash := outside(t, "bash")
	script, dir := command(t, "completion", "bash"), completionFolder(t)
	for i, c := range completions {
		ask := script + "\nCOMP_WORDS=(musterstone \"$@\"); COMP_CWORD=$#; _musterstone; printf '%s\\n' \"${COMPREPLY[@]}\"\n"
		cmd := exec.Command(bash, append([]string{"--norc", "-uc", ask, "bash"}, c.line...)...)
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Errorf("%q: %v: %s", c.line, err, out)
			continue
		}
		offered(t, c.line, strings.Split(strings.TrimSpace(string(out)), "\n"), i)
	}
}

func TestCompletionInFish(t *testing.T) {
	fish := outside(t, "fish")
	dir := completionFolder(t)
	file := filepath.Join(dir, "completion.fish")
	if err := os.WriteFile(file, []byte(command(t, "completion", "fish")), 0o644); err != nil {
		t.Fatal(err)
	}
	for i, c := range completions {
		line := "musterstone"
		for _, w := range c.line {
			line += " " + strings.ReplaceAll(w, " ", `\ `)
		}
		cmd := exec.Command(fish, "--no-config", "-c", "source $argv[1]; complete --do-complete $argv[2]", file, line)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "HOME="+dir)
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Errorf("%q: %v: %s", line, err, out)
			continue
		}
		var got []string
		for _, l := range strings.Split(strings.TrimSpace(string(out)), "\n") {
			word, _, _ := strings.Cut(l, "\t")
			got = append(got, word)
		}
		offered(t, c.line, got, i)
	}
}

// zshAsk lists what zsh would offer, by a terminal that zsh itself makes: each match is printed between marks in place of being shown.
const zshAsk = `
zmodload zsh/zpty
zpty asked zsh -f -i
ask() { zpty -w asked "$1" }
ask 'PROMPT=; fpath=(. $fpath); autoload -Uz compinit; compinit -u -D; source ./completion.zsh'
ask 'compadd() { local -a o; [[ ${@[(I)-O]} -gt 0 || ${@[(I)-A]} -gt 0 || ${@[(I)-D]} -gt 0 ]] && { builtin compadd "$@"; return }; builtin compadd -O o "$@"; local m; for m in $o; do print -r -- "<<$m>>"; done; builtin compadd "$@" }'
ask 'ending() { print -r -- "<<""end"">>" }; zle -N ending; bindkey "^X" ending; print ready""now'
zpty -r asked line '*readynow*'
zpty -w -n asked "$1"$'\t\x18'
zpty -r asked line '*<<end>>*'
print -r -- "$line"
`

func TestCompletionInZsh(t *testing.T) {
	zsh := outside(t, "zsh")
	dir := completionFolder(t)
	if err := os.WriteFile(filepath.Join(dir, "completion.zsh"), []byte(command(t, "completion", "zsh")), 0o644); err != nil {
		t.Fatal(err)
	}
	for i, c := range completions {
		line := "musterstone"
		for _, w := range c.line {
			line += " " + strings.ReplaceAll(w, " ", `\ `)
		}
		ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
		cmd := exec.CommandContext(ctx, zsh, "-f", "-c", zshAsk, "zsh", line)
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		cancel()
		if err != nil {
			t.Errorf("%q: %v: %s", line, err, out)
			continue
		}
		var got []string
		for _, part := range strings.Split(string(out), "<<")[1:] {
			if word, _, ok := strings.Cut(part, ">>"); ok && word != "end" {
				if word = strings.ReplaceAll(word, `\ `, " "); !slices.Contains(got, word) {
					got = append(got, word)
				}
			}
		}
		offered(t, c.line, got, i)
	}
}

// TestManPage has the man page read by the programs that show it.
func TestManPage(t *testing.T) {
	page := command(t, "man")
	for _, c := range (&app{}).cli().Commands {
		if !strings.Contains(page, "\n.SS "+c.Name+"\n") {
			t.Errorf("the page has no part on %s", c.Name)
		}
	}
	mandoc := outside(t, "mandoc")
	cmd := exec.Command(mandoc, "-Tlint", "-W", "warning")
	cmd.Stdin = strings.NewReader(page)
	out, _ := cmd.CombinedOutput()
	for _, l := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		if l != "" && !strings.Contains(l, "missing date") {
			t.Errorf("mandoc: %s", l)
		}
	}
	cmd = exec.Command(mandoc, "-Tutf8")
	cmd.Stdin = strings.NewReader(page)
	shown, err := cmd.Output()
	if err != nil || !bytes.Contains(shown, []byte("musterstone propose --survey alder")) || bytes.Contains(shown, []byte(`\&`)) {
		t.Errorf("mandoc: %v", err)
	}
}
