package link

import (
	"context"

	"musterstone/link/calibrate"
	"musterstone/link/ledger"
)

// decided gives, for each stone of which a person has said whose it is or is not, the probability that its best candidate has without any decision, with what
// the decisions taught of the weights, and whether that candidate was right: what is calibrated is the best candidate, and the others of a stone on which a person
// said "none of these" would swamp it. It has no probabilities where there are too few stones to learn from.
func (l *Linker) decided(ctx context.Context, all []weighed) ([]calibrate.Decided, error) {
	said := func(i int) bool {
		if all[i].nobody {
			return true
		}
		for j := range all[i].count() {
			if d := all[i].decided(j); d == confirmed || d == refused {
				return true
			}
		}
		return false
	}
	n := 0
	for i := range all {
		if said(i) {
			n++
		}
	}
	if n < calibrate.Least {
		return make([]calibrate.Decided, n), nil
	}
	open := *l
	open.Settled = ledger.State{}
	without := make([]weighed, len(all))
	for i := range all {
		without[i] = all[i].undecided()
	}
	answers, err := open.answer(ctx, without)
	if err != nil {
		return nil, err
	}
	var out []calibrate.Decided
	for i, a := range answers {
		if !said(i) || len(a.list) == 0 {
			continue
		}
		best, settled := a.list[0], all[i].nobody
		as := all[i].decided(int(best.cand))
		for j := range all[i].count() {
			settled = settled || all[i].decided(j) == confirmed
		}
		switch {
		case as == confirmed:
			out = append(out, calibrate.Decided{P: best.p, Yes: true})
		case as == refused || settled:
			out = append(out, calibrate.Decided{P: best.p})
		}
	}
	return out, nil
}

// calibrated puts the calibrated probability in the place of each undecided stone's best one; the others and none share what is left as they did.
func (l *Linker) calibrated(all []weighed, answers []answer, m calibrate.Map) {
	if m.Kind == calibrate.AsItIs {
		return
	}
	for i := range answers {
		a := &answers[i]
		if len(a.list) == 0 || len(l.Settled.Confirmed(all[i].stone)) > 0 || all[i].decided(int(a.list[0].cand)) != undecided {
			continue
		}
		was := a.list[0].p
		is := m.Of(was)
		if was <= 0 || was >= 1 || is >= 1 {
			continue
		}
		rest := (1 - is) / (1 - was)
		a.list[0].p = is
		for j := range a.list[1:] {
			a.list[1+j].p *= rest
		}
		a.none *= rest
	}
}
