package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
	"testing"

	"musterstone/cmd/musterstone/internal/demo"
	"musterstone/cmd/musterstone/internal/job"
	"musterstone/model"
)

func TestReport(t *testing.T) {
	tests := []struct {
		err  error
		code int
		says string
	}{
		{nil, 0, ""},
		{errors.New("open index: broken"), 1, "musterstone: open index: broken"},
		{&usageError{text: "no such thing", hint: "type this"}, 2, "type this"},
		{fmt.Errorf("open: %w", &job.Refused{Text: "the file is empty"}), 2, "the file is empty"},
		{fmt.Errorf("append: %w", syscall.ENOSPC), 2, "does not take what is to be written"},
		{&fs.PathError{Op: "open", Path: "decisions.jsonl", Err: syscall.EROFS}, 2, "read-only"},
		{&fs.PathError{Op: "mkdir", Path: "stones.csv/out", Err: syscall.ENOTDIR}, 2, "not a directory"},
		{&fs.PathError{Op: "open", Path: "decisions.jsonl", Err: syscall.EACCES}, 2, "untouched"},
		{fmt.Errorf("index: %w", context.Canceled), 1, "stopped"},
		{errProblems, 3, ""},
	}
	for _, tt := range tests {
		var errs bytes.Buffer
		a := &app{err: &errs}
		if code := a.report(tt.err); code != tt.code {
			t.Errorf("%v: status %d, want %d", tt.err, code, tt.code)
		}
		if !strings.Contains(errs.String(), tt.says) || tt.says == "" && errs.Len() > 0 {
			t.Errorf("%v: says %q, want %q in it", tt.err, errs.String(), tt.says)
		}
	}
}

func TestStatus(t *testing.T) {
	cell := model.Complaint{File: "a.csv", Row: 2, Column: "age", Text: "odd"}
	row := model.Complaint{File: "a.csv", Row: 2, Text: "the id was given before", Fatal: true}
	damaged := model.Complaint{File: "a.csv", Row: 2, Text: "holds NUL bytes", Damaged: true}
	file := model.Complaint{File: "a.csv", Text: "is empty", Fatal: true}
	tests := []struct {
		complaints []model.Complaint
		strict     bool
		want       int
	}{
		{nil, true, 0},
		{[]model.Complaint{cell}, false, 0},
		{[]model.Complaint{cell}, true, 3},
		{[]model.Complaint{row}, false, 3},
		{[]model.Complaint{row, damaged}, false, 2},
		{[]model.Complaint{cell, file}, true, 2},
	}
	for _, tt := range tests {
		var errs bytes.Buffer
		if got := (&app{err: &errs}).report(status(tt.complaints, tt.strict)); got != tt.want {
			t.Errorf("%v, strict %v: status %d, want %d", tt.complaints, tt.strict, got, tt.want)
		}
	}
}

// TestPlain: what a file says cannot move the cursor, change colours or turn the direction of writing.
func TestPlain(t *testing.T) {
	tests := []struct{ in, want string }{
		{"Smith", "Smith"},
		{"Ole Øien", "Ole Øien"},
		{"a\x1b[31mred", `a\u001b[31mred`},
		{"a\u202eb", `a\u202eb`},
		{"two\nlines", `two\u000alines`},
		{"a\u200fb\u061cc\u2028d", `a\u200fb\u061cc\u2028d`},
		{"bell\a", `bell\u0007`},
	}
	for _, tt := range tests {
		if got := plain(tt.in); got != tt.want {
			t.Errorf("plain(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

// TestWrongCalls: a wrong call is told in the program's words, with the command to look at.
func TestWrongCalls(t *testing.T) {
	for _, tt := range []struct {
		args []string
		says string
	}{
		{[]string{"propose", "--presision", "1"}, "there is no option --presision\nsee: musterstone propose --help"},
		{[]string{"--nothing"}, "there is no option --nothing\nsee: musterstone --help"},
		{[]string{"find", "--limit"}, "the option --limit wants a value after it"},
		{[]string{"find", "--limit", "many", "smith"}, `the option --limit does not take "many"`},
		{[]string{"find", "--limit", "0", "smith"}, "for example: musterstone find --limit 100 smith"},
		{[]string{"propose", "--csv", "--json"}, "--csv and --json exclude each other\nfor example: musterstone propose --csv"},
		{[]string{"check", "--json=perhaps"}, `the option --json is true or false, and not "perhaps"`},
		{[]string{"completion"}, "for example: musterstone completion bash"},
		{[]string{"completion", "tcsh"}, "completion wants the name of a shell: bash, zsh, fish"},
		{[]string{"man", "read"}, `man takes no arguments, but was given "read"`},
	} {
		var out, errs bytes.Buffer
		code := run(context.Background(), append([]string{"musterstone"}, tt.args...), strings.NewReader(""), &out, &errs)
		if code != exitWrong || !strings.Contains(errs.String(), tt.says) || out.Len() > 0 {
			t.Errorf("%q: status %d, says %q, want %q in it; printed %q", tt.args, code, errs.String(), tt.says, out.String())
		}
	}
}

// full is a standard output that takes nothing.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

// TestResultLost: where standard output does not take the result, no command ends as if it had been printed.
func TestResultLost(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, dir := range []string{"alder", "earlier"} {
		if err := demo.Lay(dir); err != nil {
			t.Fatal(err)
		}
	}
	for _, args := range [][]string{
		{"--help"}, {"propose", "--help"}, {"completion", "bash"}, {"man"}, {"patterns"}, {"read", "--guide"}, {"read", "-"},
		{"check", "--survey", "alder"}, {"read", "--survey", "alder"}, {"propose", "--survey", "alder"}, {"propose", "--survey", "alder", "--only", "OM-01"},
		{"propose", "--survey", "alder", "--csv"}, {"unmarked", "--survey", "alder"}, {"unmarked", "--survey", "alder", "--as", "csv"}, {"unmarked", "--survey", "alder", "--as", "csv", "--out", "leads.csv"},
		{"find", "--survey", "alder", "holden"}, {"assess", "--survey", "alder", "alder/truth.csv"}, {"changes", "--survey", "alder", "earlier"},
		{"publish", "--survey", "alder", "--dry-run"}, {"publish", "--survey", "alder", "--site=false", "out"}, {"dossier", "--survey", "alder", "--stone", "OM-02", "one"},
		{"decide", "--survey", "alder", "--stone", "OM-02", "--as", "unsure", "--by", "Ann Novak"}, {"merge", "alder", "alder"}, {"begin", "--from", "out", "again"}, {"demo", "other"},
	} {
		var errs bytes.Buffer
		code := run(context.Background(), append([]string{"musterstone"}, args...), strings.NewReader("JOHN DOE\n"), full{}, &errs)
		if code != exitWrong || !strings.Contains(errs.String(), syscall.ENOSPC.Error()) {
			t.Errorf("%q: status %d, says %q", args, code, errs.String())
		}
	}
}
