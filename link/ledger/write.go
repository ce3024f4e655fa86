package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
)

// write puts a whole line behind the last whole line of the file, and flushes it to the disk. The lock is held and the log is fresh.
// What was torn off is put in a file of its own first. After an error the file is as it was.
func (l *Ledger) write(text []byte) (err error) {
	fail := func(err error) error { return fmt.Errorf("write to ledger %s: %w; %s", l.path, err, mend(err)) }
	made := l.at == nil
	f, err := os.OpenFile(l.path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return fail(err)
	}
	defer func() {
		if cerr := f.Close(); cerr != nil && err == nil {
			err = fail(cerr)
		}
	}()
	if l.size > l.log.Whole {
		if err := l.setAside(f); err != nil {
			return fail(err)
		}
	}
	end := l.log.Whole
	if end > 0 {
		last := make([]byte, 1)
		if _, err := f.ReadAt(last, end-1); err != nil {
			return fail(err)
		}
		if last[0] != '\n' {
			text = append([]byte("\n"), text...)
		}
	}
	if _, err := f.WriteAt(text, end); err != nil {
		return l.takeBack(f, end, fail(err))
	}
	if err := f.Sync(); err != nil {
		return l.takeBack(f, end, fail(err))
	}
	if made {
		if err := syncFolder(filepath.Dir(l.path)); err != nil {
			return l.takeBack(f, end, fail(err))
		}
	}
	l.log.Whole = end + int64(len(text))
	l.log.Complaints = slices.DeleteFunc(l.log.Complaints, func(c model.Complaint) bool { // the end is mended now
		return c.Row > l.log.rows || c.Text == noLineEnd
	})
	info, err := f.Stat()
	if err != nil {
		return nil // the line is safe; the file is read anew before the next is written
	}
	l.at, l.size = info, info.Size()
	return nil
}

// takeBack cuts the file to where it ended before a write that failed; it gives the cause back.
func (l *Ledger) takeBack(f *os.File, end int64, cause error) error {
	l.at = nil // read anew next time
	if err := f.Truncate(end); err != nil {
		return errors.Join(cause, fmt.Errorf("and the part that was written could not be taken back, so that the file may end in a line cut short: %w", err))
	}
	if err := f.Sync(); err != nil {
		return errors.Join(cause, err)
	}
	return cause
}

// setAside moves what was torn off from the end of the file to a file of its own, which is on the disk before the ledger is cut.
func (l *Ledger) setAside(f *os.File) error {
	torn := make([]byte, l.size-l.log.Whole)
	if _, err := f.ReadAt(torn, l.log.Whole); err != nil {
		return err
	}
	n := 1
	for ; ; n++ {
		if _, err := os.Lstat(l.tornPath(n)); errors.Is(err, fs.ErrNotExist) {
			if err := writeFile(l.tornPath(n), torn); err != nil {
				return err
			}
			break
		}
		have, err := os.ReadFile(l.tornPath(n))
		if errors.Is(err, fs.ErrNotExist) { // a link to nowhere
			continue
		}
		if err != nil {
			return err
		}
		if bytes.Equal(have, torn) { // set aside already, by a run that was killed before it could cut the ledger
			break
		}
	}
	if err := f.Truncate(l.log.Whole); err != nil {
		return err
	}
	l.torn = l.tornFiles()
	return nil
}

func (l *Ledger) tornPath(n int) string { return l.path + ".torn-" + strconv.Itoa(n) }

// tornFiles tells of the files with torn lines beside the ledger.
func (l *Ledger) tornFiles() []model.Complaint {
	names, err := filepath.Glob(quote(l.path) + ".torn-*")
	if err != nil {
		return nil
	}
	slices.Sort(names)
	var cs []model.Complaint
	for _, name := range names {
		cs = append(cs, model.Complaint{File: filepath.Base(name), Text: "holds the bytes of a line that was cut short while it was written; that decision was never acknowledged",
			Hint: "look at it, make the decision anew if it is wanted, and delete the file"})
	}
	return cs
}

// quote makes a path a pattern that means only itself.
func quote(path string) string {
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(path)
}

// writeFile writes a file that must not be there, not even as a link, and has it, and its name, on the disk.
func writeFile(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		os.Remove(path)
		return err
	}
	return syncFolder(filepath.Dir(path))
}
