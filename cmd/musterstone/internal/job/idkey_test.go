package job

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"testing"
)

// TestIDKeyOnce: of many runs at once that look for the key one makes it, and all have the same; nothing else is left in the survey.
func TestIDKeyOnce(t *testing.T) {
	dir := lay(t)
	before, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	keys, errs := make([][]byte, 32), make([]error, 32)
	var jobs []*Job
	for range keys {
		j, err := Open(dir, Options{Program: "test", Note: func(string) {}})
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		jobs = append(jobs, j)
	}
	var runs sync.WaitGroup
	start := make(chan struct{})
	for i := range keys {
		runs.Go(func() {
			<-start
			keys[i], errs[i] = jobs[i].IDKey(true)
		})
	}
	close(start)
	runs.Wait()
	for i := range keys {
		if errs[i] != nil || len(keys[i]) != idKeySize || !bytes.Equal(keys[i], keys[0]) {
			t.Errorf("run %d has a key of %d bytes, like the first: %v; %v", i, len(keys[i]), bytes.Equal(keys[i], keys[0]), errs[i])
		}
	}
	for range 200 { // who looks all the time while it is made finds none, or all of it
		if err := os.Remove(filepath.Join(dir, IDKeyFile)); err != nil {
			t.Fatal(err)
		}
		runs.Go(func() {
			for {
				if _, err := jobs[1].readIDKey(); err == nil {
					return
				} else if !errors.Is(err, fs.ErrNotExist) {
					t.Error(err)
					return
				}
			}
		})
		if _, err := jobs[0].IDKey(true); err != nil {
			t.Fatal(err)
		}
		runs.Wait()
	}
	if after, err := os.ReadDir(dir); err != nil || len(after) != len(before)+1 {
		t.Errorf("%d files, want one more than %d; %v", len(after), len(before), err)
	}
	if err := os.WriteFile(filepath.Join(dir, IDKeyFile), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := jobs[0].IDKey(true); err == nil {
		t.Error("an empty file is taken for a key, or written anew")
	}
}

// TestIDKeyWithin: a key that stands outside of the survey folder, behind a link, is refused: it would not go with the survey's copies.
func TestIDKeyWithin(t *testing.T) {
	dir := lay(t)
	elsewhere := filepath.Join(t.TempDir(), "key")
	if err := os.WriteFile(elsewhere, bytes.Repeat([]byte("ab"), idKeySize), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(elsewhere, filepath.Join(dir, IDKeyFile)); err != nil {
		t.Skip(err)
	}
	j, err := Open(dir, Options{Program: "test", Note: func(string) {}})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	if _, err := j.IDKey(true); err == nil {
		t.Error("it is taken")
	}
}
