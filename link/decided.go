package link

import (
	"slices"

	"musterstone/link/calibrate"
	"musterstone/link/ledger"
	"musterstone/model"
)

// decided gives, for each stone of which a person has said whose it is or is not, the probability that its best candidate has without any decision, with what
// the decisions taught of the weights, and whether that candidate was right: what is calibrated is the best candidate, and the others of a stone on which a person
// said "none of these" would swamp it. It has no probabilities where there are too few stones to learn from.
func (l *Linker) decided(all []weighed) []calibrate.Decided {
	said := func(i int) bool {
		return all[i].nobody || slices.ContainsFunc(all[i].cands, func(c model.Candidate) bool {
			return c.Decided == string(model.Confirmed) || c.Decided == string(model.Refused)
		})
	}
	n := 0
	for i := range all {
		if said(i) {
			n++
		}
	}
	if n < calibrate.Least {
		return make([]calibrate.Decided, n)
	}
	open := *l
	open.Settled = ledger.State{}
	undecided := make([]weighed, len(all))
	for i := range all {
		w := &undecided[i]
		*w = all[i]
		w.prior, w.nobody = w.open, false
		w.cands = slices.Clone(w.cands)
		for j := range w.cands {
			c := &w.cands[j]
			c.Decided = ""
			c.Bits -= all[i].otherBits(j)
		}
	}
	var out []calibrate.Decided
	for i, p := range open.answer(undecided) {
		if !said(i) || len(p.Candidates) == 0 {
			continue
		}
		best, as, settled := p.Candidates[0], "", all[i].nobody
		for _, c := range all[i].cands {
			if c.Record == best.Record {
				as = c.Decided
			}
			settled = settled || c.Decided == string(model.Confirmed)
		}
		switch {
		case as == string(model.Confirmed):
			out = append(out, calibrate.Decided{P: best.Probability, Yes: true})
		case as == string(model.Refused) || settled:
			out = append(out, calibrate.Decided{P: best.Probability})
		}
	}
	return out
}

// calibrated puts the calibrated probability in the place of each undecided stone's best one; the others and none share what is left as they did.
func (l *Linker) calibrated(proposals []model.Proposal, m calibrate.Map) {
	if m.Kind == calibrate.AsItIs {
		return
	}
	for i := range proposals {
		p := &proposals[i]
		if len(p.Candidates) == 0 || len(l.Settled.Confirmed(p.Stone)) > 0 || p.Candidates[0].Decided != "" {
			continue
		}
		was := p.Candidates[0].Probability
		is := m.Of(was)
		if was <= 0 || was >= 1 || is >= 1 {
			continue
		}
		rest := (1 - is) / (1 - was)
		p.Candidates[0].Probability = is
		for j := range p.Candidates[1:] {
			p.Candidates[1+j].Probability *= rest
		}
		p.None *= rest
	}
}
