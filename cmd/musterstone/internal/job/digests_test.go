package job

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"musterstone/index"
)

// TestKnownDigests: a file that looks as it did is taken as known; one of the same size and time of change that was written since is read.
func TestKnownDigests(t *testing.T) {
	dir := lay(t)
	path := filepath.Join(dir, index.DerivedFolder, knownFile)
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	digests := func() map[string]string {
		t.Helper()
		j, err := Open(dir, Options{Program: "test"})
		if err != nil {
			t.Fatal(err)
		}
		d, err := j.Digests()
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	plain := digests()
	if _, err := os.Stat(path); err == nil {
		b, _ := os.ReadFile(path)
		if was, err := readSummed[map[string]known](b); err != nil || len(was) > 0 {
			t.Errorf("files written within the same two seconds are taken as known: %s", b)
		}
	}
	keep := map[string]known{}
	for file := range plain {
		k, err := look(filepath.Join(dir, file))
		if err != nil {
			t.Fatal(err)
		}
		k.SHA256 = "known " + file
		keep[file] = k
	}
	b, err := writeSummed(keep)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b, 0o666); err != nil {
		t.Fatal(err)
	}
	for file, sum := range digests() {
		if sum != "known "+file {
			t.Errorf("%s was read though nothing about it has changed", file)
		}
	}
	stones := filepath.Join(dir, "stones.csv")
	info, err := os.Stat(stones)
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(stones)
	if err != nil {
		t.Fatal(err)
	}
	text[len(text)-2] ^= 1
	if err := os.WriteFile(stones, text, 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(stones, info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
	if k, _ := look(stones); k.Status == 0 {
		t.Skip("the system does not say when an inode changed")
	}
	if d := digests(); d["stones.csv"] == "known stones.csv" || d["stones.csv"] == plain["stones.csv"] {
		t.Errorf("the stones' digest is %q though they were written to", d["stones.csv"])
	}
}

// TestKeepsDigests: the first run over a survey, which makes the derived folder, keeps the digests too.
func TestKeepsDigests(t *testing.T) {
	dir := lay(t)
	old := time.Now().Add(-time.Hour)
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if err := os.Chtimes(filepath.Join(dir, e.Name()), old, old); err != nil {
			t.Fatal(err)
		}
	}
	j, err := Open(dir, Options{Program: "test"})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	if _, err := j.Digests(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, index.DerivedFolder, knownFile)
	if _, err := os.Stat(path); err == nil {
		t.Fatal("the derived folder was there before the index")
	}
	if _, err := j.Index(context.Background()); err != nil {
		t.Fatal(err)
	}
	if b, err := os.ReadFile(path); err != nil {
		t.Error(err)
	} else if _, err := readSummed[map[string]known](b); err != nil {
		t.Error(err)
	}
}

// TestCancelled breaks the work off at every stage that it tells of, and runs it again over what is left.
func TestCancelled(t *testing.T) {
	dir := lay(t)
	want := 0
	for _, stop := range []int{1, 2, 3, 4, 5, 8, 13, 21, 34, 55, 89, 0} {
		ctx, cancel := context.WithCancel(context.Background())
		told := 0
		j, err := Open(dir, Options{Program: "test", Progress: func(string, int, int) {
			if told++; told == stop {
				cancel()
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		proposals, err := j.Propose(ctx, 0.98)
		j.Close()
		cancel()
		switch {
		case err == nil:
			want = len(proposals)
		case !errors.Is(err, context.Canceled):
			t.Errorf("broken off at its word %d: %v", stop, err)
		}
		left, err := filepath.Glob(filepath.Join(dir, index.DerivedFolder, ".*"))
		if err != nil || len(left) > 0 {
			t.Errorf("broken off at its word %d, it left %v, %v", stop, left, err)
		}
	}
	if want < 60 {
		t.Errorf("after the broken runs a whole one gave %d proposals", want)
	}
}
