package intake_test

import (
	"os"
	"path/filepath"
	"testing"

	"musterstone/index/intake"
)

// TestWithin: a link that stays in the survey folder is followed, and one that leads out of it is not, however the folder is named and wherever links are.
func TestWithin(t *testing.T) {
	top := t.TempDir()
	if err := os.MkdirAll(filepath.Join(top, "alder", "old"), 0o755); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(top, "alder", "old"), "roster.csv", nil)
	write(t, top, "secret.csv", nil)
	for link, to := range map[string]string{
		"alder/near.csv":  filepath.Join("old", "roster.csv"),
		"alder/whole.csv": filepath.Join(top, "alder", "old", "roster.csv"),
		"alder/out.csv":   filepath.Join("..", "secret.csv"),
		"alder/far.csv":   filepath.Join(top, "secret.csv"),
		"alder/up":        top,
		"alder/none.csv":  filepath.Join(top, "nothing.csv"),
		"other":           "alder",
	} {
		if err := os.Symlink(to, filepath.Join(top, filepath.FromSlash(link))); err != nil {
			t.Skip(err)
		}
	}
	t.Chdir(top)
	for _, dir := range []string{"alder", "other", filepath.Join(top, "alder"), filepath.Join(top, "other")} {
		for file, within := range map[string]bool{
			"old/roster.csv": true, "near.csv": true, "whole.csv": true, "none.csv": true, "nobody.csv": true,
			"out.csv": false, "far.csv": false, "up/secret.csv": false,
		} {
			if err := intake.Within(dir, file); (err == nil) != within {
				t.Errorf("%s in %s: %v", file, dir, err)
			}
		}
	}
}
