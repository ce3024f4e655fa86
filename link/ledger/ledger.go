package ledger

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"musterstone/model"
)

// FileName is the ledger's name in a survey folder. Beside it may stand FileName + ".lock", which is empty and may stay, FileName + ".merging", of a merge that was
// killed, and FileName + ".torn-1" and so on, with bytes of lines that were cut short.
const FileName = "decisions.jsonl"

// Ledger is an open ledger. No file is held open between calls. It may be used by many goroutines at once, and the file by many
// programs: one writes at a time, and each reads what the others wrote before it writes.
type Ledger struct {
	// Clock gives the time of a decision; nil is time.Now. Set it before the first call.
	Clock func() time.Time
	// Wait is how long Append waits for another writer; 0 is five seconds.
	Wait time.Duration

	path  string
	mu    sync.Mutex
	log   *Log
	at    fs.FileInfo // of the file when it was last read or written; nil where there was none
	size  int64       // its bytes then
	state *State      // nil until asked for
	torn  []model.Complaint
	trail *trail // nil where decisions follow nothing but ids
}

// Open reads the ledger at path. A file that is not there is an empty ledger, and is made by the first Append. Damage is no error:
// see Complaints.
func Open(path string) (*Ledger, error) {
	l := &Ledger{path: path}
	if err := l.read(); err != nil {
		return nil, err
	}
	if l.log.Whole < l.size {
		// Perhaps a line is being written this very moment: wait for its writer, where there can be one.
		if _, err := os.Stat(l.lockPath()); err == nil {
			if unlock, err := l.lock(); err == nil {
				defer unlock()
				if err := l.read(); err != nil {
					return nil, err
				}
			}
		}
	}
	return l, nil
}

// read reads the whole file again.
func (l *Ledger) read() error {
	if err := noLink(l.path); err != nil {
		return fmt.Errorf("read ledger %s: %w", l.path, err)
	}
	info, err := os.Stat(l.path)
	if errors.Is(err, fs.ErrNotExist) {
		l.log, l.at, l.size, l.state = Replay(filepath.Base(l.path), nil), nil, 0, nil
		l.torn = l.tornFiles()
		return nil
	}
	if err != nil {
		return unread(l.path, err)
	}
	if !info.Mode().IsRegular() {
		return fmt.Errorf("read ledger %s: it is not a file; move it away, or name another", l.path)
	}
	data, err := os.ReadFile(l.path)
	if err != nil {
		return unread(l.path, err)
	}
	l.log, l.at, l.size, l.state = Replay(filepath.Base(l.path), data), info, int64(len(data)), nil
	l.torn = l.tornFiles()
	return nil
}

// unread is the error of a ledger that cannot be read.
func unread(path string, err error) error {
	return fmt.Errorf("read ledger %s: %w; look at its permissions and at the disk", path, err)
}

// Refresh reads what other programs have written since, where they have.
func (l *Ledger) Refresh() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.refresh()
}

func (l *Ledger) refresh() error {
	info, err := os.Stat(l.path)
	if err == nil && l.at != nil && os.SameFile(info, l.at) && info.Size() == l.size && info.ModTime().Equal(l.at.ModTime()) {
		return nil
	}
	return l.read()
}

// Revision changes whenever decisions are added: how many count, and the checksum of the last line.
func (l *Ledger) Revision() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return fmt.Sprintf("%d-%s", len(l.log.Entries), l.log.last)
}

// Entries gives the decisions that count, in the order of the file.
func (l *Ledger) Entries() []Entry {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.log.Entries)
}

// Since gives the decisions that count behind the first n, in the order of the file.
func (l *Ledger) Since(n int) []Entry {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.log.Entries[min(n, len(l.log.Entries)):])
}

// Decisions gives the decisions that count, sorted by time, then id.
func (l *Ledger) Decisions() []model.Decision {
	var ds []model.Decision
	for _, e := range l.Entries() {
		ds = append(ds, e.Decision)
	}
	slices.SortFunc(ds, compare)
	return ds
}

// Complaints gives what is wrong with the file: lines that do not count, and what is odd.
func (l *Ledger) Complaints() []model.Complaint {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Concat(l.log.Complaints, l.log.misdated(filepath.Base(l.path), now(l.Clock)), l.torn)
}

// State is what the decisions come to.
func (l *Ledger) State() State {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.stateNow()
}

func (l *Ledger) stateNow() State {
	if l.state == nil {
		s := StateOf(func(yield func(model.Decision) bool) {
			for i, d := range l.followed() {
				if l.strayed(i, d) {
					continue
				}
				if !yield(d) {
					return
				}
			}
		})
		l.state = &s
	}
	return *l.state
}

// Strangers complains of the decisions that stand, withdrawals apart, on stones or records that the survey does not have: their row
// was taken out, or its id changed and nothing tells where it went. Nothing is done about them.
func (l *Ledger) Strangers(hasStone func(model.StoneID) bool, hasRecord func(model.RecordID) bool) []model.Complaint {
	l.mu.Lock()
	defer l.mu.Unlock()
	speaks := l.stateNow().speaking()
	lost := map[string]bool{}
	for _, o := range l.lost() {
		lost[o.ID] = true
	}
	var cs []model.Complaint
	for i, d := range l.followed() {
		e := l.log.Entries[i]
		if e.As == model.Noted || !speaks[e.ID] || lost[e.ID] {
			continue
		}
		what := ""
		switch {
		case !hasStone(e.Stone):
			what = fmt.Sprintf("stone %q", e.Stone)
		case e.Record != "" && !hasRecord(d.Record):
			what = fmt.Sprintf("record %q", e.Record)
		default:
			continue
		}
		cs = append(cs, model.Complaint{File: filepath.Base(l.path), Row: e.Row, Text: fmt.Sprintf("decision %s is on %s, which the survey does not have", e.ID, what),
			Hint: "the decision is kept; put the row back under its old id, or decide anew on the new one"})
	}
	return cs
}

// Append writes the decision and returns it as written, with its ID, At and Supersedes. The caller gives By, Stone, Record, As and,
// as he likes, Because and Seen. When it returns without an error the decision is on the disk; after an error the file is as it was.
func (l *Ledger) Append(d model.Decision) (model.Decision, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	d.By = strings.Join(strings.Fields(d.By), " ")
	if err := l.sound(d); err != nil {
		return d, err
	}
	unlock, err := l.lock()
	if err != nil {
		return d, err
	}
	defer unlock()
	if err := l.refresh(); err != nil {
		return d, err
	}
	return l.append(d)
}

// Withdraw takes back the decision of the id, by a line of its own. Only who made a decision can withdraw it: another who thinks
// otherwise decides for himself, and the two are shown side by side.
func (l *Ledger) Withdraw(id, by, because string) (model.Decision, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	by = strings.Join(strings.Fields(by), " ")
	unlock, err := l.lock()
	if err != nil {
		return model.Decision{}, err
	}
	defer unlock()
	if err := l.refresh(); err != nil {
		return model.Decision{}, err
	}
	at := slices.IndexFunc(l.log.Entries, func(e Entry) bool { return e.ID == id })
	if at < 0 {
		return model.Decision{}, fmt.Errorf("withdraw decision %q: there is none of that id in %s; look it up there", id, l.path)
	}
	old := l.followed()[at]
	held, stands := l.voice(old.Stone, old.Record, old.By)
	if l.strayed(at, old) {
		held, stands = old, slices.ContainsFunc(l.unreplaced(), func(e Entry) bool { return e.ID == old.ID })
		old.Record = l.log.Entries[at].Record
	}
	if old.As == model.Noted {
		stands = slices.ContainsFunc(l.stateNow().notes[old.Stone], func(n model.Decision) bool { return n.ID == old.ID })
		held = old
	}
	switch {
	case old.As == model.Withdrawn:
		return old, fmt.Errorf("withdraw decision %s: it is a withdrawal itself; decide anew instead", id)
	case by == "":
		return old, fmt.Errorf("withdraw decision %s: say who withdraws it", id)
	case by != old.By:
		return old, fmt.Errorf("withdraw decision %s: it is %s's, and %s cannot withdraw it; make a decision of your own instead", id, old.By, by)
	case !stands:
		return old, fmt.Errorf("withdraw decision %s: it no longer stands; a later one set it aside", id)
	case held.ID != old.ID:
		return old, fmt.Errorf("withdraw decision %s: it no longer stands; decision %s (%s) replaced it", id, held.ID, held.As)
	}
	d := model.Decision{By: old.By, Stone: old.Stone, Record: old.Record, As: model.Withdrawn, Because: because, Supersedes: old.ID}
	d.Record = l.log.Entries[at].Record // as its line has it, wherever it has gone since
	if err := l.sound(d); err != nil {
		return d, err
	}
	return l.complete(d)
}

// sound refuses a decision that could not be read back as it was given.
func (l *Ledger) sound(d model.Decision) error {
	if bad := wants(d, "the decision"); bad != "" {
		return fmt.Errorf("write to ledger %s: %s", l.path, bad)
	}
	for _, s := range []string{d.By, string(d.Stone), string(d.Record), d.Because} {
		if !utf8.ValidString(s) {
			return fmt.Errorf("write to ledger %s: %q is not UTF-8 text; type it anew", l.path, s)
		}
	}
	return nil
}

// voice is the decision by which the person holds to the pair, or, with no record, to the stone as a whole.
func (l *Ledger) voice(stone model.StoneID, record model.RecordID, by string) (model.Decision, bool) {
	s := l.stateNow()
	voices := s.pairs[Pair{stone, record}].Voices
	if record == "" {
		voices = s.whole[stone]
	}
	for _, v := range voices {
		if v.By == by {
			return v, true
		}
	}
	return model.Decision{}, false
}

// setsAside are the person's decisions on the same stone that cannot stand beside d.
func (l *Ledger) setsAside(d model.Decision) []string {
	var ids []string
	s := l.stateNow()
	switch d.As {
	case model.Confirmed:
		for _, v := range s.Whole(d.Stone) {
			if v.By == d.By {
				ids = append(ids, v.ID)
			}
		}
	case model.NoneOfThese, model.Unsure:
		for _, v := range s.Voices(d.Stone) {
			if v.By == d.By && v.As == model.Confirmed {
				ids = append(ids, v.ID)
			}
		}
	}
	return ids
}

// append completes the decision and writes it; the lock is held and the log is fresh.
func (l *Ledger) append(d model.Decision) (model.Decision, error) {
	d.Supersedes, d.Instead = "", l.setsAside(d)
	if old, ok := l.voice(d.Stone, d.Record, d.By); ok && d.As != model.Noted {
		d.Supersedes = old.ID
	}
	return l.complete(d)
}

// complete gives the decision its time and id, and writes it.
func (l *Ledger) complete(d model.Decision) (model.Decision, error) {
	d.At = second(now(l.Clock))
	if !possible(d.At) {
		return d, fmt.Errorf("write to ledger %s: this computer's clock says %s, which cannot be: set the clock right and decide again; a decision keeps its time for good", l.path, d.At.Format(time.DateOnly))
	}
	for digits := 10; ; digits += 6 {
		id, err := identify(d, digits)
		if err != nil {
			return d, err
		}
		if _, taken := l.log.ids[id]; !taken || digits > 64 {
			d.ID = id
			break
		}
	}
	text, sum, err := encode(d, l.log.last)
	if err != nil {
		return d, err
	}
	if err := l.write(text); err != nil {
		return d, err
	}
	l.log.rows++
	l.log.ids[d.ID] = len(l.log.Entries)
	l.log.Entries = append(l.log.Entries, Entry{l.log.rows, d})
	l.log.last, l.state = sum, nil
	return d, nil
}
