package link

import (
	"slices"

	"musterstone/link/calibrate"
	"musterstone/link/ledger"
	"musterstone/model"
)

// decided gives, for each pair that a person has confirmed or refused, the probability that it has without any decision, with what the decisions
// taught of the weights. It is nil where there are too few to learn from.
func (l *Linker) decided(all []weighed) []calibrate.Decided {
	n := 0
	for i := range all {
		for _, c := range all[i].cands {
			if c.Decided == string(model.Confirmed) || c.Decided == string(model.Refused) {
				n++
			}
		}
	}
	if n < calibrate.Least {
		return make([]calibrate.Decided, n)
	}
	open := *l
	open.Settled = ledger.State{}
	undecided := make([]weighed, len(all))
	for i := range all {
		undecided[i] = all[i]
		undecided[i].cands = slices.Clone(all[i].cands)
		for j := range undecided[i].cands {
			c := &undecided[i].cands[j]
			c.Decided = ""
			for _, e := range c.Evidence {
				if e.Field == "decisions" {
					c.Bits -= e.Bits
				}
			}
		}
	}
	probability := map[model.RecordID]float64{}
	var out []calibrate.Decided
	for i, p := range open.answer(undecided) {
		clear(probability)
		for _, c := range p.Candidates {
			probability[c.Record] = c.Probability
		}
		for _, c := range all[i].cands {
			if c.Decided == string(model.Confirmed) || c.Decided == string(model.Refused) {
				out = append(out, calibrate.Decided{P: probability[c.Record], Yes: c.Decided == string(model.Confirmed)})
			}
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
