package main

import (
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// TestNotice finds a module that is linked into the program and that its NOTICE does not name, or one that it names and that is not linked.
func TestNotice(t *testing.T) {
	notice, err := os.ReadFile("NOTICE")
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", ".").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	modules := strings.Fields(string(out))
	named := strings.FieldsFunc(string(notice), func(r rune) bool { return r == ' ' || r == ',' || r == '\n' || r == ':' })
	for _, m := range modules {
		if !strings.HasPrefix(m, "musterstone") && !slices.Contains(named, m) {
			t.Errorf("NOTICE does not name %s", m)
		}
	}
	for _, m := range named {
		if strings.Contains(m, ".") && strings.Contains(m, "/") && !slices.Contains(modules, m) {
			t.Errorf("NOTICE names %s, which is not linked", m)
		}
	}
}
