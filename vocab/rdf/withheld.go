package rdf

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"musterstone/model"
)

// withheldPrefix begins the id that stands for a private one.
const withheldPrefix = "withheld-"

// withheldLength is how many characters of base 32 follow: 80 bits.
const withheldLength = 16

// withheld are the ids that a column marked private says, or that were made of a row's cells with private ones among them, and what stands for them. A plain digest of such an id would tell it to whoever
// tries all the ids that there may be; the order of the rows, the id of another man as soon as a row is added. So each is named by a digest under a key that stays with the survey (HMAC, RFC 2104): the same in
// everything that is published of the survey, and for nobody without the key to be led back to the id, or told from one.
type withheld struct {
	key     []byte
	stones  map[model.StoneID]model.StoneID
	records map[model.RecordID]model.RecordID
	own     map[string]string // the ids, by what stands for them
	told    map[string]bool   // what of that stands anywhere
	words   int               // of the id that has the most
}

// standIn is what stands for an id.
func (m *mapper) standIn(kind, id string) (string, error) {
	w := &m.withheld
	if w.key == nil {
		if m.data.IDKey == nil {
			w.key = make([]byte, sha256.Size)
			rand.Read(w.key)
		} else if key, err := m.data.IDKey(); err != nil {
			return "", fmt.Errorf("name what has a private id: %w", err)
		} else {
			w.key = key
		}
		w.stones, w.records, w.own = map[model.StoneID]model.StoneID{}, map[model.RecordID]model.RecordID{}, map[string]string{}
		w.told = map[string]bool{}
	}
	h := hmac.New(sha256.New, w.key)
	h.Write(norm.NFC.AppendString(append([]byte(kind), 0), id))
	name := withheldPrefix + lowerBase32.EncodeToString(h.Sum(nil))[:withheldLength]
	w.own[name] = id
	w.words = max(w.words, len(strings.Fields(id)))
	return name, nil
}

// meetIDs names all private ids before anything is said, where columns may repeat them: a row may name one that comes after it.
func (m *mapper) meetIDs() error {
	if !m.guarded || !slices.Contains(slices.Collect(maps.Values(m.meaningless)), true) {
		return nil
	}
	whole := m.data
	if whole.Of != nil {
		whole = whole.Of
	}
	if whole.Records != nil {
		for r := range whole.Records {
			if m.closed(r.Source, r.Written, string(r.ID)) {
				if _, err := m.standInOfRecord(r.ID); err != nil {
					return err
				}
			}
		}
	}
	if whole.Subjects != nil {
		for sub := range whole.Subjects {
			if s := sub.Stone; m.closed(s.Source, s.Written, string(s.ID)) {
				if _, err := m.standInOfStone(s.ID); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func (m *mapper) standInOfRecord(id model.RecordID) (string, error) {
	name, err := m.standIn("record", string(id))
	if err == nil {
		m.withheld.records[id] = model.RecordID(name)
	}
	return name, err
}

func (m *mapper) standInOfStone(id model.StoneID) (string, error) {
	name, err := m.standIn("marker", string(id))
	if err == nil {
		m.withheld.stones[id] = model.StoneID(name)
	}
	return name, err
}

// closed reports whether the id of a row tells what private columns say.
func (g *guard) closed(from model.Source, cells []model.Cell, id string) bool {
	hidden := g.secrets(from.File, cells)
	if hidden == nil || id == "" {
		return false
	}
	_, open := hidden.open["id"]
	made := g.openID[from.File]
	switch {
	case hidden.terms["id"] != nil:
		return true
	case open, from.Subject != "", made != nil && made(id):
		return false
	}
	return true // it was made of the row's cells
}

// openStone gives a stone under the id that may be published.
func (m *mapper) openStone(sub *model.Subject) (*model.Subject, error) {
	s := sub.Stone
	if !m.closed(s.Source, s.Written, string(s.ID)) {
		if cells := m.openCells(s.Written, "", ""); cells != nil {
			stone, open := *s, *sub
			stone.Written, open.Stone = cells, &stone
			return &open, nil
		}
		return sub, nil
	}
	name, err := m.standInOfStone(s.ID)
	if err != nil {
		return nil, err
	}
	m.withheld.told[name] = true
	stone, open := *s, *sub
	if cells := m.openCells(s.Written, string(s.ID), name); cells != nil {
		stone.Written = cells
	}
	stone.ID, open.Stone = model.StoneID(name), &stone
	return &open, nil
}

// openRecord gives a record under the id that may be published. The name that it has in a graph goes with its id.
func (m *mapper) openRecord(r *model.Record) (*model.Record, error) {
	if !m.closed(r.Source, r.Written, string(r.ID)) {
		if cells := m.openCells(r.Written, "", ""); cells != nil {
			open := *r
			open.Written = cells
			return &open, nil
		}
		return r, nil
	}
	name, err := m.standInOfRecord(r.ID)
	if err != nil {
		return nil, err
	}
	m.withheld.told[name] = true
	open := *r
	if cells := m.openCells(r.Written, string(r.ID), name); cells != nil {
		open.Written = cells
	}
	open.ID, open.Source.Subject = model.RecordID(name), ""
	return &open, nil
}

// openCells are a row's cells with what stands for a private id where a column of no meaning that is known here, in any table, says one and nothing else. Nil where none does. A bare number or a bare word is taken
// for an id in its own row alone.
func (m *mapper) openCells(cells []model.Cell, own, name string) (out []model.Cell) {
	if !m.withholds() {
		return nil
	}
	for i, c := range cells {
		value := strings.TrimSpace(c.Value)
		if value == "" || !m.meaningless[c.Column] || m.private[strings.ToLower(c.Column)] {
			continue
		}
		is := name
		if value != own {
			if is = m.nameOf(value); is == "" || bare(value) {
				continue
			}
		}
		if out == nil {
			out = slices.Clone(cells)
		}
		out[i].Value, m.withheld.told[is] = is, true
	}
	return out
}

// bare reports whether an id is a number or a word and nothing else, so that the same may be meant as another.
func bare(id string) bool {
	return strings.TrimFunc(id, unicode.IsDigit) == "" || strings.TrimFunc(id, unicode.IsLetter) == ""
}

// stoneID is the id of a stone that may be published. One that the survey no longer has may have been private as others are.
func (m *mapper) stoneID(id model.StoneID) model.StoneID {
	if name, ok := m.withheld.stones[id]; ok {
		m.withheld.told[string(name)] = true
		return name
	}
	if _, ok := m.stones[id]; !ok && id != "" && len(m.withheld.stones) > 0 {
		if name, err := m.standIn("marker", string(id)); err == nil { // there is a key by now
			m.withheld.told[name] = true
			return model.StoneID(name)
		}
	}
	return id
}

// recordID is the same of a record.
func (m *mapper) recordID(id model.RecordID) model.RecordID {
	if name, ok := m.withheld.records[id]; ok {
		m.withheld.told[string(name)] = true
		return name
	}
	if _, ok := m.recordSeen(id); !ok && id != "" && len(m.withheld.records) > 0 {
		if name, err := m.standIn("record", string(id)); err == nil {
			m.withheld.told[name] = true
			return model.RecordID(name)
		}
	}
	return id
}

// withholds reports whether any id is private.
func (m *mapper) withholds() bool { return len(m.withheld.own) > 0 }

func (m *mapper) openProposal(p model.Proposal) model.Proposal {
	if !m.withholds() {
		return p
	}
	p.Stone = m.stoneID(p.Stone)
	p.Candidates = slices.Clone(p.Candidates)
	for i := range p.Candidates {
		c := &p.Candidates[i]
		c.Record, c.SameAs = m.recordID(c.Record), m.recordID(c.SameAs)
		c.Evidence = slices.Clone(c.Evidence)
		for k := range c.Evidence {
			c.Evidence[k].Why, _ = m.withoutID(c.Evidence[k].Why)
		}
	}
	if p.RunnerUp != nil {
		second := *p.RunnerUp
		second.Record = m.recordID(second.Record)
		p.RunnerUp = &second
	}
	p.Notes, p.WouldChange = m.withoutIDs(p.Notes), m.withoutIDs(p.WouldChange)
	return p
}

// openDecision gives a decision with the ids that may be published. Its reason is the words of the person who decided, and goes out as it is.
func (m *mapper) openDecision(d model.Decision) model.Decision {
	if !m.withholds() {
		return d
	}
	own := d.Record
	d.Stone, d.Record = m.stoneID(d.Stone), m.recordID(d.Record)
	if d.Seen != nil {
		seen := *d.Seen
		if d.Seen.Proposal != nil {
			p := m.openProposal(*d.Seen.Proposal)
			seen.Proposal = &p
		}
		if cells := m.openCells(seen.Said, string(own), string(d.Record)); cells != nil {
			seen.Said = cells
		}
		d.Seen = &seen
	}
	return d
}

func (m *mapper) openFinding(f model.Finding) model.Finding {
	if !m.withholds() {
		return f
	}
	f.Stone, f.Record, f.Stones, f.Records = m.stoneID(f.Stone), m.recordID(f.Record), slices.Clone(f.Stones), slices.Clone(f.Records)
	for i, id := range f.Stones {
		f.Stones[i] = m.stoneID(id)
	}
	for i, id := range f.Records {
		f.Records[i] = m.recordID(id)
	}
	f.Reasons, f.ToShow = m.withoutIDs(f.Reasons), m.withoutIDs(f.ToShow)
	return f
}

// withoutIDs puts what stands for a private id into sentences that name one, and leaves out those in which that would be a guess: a bare number may be meant as another, and a bare word.
func (m *mapper) withoutIDs(sentences []string) (out []string) {
	for _, text := range sentences {
		if text, ok := m.withoutID(text); ok {
			out = append(out, text)
		}
	}
	return out
}

func (m *mapper) withoutID(text string) (string, bool) {
	words, told := strings.Fields(text), false
	for i := 0; i < len(words); i++ {
		for n := min(m.withheld.words, len(words)-i); n > 0; n-- { // the longest that begins here
			before, id, after := m.privateID(strings.Join(words[i:i+n], " "))
			if id == "" {
				continue
			}
			if bare(id) {
				return "", false
			}
			words[i], told = before+m.nameOf(id)+after, true
			words = slices.Delete(words, i+1, i+n)
			break
		}
	}
	if !told {
		return text, true
	}
	return strings.Join(words, " "), true
}

// privateID finds a private id in words of a text that hold nothing else, with what stands before and behind it; "" where they are none.
func (m *mapper) privateID(words string) (before, id, after string) {
	const opening, closing, either = `("“[`, `.,;:)"”]…`, `("“[.,;:)”]…`
	for _, bare := range []string{words, strings.TrimRight(words, closing), strings.TrimLeft(words, opening), strings.Trim(words, either), strings.TrimSuffix(words, "'s"), strings.TrimSuffix(strings.Trim(words, either), "'s")} {
		if bare != "" && m.nameOf(bare) != "" {
			before, after, _ = strings.Cut(words, bare)
			return before, bare, after
		}
	}
	return "", "", ""
}

// nameOf is what stands for a private id, of a stone or of a record; "" for another.
func (m *mapper) nameOf(id string) string {
	if name, ok := m.withheld.stones[model.StoneID(id)]; ok {
		return string(name)
	}
	return string(m.withheld.records[model.RecordID(id)])
}
