package main

import (
	"bytes"
	"context"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the scripts run this very program as "musterstone".
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"musterstone": main,
	})
}

// command runs the program in this process, wants it to succeed, and gives what it prints.
func command(t testing.TB, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(context.Background(), append([]string{"musterstone"}, args...), strings.NewReader(""), &out, &errs); code != exitDone {
		t.Fatalf("musterstone %s: status %d\n%s", strings.Join(args, " "), code, errs.String())
	}
	return out.String()
}

// TestScripts runs the command as a person would: each file of testdata/script is a session.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "../../testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": wantStatus,
			"fill":   fill,
		},
		UpdateScripts: os.Getenv("UPDATE") == "1",
	})
}

// wantStatus runs a command and wants the exit status that its first argument says: status 2 musterstone read …
func wantStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command…")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := 0
	if exit, ok := err.(interface{ ExitCode() int }); ok {
		code = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("run %v: %v", args[1:], err)
	}
	if strconv.Itoa(code) != args[0] {
		ts.Fatalf("%v ended with status %d, want %s", args[1:], code, args[0])
	}
}

// fill writes a file with one line of so many megabytes between the contents of two others: fill FILE MEGABYTES BEFORE AFTER.
func fill(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: fill FILE MEGABYTES BEFORE AFTER")
	}
	f, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	write := func(s string) {
		_, err := f.WriteString(s)
		ts.Check(err)
	}
	write(ts.ReadFile(args[2]))
	megabytes, err := strconv.Atoi(args[1])
	ts.Check(err)
	for range megabytes {
		write(strings.Repeat("x", 1<<20))
	}
	write("\n" + ts.ReadFile(args[3]))
}
