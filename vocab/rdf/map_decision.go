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
// refused it, or said of the stone that none of the records is its man.
func (m *mapper) decisions(all []model.Decision) error {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b model.Decision) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
	})
	superseded := map[string]bool{}
	for _, d := range all {
		m.decided[d.ID] = true
		superseded[d.Supersedes] = true
		for _, id := range d.Instead {
			superseded[id] = true
		}
	}
	verdicts := map[stonePair]map[model.Verdict][]model.Decision{}
	none := map[model.StoneID]bool{}
	var order []stonePair
	for _, d := range all {
		stone, ok := m.stones[d.Stone]
		record, ok2 := m.recordSeen(d.Record)
		switch {
		case ok && stone.held || record.held:
			m.hold("decision", d.ID, "its stone or its record is held back")
			continue
		case !ok || d.Record != "" && !ok2:
			// The survey has changed since: the decision is kept as it was made, and links nothing.
			m.sum.Orphans++
		}
		stands := !superseded[d.ID] && d.As != model.Withdrawn
		if err := m.decision(d, stands, ok, ok2); err != nil {
			return err
		}
		switch p := (stonePair{d.Stone, d.Record}); {
		case stands && d.As == model.NoneOfThese:
			none[d.Stone] = true
		case stands && ok && ok2:
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
		if len(v[model.Confirmed]) > 0 && len(v[model.Refused]) == 0 && !none[p.stone] {
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
	default:
		m.text(dec, MS+"note", fmt.Sprintf("about service record %q, which this dataset does not have", d.Record))
	}
	m.iri(dec, prov+"used", m.matches[[2]string{string(d.Stone), string(d.Record)}])
	m.code(dec, "verdict", "verdict", string(d.As))
	m.text(dec, MS+"rationale", d.Because)
	m.iri(dec, prov+"wasAssociatedWith", m.agent(d.By))
	m.typed(dec, prov+"endedAtTime", d.At.UTC().Format("2006-01-02T15:04:05Z"), xsd+"dateTime")
	for _, id := range append([]string{d.Supersedes}, d.Instead...) {
		switch {
		case m.decided[id]:
			m.iri(dec, MS+"supersedes", m.id("decision", id))
		case id != "":
			m.text(dec, MS+"note", fmt.Sprintf("takes the place of decision %q, which this dataset does not have", id))
		}
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
	entry, err := json.Marshal(m.publicDecision(d))
	if err != nil {
		return fmt.Errorf("write decision %s as JSON: %w", d.ID, err)
	}
	m.text(dec, MS+"ledgerEntry", string(entry))
	return m.err
}

// publicDecision is a decision without what is held back: candidates whose records are, the values that evidence, sayings and notes rest on where a
// private column took something from the stone or the record, and the private cells themselves.
func (m *mapper) publicDecision(d model.Decision) model.Decision {
	if d.Seen == nil {
		return d
	}
	seen := *d.Seen
	stone := m.stones[d.Stone]
	own, known := m.recordSeen(d.Record)
	if seen.Proposal != nil {
		p := *seen.Proposal
		p.Candidates = nil
		for _, c := range seen.Proposal.Candidates {
			record, ok := m.recordSeen(c.Record)
			if record.held || !ok && len(m.private) > 0 {
				continue
			}
			if stone.private || record.private {
				c.Evidence = slices.Clone(c.Evidence)
				for i := range c.Evidence {
					c.Evidence[i].Stone, c.Evidence[i].Record, c.Evidence[i].Why = "", "", ""
				}
			}
			p.Candidates = append(p.Candidates, c)
		}
		if stone.private {
			p.Notes = nil
		}
		seen.Proposal = &p
	}
	seen.Said = slices.DeleteFunc(slices.Clone(seen.Said), func(c model.Cell) bool { return m.private[strings.ToLower(c.Column)] })
	if own.private || !known && len(m.private) > 0 {
		seen.Man = ""
	}
	d.Seen = &seen
	return d
}
