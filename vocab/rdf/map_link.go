package rdf

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
)

// proposal says what the program thinks of one stone. Each candidate is a thing of its own, never an edge between marker and record.
func (m *mapper) proposal(p model.Proposal) error {
	stone, ok := m.stones[p.Stone]
	if !ok {
		return fmt.Errorf("a proposal is about stone %q, which is not among the stones", p.Stone)
	}
	if stone.held {
		m.hold("proposal", string(p.Stone), heldStone)
		return nil
	}
	prop := m.part(stone.marker, "proposal")
	m.is(prop, MS+"Proposal")
	m.iri(prop, MS+"marker", stone.marker)
	m.decimal(prop, MS+"noneProbability", p.None, 6)
	m.texts(prop, MS+"note", m.publicProposal(p, stone).Notes)
	m.iri(prop, prov+"wasGeneratedBy", m.run)
	for i, c := range p.Candidates {
		record, ok := m.recordSeen(c.Record)
		if !ok {
			return fmt.Errorf("a proposal for stone %q names record %q, which is not among the records", p.Stone, c.Record)
		}
		if record.held {
			m.hold("candidate", string(c.Record), heldRecord)
			continue
		}
		stone = m.meets(p.Stone, record)
		match := m.match(stone.marker, c.Record)
		m.iri(prop, MS+"candidate", match)
		m.candidate(match, stone, record, c, i+1)
		m.iri(match, prov+"wasGeneratedBy", m.run)
		m.matches[stonePair{p.Stone, c.Record}] = match
		if c.Person > 0 {
			m.further[stonePair{p.Stone, c.Record}] = c.Person
		}
	}
	return m.err
}

// meets notes of a stone that a record may be its man's, and gives what is known of the stone: what a finding says of it may repeat what the record says.
func (m *mapper) meets(id model.StoneID, record fate) stoneSeen {
	stone, ok := m.stones[id]
	if ok && (record.private || record.war) {
		stone.quotes, stone.war = stone.quotes || record.private, stone.war || record.war
		m.stones[id] = stone
	}
	return stone
}

// meetConfirmed notes the same of the stones and records that people have put together.
func (m *mapper) meetConfirmed() {
	for _, d := range m.data.Decisions {
		if record, ok := m.recordSeen(m.recordID(d.Record)); ok && d.As == model.Confirmed {
			m.meets(m.stoneID(d.Stone), record)
		}
	}
}

// match is a part of the marker; the record stands in it by its digest.
func (m *mapper) match(marker IRI, record model.RecordID) IRI {
	return m.part(marker, "match-"+digest("record", string(record)))
}

// pair says which stone and which record a match or a link is of, and by which words of either: person is the place of the man among those whom the stone names.
func (m *mapper) pair(x IRI, stone stoneSeen, record model.RecordID, person int) {
	m.iri(x, MS+"marker", stone.marker)
	m.iri(x, MS+"record", m.id("record", string(record)))
	if person < len(stone.refs) {
		m.iri(x, MS+"stoneReference", stone.refs[person])
	}
	m.iri(x, MS+"recordReference", m.recordPerson(record))
}

func (m *mapper) candidate(match IRI, stone stoneSeen, record fate, c model.Candidate, order int) {
	m.is(match, MS+"CandidateMatch")
	m.pair(match, stone, c.Record, c.Person)
	m.integer(match, MS+"order", order)
	m.decimal(match, MS+"probability", c.Probability, 6)
	m.decimal(match, MS+"bits", c.Bits, 3)
	m.boolean(match, MS+"proposed", c.Proposed)
	m.text(match, MS+"status", cmp.Or(c.Decided, "proposed"))
	for i, e := range c.Evidence {
		ev := m.also(match, "evidence-"+strconv.Itoa(i+1))
		m.is(ev, MS+"FieldEvidence")
		m.iri(match, MS+"evidence", ev)
		m.integer(ev, MS+"order", i+1)
		m.text(ev, MS+"field", e.Field)
		m.text(ev, MS+"level", e.Level)
		m.decimal(ev, MS+"bits", e.Bits, 3)
		if stone.private || record.private {
			continue // the values may be those of a private column
		}
		m.text(ev, MS+"stoneSays", e.Stone)
		m.text(ev, MS+"recordSays", e.Record)
		m.text(ev, MS+"why", e.Why)
	}
}

// link is a stone and a record that stand confirmed, with the decisions that say so, first made first.
type link struct {
	stone  model.StoneID
	record model.RecordID
	by     []model.Decision
}

// persons says the confirmed links and the men whom they identify. Links that share a stone or a record are about one man; his IRI comes from the first
// decision among them, and so stays the same while that one stands.
func (m *mapper) persons(links []link) {
	leader := map[string]string{}
	find := func(x string) string {
		for leader[x] != "" {
			x = leader[x]
		}
		return x
	}
	for _, l := range links {
		if a, b := find("s\x00"+string(l.stone)), find("r\x00"+string(l.record)); a != b {
			leader[b] = a
		}
	}
	first := map[string]IRI{}
	for _, l := range links {
		group := find("s\x00" + string(l.stone))
		person, ok := first[group]
		if !ok {
			person = m.id("person", l.by[0].ID)
			first[group] = person
			m.is(person, MS+"Person", foaf+"Person")
			m.sum.Persons++
		}
		stone := m.stones[l.stone]
		name := cmp.Or(m.names[l.record], stone.name)
		m.text(person, foaf+"name", name)
		m.text(person, rdfs+"label", name)
		con := m.part(stone.marker, "link-"+digest("record", string(l.record)))
		m.is(con, MS+"ConfirmedLink")
		m.pair(con, stone, l.record, m.further[stonePair{l.stone, l.record}])
		m.iri(con, MS+"identifies", person)
		m.iri(person, MS+"identifiedBy", con)
		m.iri(person, MS+"marker", stone.marker)
		m.iri(person, MS+"record", m.id("record", string(l.record)))
		for _, d := range l.by {
			m.iri(person, prov+"wasGeneratedBy", m.id("decision", d.ID))
			m.iri(con, prov+"wasGeneratedBy", m.id("decision", d.ID))
		}
		m.sum.Links++
	}
}

// finding says that a veteran seems to have no government marker.
func (m *mapper) finding(f model.Finding) error {
	stone, ok := m.stones[f.Stone]
	record, ok2 := m.recordSeen(f.Record)
	if f.Stone != "" && !ok || f.Record != "" && !ok2 {
		return fmt.Errorf("a finding is about stone %q and record %q, which are not both among the stones and records", f.Stone, f.Record)
	}
	if stone.held || record.held {
		m.hold("finding", cmp.Or(string(f.Stone), string(f.Record)), heldWithIts)
		return nil
	}
	if stone.isTold(f) {
		m.hold("finding", string(f.Stone), HeldPrivate)
		return nil
	}
	// A finding is a part of what it is about; the record of a stone's finding stands in it by its digest, and so does the other stone of a man who has a second: there may be a third.
	of, name := stone.marker, "finding-"+slug(f.Kind)
	switch {
	case f.Stone == "":
		of = m.id("record", string(f.Record))
	case f.Kind == model.SecondMarker && len(f.Stones) > 0:
		name += "-" + digest("marker", string(f.Stones[0]))
	case f.Record != "":
		name += "-" + digest("record", string(f.Record))
	}
	fin := m.part(of, name)
	m.is(fin, MS+"Finding")
	m.iri(fin, MS+"marker", stone.marker)
	if f.Record != "" {
		m.iri(fin, MS+"record", m.id("record", string(f.Record)))
	}
	f = m.publicFinding(f, stone, record)
	m.code(fin, MS+"findingKind", "finding", f.Kind)
	m.decimal(fin, MS+"probability", f.Probability, 6)
	m.code(fin, MS+"conflict", "conflict", string(f.Conflict))
	m.texts(fin, MS+"reason", f.Reasons)
	m.texts(fin, MS+"toShow", f.ToShow)
	m.iri(fin, prov+"wasGeneratedBy", m.run)
	return m.err
}

// isTold reports whether a finding of that kind on the stone tells by itself what a private column says.
func (s stoneSeen) isTold(f model.Finding) bool { return s.worn && f.Kind == model.FailingMarker }

// publicFinding is a finding without what may tell what is private of its stone, of its record, of a record that may be the stone's man's, or of others of which its reasons speak.
func (m *mapper) publicFinding(f model.Finding, stone stoneSeen, record fate) model.Finding {
	if stone.war || record.war { // it may be a private column that tells the war, by the record's dates or side or by the design
		f.ToShow = nil
		if !slices.Contains(stone.wars, f.Conflict) {
			f.Conflict = ""
		}
	}
	if stone.private || stone.quotes || record.private || m.guarded && (m.othersPrivate(f) || m.tellsGround(f.Reasons)) {
		f.Reasons = nil
	}
	return f
}

// othersPrivate reports whether private columns took something from one of the others of which a finding's reasons speak. Of one that did not go by it is not known.
func (m *mapper) othersPrivate(f model.Finding) bool {
	for _, id := range f.Stones {
		if s, ok := m.stones[id]; !ok || s.private {
			return true
		}
	}
	for _, id := range f.Records {
		if r, ok := m.recordSeen(id); !ok || r.private {
			return true
		}
	}
	return false
}

// meetsGround notes whether a private column took the name of a stone's burial ground.
func (m *mapper) meetsGround(whole, open *model.Stone) {
	if m.guarded && whole.Place.Cemetery != "" {
		name := strings.ToLower(whole.Place.Cemetery)
		m.grounds[name] = m.grounds[name] || open.Place.Cemetery != ""
	}
}

// tellsGround reports whether reasons name a burial ground that only private cells name.
func (m *mapper) tellsGround(reasons []string) bool {
	for name, open := range m.grounds {
		if !open && slices.ContainsFunc(reasons, func(r string) bool { return strings.Contains(strings.ToLower(r), name) }) {
			return true
		}
	}
	return false
}
