package rdf

import "musterstone/model"

// Public gives the stones, records, proposals and findings of a dataset without what its private columns say, as they stood or as they were understood: for what is written beside the triples, which
// are made of the dataset as it is. A stone whose words are private, or a part of a register's row, keeps its place and looks, and no finding; one whose condition is private, none that it is failing. Nobody is held back who may be living.
func Public(d *Dataset) (subjects []*model.Subject, records []*model.Record, proposals []model.Proposal, findings []model.Finding) {
	m := &mapper{guard: newGuard(d), data: d, ids: map[shortKey]fate{}, stones: map[model.StoneID]stoneSeen{}, grounds: map[string]bool{}}
	if d.Records != nil {
		for r := range d.Records {
			open := *r
			open.Claim, m.ids[hashKeys("record", string(r.ID))] = m.redactRecord(r)
			records = append(records, &open)
		}
	}
	if d.Subjects != nil {
		for sub := range d.Subjects {
			subjects = append(subjects, m.publicSubject(sub))
		}
	}
	for _, p := range d.Proposals {
		for _, c := range p.Candidates {
			if record, ok := m.recordSeen(c.Record); ok {
				m.meets(p.Stone, record)
			}
		}
		proposals = append(proposals, *m.publicProposal(p, m.stones[p.Stone]))
	}
	m.meetConfirmed()
	for _, f := range d.Findings {
		record, _ := m.recordSeen(f.Record)
		if stone := m.stones[f.Stone]; !stone.held && !stone.isTold(f) {
			findings = append(findings, m.publicFinding(f, stone, record))
		}
	}
	return subjects, records, proposals, findings
}

// publicSubject is a stone without what is private, and takes down what that took.
func (m *mapper) publicSubject(sub *model.Subject) *model.Subject {
	s, words, looks := m.redactStone(sub.Stone)
	m.meetsGround(sub.Stone, s)
	open := *s
	out := &model.Subject{Stone: &open, Readings: sub.Readings, Implies: sub.Implies}
	seen := stoneSeen{fate: m.fateOf(sub, words, looks), worn: s.Marker.Condition != sub.Stone.Marker.Condition}
	if words {
		seen.held = true
		out.Readings, open.Marker.Inscription, open.Written = []model.Reading{{}}, "", m.ofMarker(s)
		if open.Register != nil {
			open.Register = new(model.Claim)
		}
	} else if r := sub.Reading(); len(r.People) > 0 {
		seen.wars = r.People[0].Service.Conflicts
	}
	if words || looks {
		out.Implies.Because, out.Implies.Contradictions, out.Implies.Next = nil, nil, ""
	}
	m.stones[s.ID] = seen
	return out
}
