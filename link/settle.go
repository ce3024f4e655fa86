package link

import (
	"fmt"
	"math"
	"slices"

	"musterstone/link/assign"
	"musterstone/model"
)

// contend is the probability from which a claim counts as one when men are shared out among stones.
const contend = 1e-6

// toldClaim is the probability from which another stone's claim on a man is told.
const toldClaim = 0.05

// place is a place that a record has for a stone. A man has one stone as a rule; some have a second (a government stone beside a family
// stone, a cenotaph), which has its price: see another. A burial register is another list of the same graves: its rows do not contend with stones.
type place struct {
	record   model.RecordID
	register bool
	second   bool
}

// settle lets each record be one stone's, or at a price a second one's: it replaces the posteriors by the marginal probabilities that respect that, marks
// the best assignment, and tells which stones claim the same man. A stone with a confirmed record has its man and does not contend.
func (l *Linker) settle(all []weighed, proposals []model.Proposal) {
	number, price := map[place]int{}, l.another()
	var places []place
	contenders := contenders(all, proposals)
	edges := make([][]assign.Edge, len(all))
	which := make([][]int, len(all)) // for each edge, the candidate
	for s := range all {
		if len(l.Settled.Confirmed(proposals[s].Stone)) > 0 {
			continue
		}
		for c, cand := range proposals[s].Candidates {
			if cand.Probability < contend {
				continue
			}
			bits := l.logOdds(&all[s], cand.Bits) / math.Ln2
			at := place{record: cand.Record, register: all[s].subject.Stone.Register != nil}
			for _, second := range []bool{false, true} {
				at.second = second
				if second {
					if contenders[place{record: at.record, register: at.register}] < 2 {
						continue
					}
					bits += price
				}
				n, ok := number[at]
				if !ok {
					n = len(number)
					number[at] = n
					places = append(places, at)
				}
				edges[s] = append(edges[s], assign.Edge{Record: n, Bits: bits})
				which[s] = append(which[s], c)
			}
		}
	}
	marginals := assign.Marginals(edges)
	picked := assign.Solve(edges).Records
	claims := map[model.RecordID][]int{}
	assigned := map[place]holder{}
	for s := range proposals {
		p := &proposals[s]
		for i, c := range which[s] {
			if i == 0 || which[s][i-1] != c {
				p.Candidates[c].Probability = 0
			}
			p.Candidates[c].Probability += marginals[s][i]
			if at := places[edges[s][i].Record]; picked[s] == edges[s][i].Record {
				assigned[at] = holder{s, c}
			}
		}
		for c := range p.Candidates {
			if p.Candidates[c].Probability >= toldClaim {
				claims[p.Candidates[c].Record] = append(claims[p.Candidates[c].Record], s)
			}
		}
	}
	l.hand(proposals, assigned)
	for s := range proposals {
		trim(&proposals[s])
	}
	for s := range proposals {
		p := &proposals[s]
		for _, c := range p.Candidates {
			for _, other := range claims[c.Record] {
				if other != s && c.Probability >= toldClaim {
					p.Notes = append(p.Notes, claimNote(all[s].subject, all[other].subject, c.Record))
				}
			}
		}
	}
}

// holder is a stone and one of its candidates.
type holder struct{ stone, cand int }

// hand marks the best assignment. Of two stones that one man has, the one that speaks more strongly of him is proposed, and the other marked as his second. A row of
// a register, and a stone whose man is confirmed for another, are second to a stone.
func (l *Linker) hand(proposals []model.Proposal, assigned map[place]holder) {
	at := func(h holder) *model.Candidate { return &proposals[h.stone].Candidates[h.cand] }
	for where, h := range assigned {
		if where.second {
			first, ok := assigned[place{record: where.record, register: where.register}]
			if ok && at(first).Bits >= at(h).Bits {
				at(h).Second = true
				continue
			}
			if ok {
				at(first).Second = true
			}
		} else if second, ok := assigned[place{record: where.record, register: where.register, second: true}]; ok && at(second).Bits > at(h).Bits {
			at(h).Second = true
			continue
		}
		_, stone := assigned[place{record: where.record}]
		if where.register && stone || len(l.Settled.ConfirmedStones(where.record)) > 0 {
			at(h).Second = true
			continue
		}
		at(h).Proposed = true
	}
	for s := range proposals {
		for c := range proposals[s].Candidates {
			if p := &proposals[s].Candidates[c]; p.Decided == string(model.Confirmed) {
				p.Proposed, p.Second = true, false
			}
		}
	}
}

// claimNote says that another stone, or a register's row, claims the same man.
func claimNote(s, other *model.Subject, record model.RecordID) string {
	if (s.Stone.Register != nil) != (other.Stone.Register != nil) {
		return fmt.Sprintf("%s, from another list, may be the same grave: record %s comes near it too", other.Stone.ID, record)
	}
	return fmt.Sprintf("stone %s claims record %s too: one of them is another man's, or he has two stones", other.Stone.ID, record)
}

// contenders counts the stones, and apart from them the rows of registers, that claim each record.
func contenders(all []weighed, proposals []model.Proposal) map[place]int {
	n := map[place]int{}
	for s := range proposals {
		for _, c := range proposals[s].Candidates {
			if c.Probability >= contend {
				n[place{record: c.Record, register: all[s].subject.Stone.Register != nil}]++
			}
		}
	}
	return n
}

// trim keeps the candidates that matter, likeliest first, and makes their probabilities and that of none sum to 1.
func trim(p *model.Proposal) {
	slices.SortStableFunc(p.Candidates, func(a, b model.Candidate) int {
		switch {
		case (a.Decided == string(model.Refused)) != (b.Decided == string(model.Refused)):
			if a.Decided == string(model.Refused) {
				return 1
			}
			return -1
		case a.Probability > b.Probability || a.Probability == b.Probability && a.Bits > b.Bits:
			return -1
		case a.Probability == b.Probability && a.Bits == b.Bits:
			return 0
		}
		return 1
	})
	keep := len(p.Candidates)
	for keep > shown && p.Candidates[keep-1].Probability < rest && p.Candidates[keep-1].Decided == "" {
		keep--
	}
	p.Candidates = p.Candidates[:keep:keep]
	total := 0.0
	for _, c := range p.Candidates {
		total += c.Probability
	}
	if total > 1 {
		for i := range p.Candidates {
			p.Candidates[i].Probability /= total
		}
		total = 1
	}
	p.None = 1 - total
}

// rest is the probability below which a candidate that stands behind the first ten is left out of a proposal; its share goes to none.
const rest = 0.0005
