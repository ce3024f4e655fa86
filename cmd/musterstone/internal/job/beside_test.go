package job

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime/debug"
	"testing"

	"musterstone/link"
	"musterstone/link/weigh"
	"musterstone/testdata/county"
)

// TestBeside: the index is built, or opened, while stones are read, and what is said hangs on neither; what an earlier run has left of other rosters, or damaged, is not used.
func TestBeside(t *testing.T) {
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
		err = j.Each(context.Background(), 0, func(of *link.Told) func() error {
			return func() error { told += said(t, of.Proposals); return nil }
		})
		if err != nil || told == "" {
			t.Fatalf("told %q, error %v", told, err)
		}
		if usual := debug.SetGCPercent(100); usual != 100 {
			t.Errorf("memory may still grow by %d%% when the run has ended", usual)
		}
		if j.packing != nil {
			t.Error("stones are still being packed when the run has ended")
		}
		same, err := weigh.ReadFile(filepath.Join(j.index.Folder(), columnsFile))
		if err != nil || same.Len() != j.columns.Len() {
			t.Errorf("packed records are not kept: %v", err)
		}
		return told, !j.index.Built, j
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

// TestBesideBrokenOff: where the index cannot be had, nobody is left reading stones.
func TestBesideBrokenOff(t *testing.T) {
	dir := t.TempDir()
	if err := county.Make(dir, county.Options{Seed: 3, Records: 2000, Stones: 3000}); err != nil {
		t.Fatal(err)
	}
	j, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err = j.Each(ctx, 0, func(*link.Told) func() error {
		t.Error("a proposal is made")
		return func() error { return nil }
	})
	if !errors.Is(err, context.Canceled) || j.packing != nil || j.packed != nil {
		t.Errorf("error %v, packing %v, packed %v", err, j.packing, j.packed)
	}
	all := j.packStones()
	if all.n != len(j.Stones()) || all.n < 3000 {
		t.Errorf("%d stones are packed of %d", all.n, len(j.Stones()))
	}
}
