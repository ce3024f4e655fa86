package rdf

import (
	"cmp"
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
	shapes  idShapes
	bare    map[columnKey]bareCells
}

// bareCells are the filled cells of a column: those with what stands for an id, those that are a bare number or word and somewhere a private id, and the others.
type bareCells struct{ named, bare, other int }

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
		w.told, w.bare = map[string]bool{}, map[columnKey]bareCells{}
	}
	h := hmac.New(sha256.New, w.key)
	h.Write(norm.NFC.AppendString(append([]byte(kind), 0), id))
	name := withheldPrefix + lowerBase32.EncodeToString(h.Sum(nil))[:withheldLength]
	w.own[name] = id
	w.shapes.add(id)
	return name, nil
}

// meetIDs names all private ids before anything is said: a row may name one that comes after it.
func (m *mapper) meetIDs() error {
	if !m.guarded {
		return nil
	}
	m.files = map[model.RecordID]string{}
	for _, d := range m.data.Decisions {
		m.files[d.Record] = ""
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

// openStone gives a stone under the id that may be published, and with what stands for private ids where its row names some.
func (m *mapper) openStone(sub *model.Subject) (*model.Subject, error) {
	s, name := sub.Stone, ""
	if m.closed(s.Source, s.Written, string(s.ID)) {
		var err error
		if name, err = m.standInOfStone(s.ID); err != nil {
			return nil, err
		}
		m.withheld.told[name] = true
	}
	if !m.withholds() {
		return sub, nil
	}
	stone, open := *s, *sub
	open.Stone = &stone
	if cells := m.openCells(s.Source.File, s.Written, string(s.ID), name); cells != nil {
		stone.Written = cells
	}
	m.countBare(s.Source.File, stone.Written)
	for _, text := range []*string{&stone.Photo, &stone.Recorder, &stone.Notes, &stone.Marker.Emblem, &stone.Marker.Condition} {
		*text = m.openText(*text)
	}
	if name != "" {
		for _, text := range []*string{&stone.Place.Section, &stone.Place.Row, &stone.Place.Plot} {
			if strings.TrimSpace(*text) == string(s.ID) && !bare(string(s.ID)) {
				*text = name
			}
		}
		stone.ID = model.StoneID(name)
	}
	if s.Register != nil {
		claim := *s.Register
		m.openClaim(&claim)
		stone.Register = &claim
		open.Readings = slices.Clone(open.Readings)
		for i := range open.Readings {
			people := slices.Clone(open.Readings[i].People)
			for k := range people {
				m.openClaim(&people[k])
			}
			open.Readings[i].People = people
		}
	}
	return &open, nil
}

// openRecord gives a record under the id that may be published, and with what stands for private ids where its row names some. The name that it has in a graph goes with its id.
func (m *mapper) openRecord(r *model.Record) (*model.Record, error) {
	if _, ok := m.files[r.ID]; ok {
		m.files[r.ID] = r.Source.File
	}
	name := ""
	if m.closed(r.Source, r.Written, string(r.ID)) {
		var err error
		if name, err = m.standInOfRecord(r.ID); err != nil {
			return nil, err
		}
		m.withheld.told[name] = true
	}
	if !m.withholds() {
		return r, nil
	}
	open := *r
	if cells := m.openCells(r.Source.File, r.Written, string(r.ID), name); cells != nil {
		open.Written = cells
	}
	m.countBare(r.Source.File, open.Written)
	m.openClaim(&open.Claim)
	if name != "" {
		open.ID, open.Source.Subject = model.RecordID(name), ""
	}
	return &open, nil
}

// openClaim puts what stands for private ids into what a row says in words of its writer's.
func (m *mapper) openClaim(c *model.Claim) {
	p := &c.Person
	for _, text := range []*string{&p.Birthplace, &p.Residence, &p.DeathPlace, &p.Buried, &p.Relation, &c.Service.Remarks} {
		*text = m.openText(*text)
	}
}

// What a cell may say of ids: nothing, where letters and numbers are read as a name, a unit or a date; where its row is, which may be its id; anything, in words of its writer's; and that in a column which is read as nothing.
type speech int

const (
	noID speech = iota
	ownPlace
	anyWords
	unreadWords
)

// speech is what the cells of a column may say of ids.
func (g *guard) speech(file, column string) speech {
	term := strings.TrimPrefix(strings.ToLower(column), "ms:") // as the cells of a graph name it
	if place, ok := g.tables[file][column]; ok {
		if term = strings.TrimPrefix(place.term, MS); term == "" {
			return unreadWords
		}
	}
	switch term {
	case "section", "row", "plot":
		return ownPlace
	case "photo", "recorder", "notes", "emblem", "condition", "birthplace", "residence", "death_place", "buried", "relation", "remarks":
		return anyWords
	}
	if term == "id" || term == "inscription" || claimFields(&model.Claim{}, term) != nil || markerFields(&model.Stone{}, term) != nil {
		return noID
	}
	return unreadWords
}

// openCells are a row's cells with what stands for a private id in place of each that they name; nil where they name none. name stands for the row's own id, where that is private. A bare number or a bare word is taken for an
// id in its own row alone, where a column that is read as nothing says it and nothing else.
func (m *mapper) openCells(file string, cells []model.Cell, own, name string) (out []model.Cell) {
	if !m.withholds() {
		return nil
	}
	for i, c := range cells {
		if c.Value == "" || m.private[strings.ToLower(c.Column)] {
			continue
		}
		open, value := "", strings.TrimSpace(c.Value)
		switch speech := m.speech(file, c.Column); {
		case speech == noID || speech == ownPlace && bare(own):
			continue
		case value == own && name != "" && (speech != anyWords || !bare(own)):
			open, m.withheld.told[name] = name, true
		case speech == ownPlace:
			continue
		default:
			open = m.openText(c.Value)
		}
		if open == c.Value {
			continue
		}
		if out == nil {
			out = slices.Clone(cells)
		}
		out[i].Value = open
	}
	return out
}

// countBare counts of each column that is read as nothing what of its cells goes out and is a bare number or word, and somewhere a private id.
func (m *mapper) countBare(file string, cells []model.Cell) {
	for _, c := range cells {
		if c.Value == "" || m.private[strings.ToLower(c.Column)] || m.speech(file, c.Column) != unreadWords {
			continue
		}
		n := m.withheld.bare[columnKey{file, c.Column}]
		if value := strings.TrimSpace(c.Value); strings.HasPrefix(value, withheldPrefix) {
			n.named++
		} else if bare(value) && m.nameOf(value) != "" {
			n.bare++
		} else {
			n.other++
		}
		m.withheld.bare[columnKey{file, c.Column}] = n
	}
}

// bareNotes tell of the columns that hold nothing but bare numbers and words which are private ids too: they may be meant as these.
func (m *mapper) bareNotes() (notes []string) {
	for _, key := range slices.SortedFunc(maps.Keys(m.withheld.bare), func(a, b columnKey) int {
		return cmp.Or(cmp.Compare(a.file, b.file), cmp.Compare(a.column, b.column))
	}) {
		if n := m.withheld.bare[key]; n.bare > 0 && n.other == 0 {
			are := "cells are"
			if n.bare == 1 {
				are = "cell is"
			}
			notes = append(notes, fmt.Sprintf("%s, column %q: %d %s nothing but a number or word that is a private ID of another row too, and not changed; if the column names those rows, mark it private as well (\"ms:private\": true)",
				key.file, key.column, n.bare, are))
		}
	}
	return notes
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
			e := &c.Evidence[k]
			e.Stone, e.Record = m.openText(e.Stone), m.openText(e.Record)
			e.Why, _ = m.withoutID(e.Why)
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

// openDecision gives a decision with the ids that may be published, in the words too of the person who decided.
func (m *mapper) openDecision(d model.Decision) model.Decision {
	if !m.withholds() {
		return d
	}
	own := d.Record
	d.Stone, d.Record, d.Because = m.stoneID(d.Stone), m.recordID(d.Record), m.openText(d.Because)
	if d.Seen != nil {
		seen := *d.Seen
		if d.Seen.Proposal != nil {
			p := m.openProposal(*d.Seen.Proposal)
			seen.Proposal = &p
		}
		name := ""
		if d.Record != own {
			name = string(d.Record)
		}
		if cells := m.openCells(m.files[own], seen.Said, string(own), name); cells != nil {
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
	text = m.openText(text)
	for _, word := range strings.Fields(text) {
		if m.saysBareID(word) {
			return "", false
		}
	}
	return text, true
}

// saysBareID reports whether a word of a text, without the marks about it, is a bare private id.
func (m *mapper) saysBareID(word string) bool {
	const opening, closing, either = `("“[`, `.,;:)"”]…`, `("“[.,;:)”]…`
	for _, w := range []string{word, strings.TrimRight(word, closing), strings.TrimLeft(word, opening), strings.Trim(word, either), strings.TrimSuffix(word, "'s"), strings.TrimSuffix(strings.Trim(word, either), "'s")} {
		if w != "" && bare(w) && m.nameOf(w) != "" {
			return true
		}
	}
	return false
}

// nameOf is what stands for a private id, of a stone or of a record; "" for another.
func (m *mapper) nameOf(id string) string {
	if name, ok := m.withheld.stones[model.StoneID(id)]; ok {
		return string(name)
	}
	return string(m.withheld.records[model.RecordID(id)])
}
