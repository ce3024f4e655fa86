package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
)

// session is a command of the README with the output that it shows.
type session struct {
	line    int
	command string
	want    []string
}

// sessions finds the indented blocks of a Markdown text whose lines begin with "$ ".
func sessions(text string) []session {
	var out []session
	open := false
	for i, line := range strings.Split(text, "\n") {
		rest, indented := strings.CutPrefix(line, "    ")
		switch command, ok := strings.CutPrefix(rest, "$ "); {
		case indented && ok:
			out = append(out, session{line: i + 1, command: command})
			open = true
		case indented && open:
			s := &out[len(out)-1]
			s.want = append(s.want, rest)
		case line == "" && open:
			s := &out[len(out)-1]
			s.want = append(s.want, "")
		default:
			open = false
		}
	}
	for i := range out {
		for n := len(out[i].want); n > 0 && out[i].want[n-1] == ""; n-- {
			out[i].want = out[i].want[:n-1]
		}
	}
	return out
}

// words splits a command line at blanks, quotes aside.
func words(line string) []string {
	var out []string
	var word strings.Builder
	quote, some := rune(0), false
	for _, r := range line + " " {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote != 0:
			word.WriteRune(r)
		case r == '\'' || r == '"':
			quote, some = r, true
		case r == ' ':
			if some {
				out = append(out, word.String())
				word.Reset()
				some = false
			}
		default:
			word.WriteRune(r)
			some = true
		}
	}
	return out
}

// shows reports whether the lines of an output are as wanted, a line "…" standing for any number of lines.
func shows(got, want []string) bool {
	if len(want) == 0 {
		return len(got) == 0
	}
	if want[0] == "…" {
		for i := 0; i <= len(got); i++ {
			if shows(got[i:], want[1:]) {
				return true
			}
		}
		return false
	}
	return len(got) > 0 && strings.TrimRight(got[0], " ") == strings.TrimRight(want[0], " ") && shows(got[1:], want[1:])
}

// TestReadme runs the sessions of the README, in their order, and compares what they print.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	all := sessions(string(text))
	if len(all) < 6 {
		t.Fatalf("found only %d sessions in the README", len(all))
	}
	t.Chdir(t.TempDir())
	for _, s := range all {
		in := ""
		command := s.command
		if before, after, ok := strings.Cut(command, " | "); ok {
			in = strings.Join(words(before)[1:], " ") + "\n" // echo
			command = after
		}
		var out, errs bytes.Buffer
		if code := run(context.Background(), words(command), strings.NewReader(in), &out, &errs); code != 0 {
			t.Errorf("README.md:%d: %s ended with status %d: %s", s.line, command, code, errs.String())
		}
		got := strings.Split(strings.TrimRight(out.String(), "\n"), "\n")
		if !shows(got, s.want) {
			t.Errorf("README.md:%d: %s printed\n%s", s.line, command, out.String())
		}
	}
}

func TestShows(t *testing.T) {
	tests := []struct {
		got, want string
		ok        bool
	}{
		{"a\nb\nc", "a\n…", true},
		{"a\nb\nc", "…\nb\n…", true},
		{"a\nb\nc", "…\nd\n…", false},
		{"a\nb", "a", false},
		{"a", "a", true},
	}
	for _, tt := range tests {
		if got := shows(strings.Split(tt.got, "\n"), strings.Split(tt.want, "\n")); got != tt.ok {
			t.Errorf("shows(%q, %q) = %v", tt.got, tt.want, got)
		}
	}
}
