package job

import (
	"context"
	"os"
	"path/filepath"
	"runtime/debug"
	"testing"

	"musterstone/link"
	"musterstone/testdata/county"
)

// TestLeft: what an earlier run has left is opened beside the reading of the stones and says the same; of other rosters, or damaged, it is not used.
func TestLeft(t *testing.T) {
	dir := t.TempDir()
	if err := county.Make(dir, county.Options{Seed: 3, Records: 2000, Stones: 150}); err != nil {
		t.Fatal(err)
	}
	run := func() (told string, opened bool, j *Job) {
		t.Helper()
		j, err := Open(dir, Options{})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { j.Close() })
		j.openLeft()
		l := j.left
		err = j.Each(context.Background(), 0, func(of *link.Told) func() error {
			return func() error { told += said(t, of.Proposals); return nil }
		})
		if err != nil || told == "" {
			t.Fatalf("told %q, error %v", told, err)
		}
		if usual := debug.SetGCPercent(100); usual != 100 {
			t.Errorf("memory may still grow by %d%% when the run has ended", usual)
		}
		if j.left != nil {
			t.Error("what was opened is still held when the index has been")
		}
		return told, l != nil && j.columns == l.columns && j.counts == l.counts && !j.index.Built, j
	}
	first, opened, j := run()
	if opened {
		t.Error("something was left before the first run")
	}
	again, opened, _ := run()
	if !opened || again != first {
		t.Errorf("left: used %v, the same %v", opened, again == first)
	}
	if err := os.Truncate(filepath.Join(j.index.Folder(), columnsFile), 100); err != nil {
		t.Fatal(err)
	}
	if again, opened, _ = run(); opened || again != first {
		t.Errorf("packed records damaged: used %v, the same %v", opened, again == first)
	}
	roster, err := filepath.Glob(filepath.Join(dir, "roster-*.csv"))
	if err != nil || len(roster) != 1 {
		t.Fatal(roster, err)
	}
	b, err := os.ReadFile(roster[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(roster[0], b[:len(b)/2], 0o644); err != nil {
		t.Fatal(err)
	}
	if again, opened, _ = run(); opened || again == first {
		t.Errorf("another roster: used %v, the same %v", opened, again == first)
	}
}
