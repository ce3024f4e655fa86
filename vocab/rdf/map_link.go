package rdf

import (
	"cmp"
	"fmt"
	"slices"

	"musterstone/model"
)

// proposal says what the program thinks of one stone. Each candidate is a thing of its own, never an edge between marker and record.
func (m *mapper) proposal(p model.Proposal) error {
	stone, ok := m.stones[p.Stone]
	if !ok {
		return fmt.Errorf("a proposal is about stone %q, which is not among the stones", p.Stone)
	}
	if stone.held {
		m.sum.hold("proposal", "its stone is held back")
		return nil
	}
	prop := m.id("proposal", string(p.Stone))
	m.is(prop, MS+"Proposal")
	m.iri(prop, MS+"marker", stone.marker)
	m.decimal(prop, MS+"noneProbability", p.None, 6)
	m.texts(prop, MS+"note", p.Notes)
	m.iri(prop, prov+"wasGeneratedBy", m.run)
	for i, c := range p.Candidates {
		held, ok := m.recordSeen(c.Record)
		if !ok {
			return fmt.Errorf("a proposal for stone %q names record %q, which is not among the records", p.Stone, c.Record)
		}
		if held {
			m.sum.hold("candidate", "its record is held back")
			continue
		}
		match := m.match(p.Stone, c.Record)
		m.iri(prop, MS+"candidate", match)
		m.candidate(match, stone, p.Stone, c, i+1)
		m.iri(match, prov+"wasGeneratedBy", m.run)
		m.matches[[2]string{string(p.Stone), string(c.Record)}] = match
	}
	return m.err
}

func (m *mapper) match(stone model.StoneID, record model.RecordID) IRI {
	return m.id("match", string(stone), string(record))
}

func (m *mapper) candidate(match IRI, stone stoneSeen, id model.StoneID, c model.Candidate, order int) {
	m.is(match, MS+"CandidateMatch")
	m.iri(match, MS+"marker", stone.marker)
	m.iri(match, MS+"record", m.id("record", string(c.Record)))
	m.iri(match, MS+"stoneReference", stone.ref)
	m.iri(match, MS+"recordReference", m.recordPerson(c.Record))
	m.integer(match, MS+"order", order)
	m.decimal(match, MS+"probability", c.Probability, 6)
	m.decimal(match, MS+"bits", c.Bits, 3)
	proposed := "false"
	if c.Proposed {
		proposed = "true"
	}
	m.typed(match, MS+"proposed", proposed, xsd+"boolean")
	m.text(match, MS+"status", cmp.Or(c.Decided, "proposed"))
	for i, e := range c.Evidence {
		ev := m.id("evidence", string(id), string(c.Record), fmt.Sprint(i+1))
		m.is(ev, MS+"FieldEvidence")
		m.iri(match, MS+"evidence", ev)
		m.integer(ev, MS+"order", i+1)
		m.text(ev, MS+"field", e.Field)
		m.text(ev, MS+"level", e.Level)
		m.decimal(ev, MS+"bits", e.Bits, 3)
		m.text(ev, MS+"stoneSays", e.Stone)
		m.text(ev, MS+"recordSays", e.Record)
		m.text(ev, MS+"why", e.Why)
	}
}

// decisions says what people decided, in the order in which they did, and links what stands confirmed.
func (m *mapper) decisions(all []model.Decision) error {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b model.Decision) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
	})
	superseded := map[string]bool{}
	for _, d := range all {
		m.decided[d.ID] = true
		if d.Supersedes != "" {
			superseded[d.Supersedes] = true
		}
	}
	type pair struct {
		stone  model.StoneID
		record model.RecordID
	}
	verdicts := map[pair]map[model.Verdict][]model.Decision{}
	var order []pair
	for _, d := range all {
		stone, ok := m.stones[d.Stone]
		held, ok2 := m.recordSeen(d.Record)
		switch {
		case ok && stone.held || held:
			m.sum.hold("decision", "its stone or its record is held back")
			continue
		case !ok || !ok2:
			// The survey has changed since: the decision is kept as it was made, and links nothing.
			m.sum.Orphans++
		}
		stands := !superseded[d.ID] && d.As != model.Withdrawn
		if err := m.decision(d, stands, ok, ok2); err != nil {
			return err
		}
		if stands && ok && ok2 {
			p := pair{d.Stone, d.Record}
			if verdicts[p] == nil {
				verdicts[p] = map[model.Verdict][]model.Decision{}
				order = append(order, p)
			}
			verdicts[p][d.As] = append(verdicts[p][d.As], d)
		}
	}
	var links []link
	for _, p := range order {
		v := verdicts[p]
		if len(v[model.Confirmed]) > 0 && len(v[model.Refused]) == 0 {
			links = append(links, link{p.stone, p.record, v[model.Confirmed]})
		}
	}
	m.persons(links)
	return m.err
}

func (m *mapper) decision(d model.Decision, stands, stoneKnown, recordKnown bool) error {
	dec, err := m.once("decision", d.ID)
	if err != nil {
		return err
	}
	m.is(dec, MS+"Decision", prov+"Activity")
	m.text(dec, dct+"identifier", d.ID)
	if stoneKnown {
		m.iri(dec, MS+"marker", m.id("marker", string(d.Stone)))
	} else {
		m.text(dec, MS+"note", fmt.Sprintf("about marker %q, which this dataset does not have", d.Stone))
	}
	if recordKnown {
		m.iri(dec, MS+"record", m.id("record", string(d.Record)))
	} else {
		m.text(dec, MS+"note", fmt.Sprintf("about service record %q, which this dataset does not have", d.Record))
	}
	m.iri(dec, prov+"used", m.matches[[2]string{string(d.Stone), string(d.Record)}])
	m.code(dec, "verdict", "verdict", string(d.As))
	m.text(dec, MS+"rationale", d.Because)
	m.iri(dec, prov+"wasAssociatedWith", m.agent(d.By))
	m.typed(dec, prov+"endedAtTime", d.At.UTC().Format("2006-01-02T15:04:05Z"), xsd+"dateTime")
	switch {
	case m.decided[d.Supersedes]:
		m.iri(dec, MS+"supersedes", m.id("decision", d.Supersedes))
	case d.Supersedes != "":
		m.text(dec, MS+"note", fmt.Sprintf("takes the place of decision %q, which this dataset does not have", d.Supersedes))
	}
	value := "false"
	if stands {
		value = "true"
	}
	m.typed(dec, MS+"stands", value, xsd+"boolean")
	if d.Seen != nil {
		m.text(dec, MS+"program", d.Seen.Program)
		if d.Seen.Proposal != nil {
			for _, c := range d.Seen.Proposal.Candidates {
				if c.Record == d.Record {
					m.decimal(dec, MS+"seenProbability", c.Probability, 6)
					m.decimal(dec, MS+"seenBits", c.Bits, 3)
				}
			}
		}
	}
	return m.err
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
		con := m.id("link", string(l.stone), string(l.record))
		m.is(con, MS+"ConfirmedLink")
		m.iri(con, MS+"marker", stone.marker)
		m.iri(con, MS+"record", m.id("record", string(l.record)))
		m.iri(con, MS+"stoneReference", stone.ref)
		m.iri(con, MS+"recordReference", m.recordPerson(l.record))
		m.iri(con, MS+"identifies", person)
		m.iri(person, MS+"identifiedBy", con)
		for _, d := range l.by {
			m.iri(con, prov+"wasGeneratedBy", m.id("decision", d.ID))
		}
		m.sum.Links++
	}
}

// finding says that a veteran seems to have no government marker.
func (m *mapper) finding(f model.Finding) error {
	stone, ok := m.stones[f.Stone]
	held, ok2 := m.recordSeen(f.Record)
	if f.Stone != "" && !ok || f.Record != "" && !ok2 {
		return fmt.Errorf("a finding is about stone %q and record %q, which are not both among the stones and records", f.Stone, f.Record)
	}
	if stone.held || held {
		m.sum.hold("finding", "its stone or its record is held back")
		return nil
	}
	fin := m.id("finding", f.Kind, string(f.Stone), string(f.Record))
	m.is(fin, MS+"Finding")
	m.iri(fin, MS+"marker", stone.marker)
	if f.Record != "" {
		m.iri(fin, MS+"record", m.id("record", string(f.Record)))
	}
	m.code(fin, "findingKind", "finding", f.Kind)
	m.decimal(fin, MS+"probability", f.Probability, 6)
	m.code(fin, "conflict", "conflict", string(f.Conflict))
	m.texts(fin, MS+"reason", f.Reasons)
	m.texts(fin, MS+"toShow", f.ToShow)
	m.iri(fin, prov+"wasGeneratedBy", m.run)
	return m.err
}
