package main

import (
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// TestNotice finds a module that is linked into the program and that NOTICE does not name.
func TestNotice(t *testing.T) {
	notice, err := os.ReadFile("../../NOTICE")
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", ".").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	modules := strings.Fields(string(out))
	slices.Sort(modules)
	for _, m := range slices.Compact(modules) {
		if m != "musterstone" && !strings.Contains(string(notice), m) {
			t.Errorf("NOTICE does not name %s", m)
		}
	}
}
