package rdf

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// TestRecoverBeside is a folder as runs that were killed leave it: between the two renames of a system without exchange, and in the midst of writing.
func TestRecoverBeside(t *testing.T) {
	parent := t.TempDir()
	now := time.Now()
	folder := func(name, text string, age time.Duration) {
		t.Helper()
		dir := filepath.Join(parent, name)
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, "about.ttl")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		for _, path := range []string{file, dir} {
			if err := os.Chtimes(path, now.Add(-age), now.Add(-age)); err != nil {
				t.Fatal(err)
			}
		}
	}
	folder(".out-new-1-old", "earlier", 0)
	folder(".out-new-2", "half written, long ago", 2*time.Hour)
	folder(".out-new-3", "being written now", time.Minute)
	folder(".outer-new-4", "another publication's", 9*time.Hour)
	notes := recoverBeside(filepath.Join(parent, "out"), now)
	if len(notes) != 2 {
		t.Errorf("notes %q", notes)
	}
	got, err := os.ReadFile(filepath.Join(parent, "out", "about.ttl"))
	if err != nil || string(got) != "earlier" {
		t.Errorf("%q, %v", got, err)
	}
	var left []string
	entries, _ := os.ReadDir(parent)
	for _, e := range entries {
		left = append(left, e.Name())
	}
	if want := []string{".out-new-3", ".outer-new-4", "out"}; !slices.Equal(left, want) {
		t.Errorf("left %q, want %q", left, want)
	}
}
