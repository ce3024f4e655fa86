package rdf

import (
	"bytes"
	"iter"
	"net/url"
	"slices"
	"strings"

	"musterstone/model"
)

// closes reports whether lines of an earlier publication say what stays at home today: cells of a column that is private now, ids for which numbers stand and cells that repeat them, who recorded a stone, and people, records, decisions
// and notes that are held back. What such a publication has more than this one must not be told again as what is gone.
func (m *mapper) closes(lines iter.Seq2[[]byte, error]) (bool, error) {
	for line, err := range lines {
		if err != nil {
			return false, err
		}
		if m.closesLine(line) {
			return true, nil
		}
	}
	return false, nil
}

var (
	columnMark   = []byte("/column/")
	identifiedBy = []byte(" <" + dct + "identifier> ")
	attributedTo = []byte(" <" + prov + "wasAttributedTo> ")
)

func (m *mapper) closesLine(line []byte) bool {
	document := documentOf(line)
	if parts, held := m.heldBack[string(document)]; held {
		part := bytes.TrimPrefix(line[1:max(1, bytes.IndexByte(line, '>'))], document)
		if !parts || bytes.HasPrefix(part, []byte("#inscription")) || bytes.HasPrefix(part, []byte("#reading-")) || bytes.HasPrefix(part, []byte("#person-")) {
			return true
		}
	}
	switch {
	case m.holdsRecord(document):
		return true
	case bytes.Contains(line, attributedTo):
		return !m.data.NameRecorders
	case bytes.Contains(line, identifiedBy):
		if !m.withholds() {
			return false
		}
		t, err := parseLine(line)
		return err == nil && m.nameOf(t.Obj.String()) != ""
	case m.guarded && bytes.Contains(line, columnMark):
		t, err := parseLine(line)
		if err != nil {
			return false
		}
		_, at, _ := strings.Cut(t.Pred.String(), "/column/")
		file, column, found := strings.Cut(at, "#")
		name, err := url.PathUnescape(column)
		return found && err == nil && (m.private[strings.ToLower(name)] || m.closesCell(m.fileOf(file), name, string(document), t.Obj.String()))
	case m.withholds() && saysWords(line):
		t, err := parseLine(line)
		return err == nil && m.openText(t.Obj.String()) != t.Obj.String()
	}
	return false
}

// wordsOf are the properties that say what somebody has put in his own words, so that an id may be among them.
var wordsOf = func() (marks [][]byte) {
	for _, name := range []string{"photo", "note", "emblem", "condition", "remarks", "birthplace", "residence", "deathPlace", "buried", "relation", "rationale", "plotNumber", "plotRow", "section"} {
		marks = append(marks, []byte(" <"+MS+name+"> "))
	}
	return marks
}()

func saysWords(line []byte) bool {
	return slices.ContainsFunc(wordsOf, func(mark []byte) bool { return bytes.Contains(line, mark) })
}

// fileOf is the file of the survey whose columns stand under a name in their IRIs.
func (m *mapper) fileOf(name string) string {
	for file := range m.tables {
		if strings.ReplaceAll(percent(file), "%2F", "~") == name {
			return file
		}
	}
	return ""
}

// closesCell reports whether a cell of a document would be said otherwise today, for the private ids in it.
func (m *mapper) closesCell(file, column, document, value string) bool {
	if !m.withholds() {
		return false
	}
	switch id := strings.TrimSpace(value); m.speech(file, column) {
	case unreadWords:
		return m.openText(value) != value || m.repeats(document, id)
	case anyWords:
		return m.openText(value) != value
	case ownPlace:
		return !bare(id) && m.isOf(document, id)
	}
	return false
}

// repeats reports whether a cell of a document says a private id: of a bare number or word only in the row that has it.
func (m *mapper) repeats(document, value string) bool {
	return m.nameOf(value) != "" && (!bare(value) || m.isOf(document, value))
}

// isOf reports whether a document is that of the stone, or of the record, which has a private id.
func (m *mapper) isOf(document, id string) bool {
	stone, record := m.withheld.stones[model.StoneID(id)], m.withheld.records[model.RecordID(id)]
	return stone != "" && document == m.id("marker", string(stone)).String() || record != "" && document == m.id("record", string(record)).String()
}

// holdsRecord reports whether a document is that of a record which is held back.
func (m *mapper) holdsRecord(document []byte) bool {
	at := bytes.LastIndex(document, []byte("/id/record-"))
	if at < 0 {
		return false
	}
	name := string(document[at+len("/id/record-"):])
	if len(name) != idLength {
		return false
	}
	b, err := lowerBase32.DecodeString(name + "aaaa") // whole bytes
	return err == nil && m.ids[shortKey(b[:len(shortKey{})])].held
}

// givesPrivate reports whether the metadata give rows something that no cell says and that is private: whether an earlier publication told it cannot be seen from its cells.
func (g *guard) givesPrivate() bool {
	for _, u := range g.unwritten {
		if len(u.private) > 0 {
			return true
		}
	}
	return false
}
