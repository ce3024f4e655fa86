package link

import (
	"cmp"
	"math"
	"slices"

	"musterstone/model"
)

// Next gives the stones that no decision has settled in the order in which a person should be shown them: those first whose answer settles or teaches
// most. An answer settles the stone's own doubt, counted in bits (the entropy of its candidates and none), and part of the doubt of every other stone that claims one of
// its men; stones of which nothing is in doubt come last, the surest proposals first among them.
func Next(proposals []model.Proposal) []model.StoneID {
	type entry struct {
		stone  model.StoneID
		worth  float64
		sure   float64
		always int
	}
	own := make([]float64, len(proposals))
	claimed := map[model.RecordID]float64{} // the sum of the probabilities with which stones claim the record
	for i := range proposals {
		p := &proposals[i]
		own[i] = surprise(p.None)
		for _, c := range p.Candidates {
			own[i] += surprise(c.Probability)
			claimed[c.Record] += c.Probability
		}
	}
	var list []entry
	for i := range proposals {
		p := &proposals[i]
		if slices.ContainsFunc(p.Candidates, func(c model.Candidate) bool { return c.Decided == string(model.Confirmed) }) {
			continue
		}
		e := entry{stone: p.Stone, worth: own[i], always: i}
		for _, c := range p.Candidates {
			e.worth += c.Probability * max(0, claimed[c.Record]-c.Probability)
			if c.Proposed {
				e.sure = c.Probability
			}
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
