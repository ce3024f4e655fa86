package rdf

import "musterstone/model"

// Open is what of a dataset may be handed on: the same things in the same order, without what private columns say, as they stood or as they were understood, and under ids that tell none of it.
type Open struct {
	Subjects  []*model.Subject
	Records   []*model.Record
	Proposals []model.Proposal
	Decisions []model.Decision
	Findings  []model.Finding
	// From has, for each of the Findings, its place among the dataset's: some are left out.
	From []int
	// WithheldIDs is how many ids are private, so that numbers stand for them.
	WithheldIDs int
}

// Public opens a dataset, for what is written beside the triples, which are made of the dataset as it is. A stone whose words are private, or a part of a register's row, keeps its place and looks, and no
// finding; one whose condition is private, none that it is failing. Nobody is held back who may be living.
func Public(d *Dataset) (*Open, error) {
	m := &mapper{guard: newGuard(d), data: d, ids: map[shortKey]fate{}, stones: map[model.StoneID]stoneSeen{}, grounds: map[string]bool{}}
	out := &Open{}
	if err := m.meetIDs(); err != nil {
		return nil, err
	}
	if d.Records != nil {
		for whole := range d.Records {
			r, err := m.openRecord(whole)
			if err != nil {
				return nil, err
			}
			open := *r
			open.Claim, m.ids[hashKeys("record", string(r.ID))] = m.redactRecord(r)
			out.Records = append(out.Records, &open)
		}
	}
	if d.Subjects != nil {
		for whole := range d.Subjects {
			sub, err := m.openStone(whole)
			if err != nil {
				return nil, err
			}
			out.Subjects = append(out.Subjects, m.publicSubject(sub))
		}
	}
	for _, p := range d.Proposals {
		p = m.openProposal(p)
		for _, c := range p.Candidates {
			if record, ok := m.recordSeen(c.Record); ok {
				m.meets(p.Stone, record)
			}
		}
		out.Proposals = append(out.Proposals, *m.publicProposal(p, m.stones[p.Stone]))
	}
	m.meetConfirmed()
	for _, e := range d.Decisions {
		open, _ := m.publicDecision(m.openDecision(e))
		out.Decisions = append(out.Decisions, open)
	}
	for i, f := range d.Findings {
		f = m.openFinding(f)
		record, _ := m.recordSeen(f.Record)
		if stone := m.stones[f.Stone]; !stone.held && !stone.isTold(f) {
			out.Findings, out.From = append(out.Findings, m.publicFinding(f, stone, record)), append(out.From, i)
		}
	}
	out.WithheldIDs = len(m.withheld.told)
	return out, nil
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
