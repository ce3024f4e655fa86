package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the scripts run this very program as "musterstone".
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"musterstone": main,
	})
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
	want := args[0]
	if got := string(rune('0' + code)); got != want {
		ts.Fatalf("%v ended with status %s, want %s", args[1:], got, want)
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
	mega := make([]byte, 1<<20)
	for i := range mega {
		mega[i] = 'x'
	}
	for range atoi(ts, args[1]) {
		write(string(mega))
	}
	write("\n" + ts.ReadFile(args[3]))
}

func atoi(ts *testscript.TestScript, s string) int {
	n := 0
	for _, c := range s {
		if c < '0' || c > '9' {
			ts.Fatalf("%q is no number", s)
		}
		n = 10*n + int(c-'0')
	}
	return n
}
