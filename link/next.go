package link

import (
	"cmp"
	"math"
	"slices"

	"musterstone/model"
)

// Asking finds, from proposals that come by one at a time, the order in which a person should be shown the stones that no decision has settled. The zero value has none.
type Asking struct {
	stones  []asked
	claimed map[model.RecordID]float64 // the sum of the probabilities with which stones claim the record
}

// asked is what the order needs of a proposal.
type asked struct {
	stone   model.StoneID
	own     float64 // its own doubt
	sure    float64
	settled bool
	claims  []claim
}

type claim struct {
	record model.RecordID
	p      float64
}

// Add takes a proposal in. It keeps nothing of it but ids and probabilities.
func (a *Asking) Add(p *model.Proposal) {
	if a.claimed == nil {
		a.claimed = map[model.RecordID]float64{}
	}
	e := asked{stone: p.Stone, own: surprise(p.None)}
	for i := range p.Candidates {
		c := &p.Candidates[i]
		e.own += surprise(c.Probability)
		a.claimed[c.Record] += c.Probability
		e.settled = e.settled || c.Decided == string(model.Confirmed)
		if c.Proposed {
			e.sure = c.Probability
		}
	}
	if !e.settled {
		e.claims = make([]claim, len(p.Candidates))
		for i := range p.Candidates {
			e.claims[i] = claim{p.Candidates[i].Record, p.Candidates[i].Probability}
		}
	}
	a.stones = append(a.stones, e)
}

// Next is the order of those that were added: those first whose answer settles or teaches most. An answer settles the stone's own doubt, counted in bits (the entropy of its
// candidates and none), and part of the doubt of every other stone that claims one of its men; stones of which nothing is in doubt come last, the surest proposals first among them.
func (a *Asking) Next() []model.StoneID {
	type entry struct {
		stone  model.StoneID
		worth  float64
		sure   float64
		always int
	}
	var list []entry
	for i := range a.stones {
		s := &a.stones[i]
		if s.settled {
			continue
		}
		e := entry{stone: s.stone, worth: s.own, sure: s.sure, always: i}
		for _, c := range s.claims {
			e.worth += c.p * max(0, a.claimed[c.record]-c.p)
		}
		list = append(list, e)
	}
	slices.SortFunc(list, func(a, b entry) int {
		const nothing = 0.05 // bits
		return cmp.Or(cmp.Compare(max(b.worth, nothing), max(a.worth, nothing)), cmp.Compare(b.sure, a.sure), cmp.Compare(a.always, b.always))
	})
	out := make([]model.StoneID, len(list))
	for i, e := range list {
		out[i] = e.stone
	}
	return out
}

// surprise is what a probability adds to an entropy, in bits.
func surprise(p float64) float64 {
	if p <= 0 || p >= 1 {
		return 0
	}
	return -p * math.Log2(p)
}
