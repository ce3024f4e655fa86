package ledger

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// Merge puts the lines of several ledgers together: every line that stands in any of them once, sorted by time, then id, those that cannot
// be read last. The lines themselves are not touched, so nothing is lost and every checksum holds. The order of the ledgers and how often
// each is merged make no difference.
func Merge(ledgers ...[]byte) []byte {
	type piece struct {
		at  time.Time
		id  string
		raw string
		bad bool
	}
	seen := map[string]bool{}
	var pieces []piece
	for _, data := range ledgers {
		for raw := range bytes.SplitSeq(data, []byte("\n")) {
			raw = bytes.TrimRight(raw, "\r")
			if len(bytes.TrimSpace(raw)) == 0 || seen[string(raw)] {
				continue
			}
			seen[string(raw)] = true
			d, _, _, f := decode(raw)
			p := piece{raw: string(raw), bad: f != nil && !f.mild}
			if !p.bad {
				p.at, p.id = d.At, d.ID
			}
			pieces = append(pieces, p)
		}
	}
	slices.SortFunc(pieces, func(a, b piece) int {
		if a.bad != b.bad {
			if a.bad {
				return 1
			}
			return -1
		}
		return cmp.Or(a.at.Compare(b.at), cmp.Compare(a.id, b.id), cmp.Compare(a.raw, b.raw))
	})
	var out []byte
	for _, p := range pieces {
		out = append(append(out, p.raw...), '\n')
	}
	return out
}

// MergeInto merges the ledger at path, which need not be there yet, with the others, and puts the result in its place in one step. The
// others are only read. It waits for another writer as Append does.
func (l *Ledger) MergeInto(others ...string) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	unlock, err := l.lock()
	if err != nil {
		return err
	}
	defer unlock()
	if err := noLink(l.path); err != nil {
		return fmt.Errorf("merge ledger %s: %w", l.path, err)
	}
	var all [][]byte
	if own, err := os.ReadFile(l.path); err == nil {
		all = append(all, own)
	} else if !os.IsNotExist(err) {
		return unread(l.path, err)
	}
	for _, path := range others {
		data, err := os.ReadFile(path)
		if err != nil {
			return unread(path, err)
		}
		all = append(all, data)
	}
	aside := l.path + ".merging"
	os.Remove(aside) // of a run that was killed
	if err := writeFile(aside, Merge(all...)); err != nil {
		return fmt.Errorf("write merged ledger %s: %w; %s", aside, err, mend(err))
	}
	if err := os.Rename(aside, l.path); err != nil {
		os.Remove(aside)
		return fmt.Errorf("put merged ledger in the place of %s: %w; %s", l.path, err, mend(err))
	}
	if err := syncFolder(filepath.Dir(l.path)); err != nil {
		return fmt.Errorf("put merged ledger in the place of %s: it is there, and may be lost if the power fails now: %w; merge again", l.path, err)
	}
	return l.read()
}
