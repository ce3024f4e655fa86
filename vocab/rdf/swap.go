package rdf

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// A publication is written into a folder beside its own, named ".NAME-new-…"; the earlier one is put aside as ".NAME-new-…-old" where the system cannot
// exchange two names in one step.
const (
	newPart = "-new-"
	oldPart = "-old"
)

// swap puts the new publication in the place of dir, and removes what stood there. At every moment dir is whole, the old or the new; where the system cannot exchange two
// folders, dir is not there for a moment, and recoverBeside brings it back.
func swap(tmp, dir string) error {
	if exchange(tmp, dir) == nil {
		return os.RemoveAll(tmp)
	}
	old := tmp + oldPart
	err := os.Rename(dir, old)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return os.Rename(tmp, dir)
	case err != nil:
		return err
	}
	if err := os.Rename(tmp, dir); err != nil {
		return errors.Join(err, os.Rename(old, dir))
	}
	return os.RemoveAll(old)
}

// abandoned is how long nothing must have been written in a folder beside a publication for it to count as left behind by a run that was killed: a run under
// way writes all the time.
const abandoned = time.Hour

// recoverBeside mends what runs that were killed have left beside dir: a publication that was put aside and has no successor gets its name back, other leftovers go
// once they are old. It gives a note for each.
func recoverBeside(dir string, now time.Time) []string {
	parent, prefix := filepath.Dir(dir), "."+filepath.Base(dir)+newPart
	entries, err := os.ReadDir(parent)
	if err != nil {
		return nil
	}
	var notes []string
	for _, e := range entries {
		path := filepath.Join(parent, e.Name())
		if !e.IsDir() || !strings.HasPrefix(e.Name(), prefix) {
			continue
		}
		if strings.HasSuffix(e.Name(), oldPart) {
			if _, err := os.Lstat(dir); errors.Is(err, os.ErrNotExist) && os.Rename(path, dir) == nil {
				notes = append(notes, fmt.Sprintf("a run that was killed had put the earlier publication aside as %s; it has its name back", e.Name()))
				continue
			}
		}
		if age := now.Sub(lastWritten(path)); age > abandoned && os.RemoveAll(path) == nil {
			notes = append(notes, fmt.Sprintf("removed %s, which a run that was killed had left half written", e.Name()))
		}
	}
	return notes
}

// lastWritten is the latest time at which a folder or what stands directly in it was changed.
func lastWritten(dir string) time.Time {
	var last time.Time
	see := func(info os.FileInfo, err error) {
		if err == nil && info.ModTime().After(last) {
			last = info.ModTime()
		}
	}
	see(os.Stat(dir))
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		see(e.Info())
	}
	return last
}
