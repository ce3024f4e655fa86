package rdf

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"musterstone/model"
)

// stonePair is a stone and a record.
type stonePair struct {
	stone  model.StoneID
	record model.RecordID
}

// decisions says what people decided, in the order in which they did, and links what stands confirmed: where somebody confirmed it and nobody
// refused it, or said of the stone that none of the records is its man and nothing else of this one.
func (m *mapper) decisions(all []model.Decision) error {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b model.Decision) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
	})
	stands := m.data.Stands
	if stands == nil {
		stands = standing(all)
	}
	for i, d := range all {
		all[i] = m.openDecision(d)
	}
	all = m.mayGoOut(all)
	for _, d := range all {
		m.decided[d.ID] = true
	}
	voices := map[stonePair][]model.Decision{}
	none := map[model.StoneID][]string{} // by whom
	var order []stonePair
	for _, d := range all {
		_, ok := m.stones[d.Stone]
		_, ok2 := m.recordSeen(d.Record)
		ok2 = ok2 && !m.data.Astray[d.ID]
		if !ok || d.Record != "" && !ok2 {
			// The survey has changed since: the decision is kept as it was made, and links nothing.
			m.sum.Orphans++
		}
		speaks := stands[d.ID] && d.As != model.Withdrawn
		if err := m.decision(d, speaks, ok, ok2); err != nil {
			return err
		}
		switch p := (stonePair{d.Stone, d.Record}); {
		case !speaks:
		case d.As == model.NoneOfThese:
			none[d.Stone] = append(none[d.Stone], d.By)
		case ok && ok2 && (d.As == model.Confirmed || d.As == model.Refused):
			if voices[p] == nil {
				order = append(order, p)
			}
			voices[p] = append(voices[p], d)
		}
	}
	var links []link
	for _, p := range order {
		if by := undisputed(voices[p], none[p.stone]); by != nil {
			links = append(links, link{p.stone, p.record, by})
		}
	}
	m.persons(links)
	return m.err
}

// undisputed gives the decisions that confirm a pair, where nobody is against it.
func undisputed(voices []model.Decision, none []string) []model.Decision {
	by := map[string]bool{}
	for _, d := range voices {
		if d.As != model.Confirmed {
			return nil
		}
		by[d.By] = true
	}
	for _, who := range none {
		if !by[who] {
			return nil
		}
	}
	return voices
}

// standing has the ids of the decisions that no other supersedes, nor one of the same person's on the same stone sets aside.
func standing(all []model.Decision) map[string]bool {
	type own struct {
		by    string
		stone model.StoneID
		id    string
	}
	superseded, aside := map[string]bool{}, map[own]bool{}
	for _, d := range all {
		superseded[d.Supersedes] = true
		for _, id := range d.Instead {
			aside[own{d.By, d.Stone, id}] = true
		}
	}
	stands := map[string]bool{}
	for _, d := range all {
		stands[d.ID] = !superseded[d.ID] && !aside[own{d.By, d.Stone, d.ID}]
	}
	return stands
}

// mayGoOut leaves out, and tells, the decisions on what is held back, and notes with their withdrawals where they stay at home.
func (m *mapper) mayGoOut(all []model.Decision) []model.Decision {
	notes := map[string]bool{}
	for _, d := range all {
		notes[d.ID] = d.As == model.Noted
	}
	var out []model.Decision
	for _, d := range all {
		record, _ := m.recordSeen(d.Record)
		switch {
		case m.stones[d.Stone].held || record.held:
			m.hold("decision", d.ID, heldWithIts)
			m.heldBack[m.id("decision", d.ID).String()] = false
		case !m.data.PublishNotes && (notes[d.ID] || notes[d.Supersedes]):
			m.hold("note", d.ID, heldNote)
			m.heldBack[m.id("decision", d.ID).String()] = false
		default:
			out = append(out, d)
		}
	}
	return out
}

func (m *mapper) decision(d model.Decision, stands, stoneKnown, recordKnown bool) error {
	dec, err := m.once("decision", d.ID)
	if err != nil {
		return err
	}
	m.is(dec, MS+"Decision", prov+"Activity")
	m.english(dec, rdfs+"label", "Decision "+d.ID)
	m.text(dec, dct+"identifier", d.ID)
	if stoneKnown {
		m.iri(dec, MS+"marker", m.stones[d.Stone].marker)
	} else {
		m.text(dec, MS+"note", fmt.Sprintf("about marker %q, which this dataset does not have", d.Stone))
	}
	switch {
	case d.Record == "":
	case recordKnown:
		m.iri(dec, MS+"record", m.id("record", string(d.Record)))
	case m.data.Astray[d.ID]:
		m.text(dec, MS+"note", fmt.Sprintf("about a service record that had the id %q then, which is another man's in this dataset", d.Record))
	default:
		m.text(dec, MS+"note", fmt.Sprintf("about service record %q, which this dataset does not have", d.Record))
	}
	if recordKnown {
		m.iri(dec, prov+"used", m.matches[stonePair{d.Stone, d.Record}])
	}
	m.code(dec, MS+"verdict", "verdict", string(d.As))
	m.text(dec, MS+"rationale", d.Because)
	m.iri(dec, prov+"wasAssociatedWith", m.agent(d.By))
	m.instant(dec, prov+"endedAtTime", d.At)
	for _, id := range append([]string{d.Supersedes}, d.Instead...) {
		switch {
		case m.decided[id]:
			m.iri(dec, MS+"supersedes", m.id("decision", id))
		case id != "":
			m.text(dec, MS+"note", fmt.Sprintf("takes the place of decision %q, which this dataset does not have", id))
		}
	}
	m.boolean(dec, MS+"stands", stands)
	if d.Seen != nil {
		m.text(dec, MS+"program", d.Seen.Program)
		if d.Seen.Proposal != nil {
			if d.Record == "" {
				m.decimal(dec, MS+"seenNone", d.Seen.Proposal.None, 6)
			}
			for _, c := range d.Seen.Proposal.Candidates {
				if d.Record != "" && c.Record == d.Record {
					m.decimal(dec, MS+"seenProbability", c.Probability, 6)
					m.decimal(dec, MS+"seenBits", c.Bits, 3)
				}
			}
		}
	}
	public, whole := m.publicDecision(d)
	if m.data.Astray[d.ID] && !whole {
		return m.err // without what the record said, whoever reads it back would take it for the other man's
	}
	entry, err := json.Marshal(public)
	if err != nil {
		return fmt.Errorf("write decision %s as JSON: %w", d.ID, err)
	}
	m.text(dec, MS+"ledgerEntry", string(entry))
	return m.err
}

// publicDecision is a decision without what is held back: candidates whose records are, the values that evidence, sayings and notes rest on where a
// private column took something from the stone or the record, and the private cells themselves. whole is set where what its own record said is all there.
func (m *mapper) publicDecision(d model.Decision) (public model.Decision, whole bool) {
	if d.Seen == nil {
		return d, true
	}
	seen := *d.Seen
	stone := m.stones[d.Stone]
	own, known := m.recordSeen(d.Record)
	if seen.Proposal != nil {
		seen.Proposal = m.publicProposal(*seen.Proposal, stone)
	}
	seen.Said = slices.DeleteFunc(slices.Clone(seen.Said), func(c model.Cell) bool { return m.private[strings.ToLower(c.Column)] })
	if own.private || !known && m.guarded {
		seen.Man = ""
	}
	whole = seen.Man == d.Seen.Man && len(seen.Said) == len(d.Seen.Said)
	d.Seen = &seen
	return d, whole
}

// publicProposal is a proposal without the candidates whose records are held back, and without what tells of them.
func (m *mapper) publicProposal(p model.Proposal, stone stoneSeen) *model.Proposal {
	all := p.Candidates
	p.Candidates = nil
	hidden := stone.private
	for _, c := range all {
		record, ok := m.recordSeen(c.Record)
		if record.held || !ok && m.guarded {
			hidden = true
			continue
		}
		hidden = hidden || record.private
		if stone.private || record.private {
			c.Evidence = slices.Clone(c.Evidence)
			for i := range c.Evidence {
				c.Evidence[i].Stone, c.Evidence[i].Record, c.Evidence[i].Why = "", "", ""
			}
			c.Namesakes = nil
		}
		p.Candidates = append(p.Candidates, c)
	}
	if hidden {
		p.Notes, p.RunnerUp, p.WouldChange = nil, nil, nil
	}
	return &p
}
