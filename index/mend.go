package index

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Derived is what was found of one thing in DerivedFolder.
type Derived struct {
	Name  string // of the folder or file
	State string // in words
	Whole bool
	// Old is set where it is whole, but was made of earlier files or by another program, so that it is made anew when it is next asked for.
	Old bool
	// Words is set for the index of words, which is made of the stones too.
	Words bool
	// Mended is set where it was of no use and was removed; it is made again when it is next asked for.
	Mended bool
}

// Mend looks at the derived folders of a survey, takes away those that are damaged, of another version of the program or left half made, and tells the
// state of each. It makes nothing. While another process builds it touches nothing half made; where nothing can be removed it only tells. Rosters and graves are as those of Inputs are now: an index of other files
// stays, for the next run to take from it what has not changed.
func Mend(ctx context.Context, survey, rosters, graves string) ([]Derived, error) {
	dir := filepath.Join(survey, DerivedFolder)
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0 {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("look at the derived files: %w", err)
	}
	s := &shelf{dir: dir}
	wait, cancel := context.WithTimeout(ctx, time.Second)
	defer cancel()
	unlock, alone, err := s.lock(wait)
	if e := ctx.Err(); e != nil {
		return nil, e
	}
	if err == nil {
		defer unlock()
	}
	var found []Derived
	for _, e := range entries {
		name := e.Name()
		if !e.IsDir() {
			continue
		}
		d := Derived{Name: name}
		switch {
		case strings.HasPrefix(name, buildingName) && !alone:
			d.State = "is being built, or was left half made; another process is at work"
		case strings.HasPrefix(name, buildingName):
			d.State, d.Mended = "was left half made", s.mended(name)
		case strings.HasPrefix(name, recordsKind+"-"), strings.HasPrefix(name, wordsKind+"-"):
			records := strings.HasPrefix(name, recordsKind+"-")
			m, err := readManifest(filepath.Join(dir, name), "")
			if err == nil && records && !strings.HasSuffix(m.Digest, recordsDigest("")) {
				err = errVersion
			}
			if err == nil {
				err = readable(ctx, filepath.Join(dir, name), records)
			}
			if e := ctx.Err(); e != nil {
				return nil, e
			}
			if err == nil {
				d.State, d.Whole = "is whole", true
				if records {
					d.State = fmt.Sprintf("is whole, records: %d", m.Count)
				}
				of := recordsDigest(rosters)
				if d.Words = !records; d.Words {
					of = wordsDigest(rosters, graves)
				}
				d.Old = m.Digest != of
				break
			}
			d.State = strings.TrimPrefix(err.Error(), errDamaged.Error()+": ")
			if alone {
				d.Mended = s.mended(name)
			}
		default:
			continue
		}
		found = append(found, d)
	}
	return found, nil
}

// readable reads through what the manifest's checksums do not cover, the stores, whose values each have their own: that of the records, or, in a folder of words, that of the stones.
func readable(ctx context.Context, folder string, records bool) error {
	name, starts := stonesName, []uint64(nil)
	if records {
		t, err := readTables(folder)
		if err != nil {
			return err
		}
		defer t.close()
		name, starts = recordsName, t.starts
	} else {
		var l stoneLists
		if err := readLists(filepath.Join(folder, stonesTableName), &l); err != nil {
			return err
		}
		starts = running(l.Starts)
	}
	values, err := openStore(filepath.Join(folder, name), starts)
	if err != nil {
		return err
	}
	defer values.close()
	all := storeReader{store: values}
	for i := range values.len() {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if _, err := all.look(i); err != nil {
			return fmt.Errorf("%w: value %d of %s", errDamaged, i+1, name)
		}
	}
	return nil
}

// mended removes a folder and reports whether it is gone.
func (s *shelf) mended(name string) bool {
	s.remove(name)
	_, err := os.Lstat(filepath.Join(s.dir, name))
	return errors.Is(err, fs.ErrNotExist)
}
