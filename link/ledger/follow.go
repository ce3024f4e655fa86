package ledger

import (
	"fmt"
	"iter"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// trail finds where the records of decisions have gone in the rosters of today.
type trail struct {
	record  func(model.RecordID) (*model.Record, bool)
	records iter.Seq[*model.Record]
	words   map[string][]model.RecordID // what a record says, to those that say it; nil until needed
	men     map[string][]model.RecordID
	found   map[string]place // by what is sought
}

// place is where a record has gone; lost where nobody can tell.
type place struct {
	record model.RecordID
	lost   string
}

// Lost is a decision that cannot be followed to a record of the rosters, and why.
type Lost struct {
	Entry
	Why string
}

// Follow has decisions follow their records by what these said when they were decided on: record looks one up in the rosters of today, records
// goes through all of them, and is asked only where some id no longer says what it did. The zero functions end it.
func (l *Ledger) Follow(record func(model.RecordID) (*model.Record, bool), records iter.Seq[*model.Record]) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.state, l.trail = nil, nil
	if record != nil && records != nil {
		l.trail = &trail{record: record, records: records, found: map[string]place{}}
	}
}

// followed gives the decisions that count, in the order of the file, each on the record that it is on today; the lock is held.
func (l *Ledger) followed() []model.Decision {
	out := make([]model.Decision, len(l.log.Entries))
	for i, e := range l.log.Entries {
		out[i] = e.Decision
	}
	if l.trail == nil {
		return out
	}
	// A withdrawal keeps no words of its own: it goes where the decision went that it takes back.
	went := map[string]model.RecordID{}
	for i := range out {
		out[i].Record = l.trail.follow(out[i]).record
		went[out[i].ID] = out[i].Record
	}
	for i := range out {
		if to, ok := went[out[i].Supersedes]; ok && out[i].As == model.Withdrawn {
			out[i].Record = to
		}
	}
	return out
}

// strayed reports whether the decision of entry i, as followed, is on an id that is another man's today.
func (l *Ledger) strayed(i int, d model.Decision) bool {
	return d.Record == "" && l.log.Entries[i].Record != ""
}

// Lost lists the decisions, withdrawals apart, that cannot be followed to a record; they link nothing. In the order of the file.
func (l *Ledger) Lost() []Lost {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.lost()
}

func (l *Ledger) lost() []Lost {
	if l.trail == nil {
		return nil
	}
	var out []Lost
	for _, e := range l.unreplaced() {
		if p := l.trail.follow(e.Decision); p.lost != "" {
			out = append(out, Lost{e, p.lost})
		}
	}
	return out
}

// unreplaced are the entries on records that no other one of the same person's on the same stone has replaced, withdrawn or set aside.
func (l *Ledger) unreplaced() []Entry {
	type own struct {
		by    string
		stone model.StoneID
		id    string
	}
	replaced := map[own]bool{}
	for _, e := range l.log.Entries {
		replaced[own{e.By, e.Stone, e.Supersedes}] = true
		for _, id := range e.Instead {
			replaced[own{e.By, e.Stone, id}] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(l.log.Entries), func(e Entry) bool {
		return replaced[own{e.By, e.Stone, e.ID}] || e.As == model.Withdrawn || e.Record == ""
	})
}

// LostComplaints puts Lost as complaints.
func (l *Ledger) LostComplaints() []model.Complaint {
	var cs []model.Complaint
	for _, o := range l.Lost() {
		cs = append(cs, model.Complaint{File: filepath.Base(l.path), Row: o.Row,
			Text: fmt.Sprintf("decision %s, %s by %s, is on record %q: %s", o.ID, o.As, o.By, o.Record, o.Why),
			Hint: "the decision is kept and links nothing; decide anew on the man's record of today"})
	}
	return cs
}

// follow finds the record of a decision.
func (t *trail) follow(d model.Decision) place {
	if d.Record == "" || d.Seen == nil || len(d.Seen.Said) == 0 {
		return place{record: d.Record}
	}
	sought := words(d.Seen.Said)
	key := string(d.Record) + "\x00" + sought + "\x00" + d.Seen.Man
	if p, ok := t.found[key]; ok {
		return p
	}
	p := t.seek(d.Record, sought, d.Seen.Man)
	t.found[key] = p
	return p
}

// seek looks for the record that says what is sought, or for the man: first under the id, then in all the rosters.
func (t *trail) seek(id model.RecordID, sought, man string) place {
	r, there := t.record(id)
	if there && (words(r.Written) == sought || man != "" && Man(r) == man) {
		return place{record: id}
	}
	if t.words == nil {
		t.words, t.men = map[string][]model.RecordID{}, map[string][]model.RecordID{}
		for r := range t.records {
			w, m := words(r.Written), Man(r)
			t.words[w] = append(t.words[w], r.ID)
			t.men[m] = append(t.men[m], r.ID)
		}
	}
	same := t.words[sought]
	if len(same) == 0 && man != "" {
		same = t.men[man]
	}
	switch {
	case len(same) == 1:
		return place{record: same[0]}
	case len(same) > 1:
		return place{record: "", lost: fmt.Sprintf("the rosters have %d records that say the same (%s and others)", len(same), same[0])}
	case there:
		return place{record: "", lost: "that id is another man's today, and nobody in the rosters is like the man it was"}
	}
	return place{record: id, lost: "it is no longer in the rosters, and nobody in them is like the man it was"}
}

// words are what a record says, whatever its columns are called and in whatever order, its id apart.
func words(cells []model.Cell) string {
	var vs []string
	for _, c := range cells {
		if isID(c.Column) {
			continue
		}
		if v := strings.ToLower(strings.Join(strings.Fields(c.Value), " ")); v != "" {
			vs = append(vs, v)
		}
	}
	slices.Sort(vs)
	return strings.Join(vs, "\x1f")
}

// rowNumbers are the names of columns that hold a row's id or number.
var rowNumbers = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, r := range vocab.Rows("row-number-columns") {
		m[r.Get("form")] = true
	}
	return m
})

// isID reports whether a column holds a row's id or number, which a newer download may give anew.
func isID(column string) bool {
	return rowNumbers()[strings.Trim(strings.ToLower(strings.TrimSpace(column)), ".")]
}
