package main

import (
	"os"
	"os/exec"
	"testing"
)

// outside is where a program that is not ours stands.
func outside(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		lack(t, "%s is not installed", name)
	}
	return path
}

// lack ends a test that wants what is not ours and is not here: it skips, or fails where MUSTERSTONE_OUTSIDE=1 demands it.
func lack(t *testing.T, format string, args ...any) {
	t.Helper()
	if os.Getenv("MUSTERSTONE_OUTSIDE") == "1" {
		t.Fatalf(format, args...)
	}
	t.Skipf(format, args...)
}
