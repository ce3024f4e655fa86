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
	record   int32 // its number among the contested
	register bool
	second   bool
}

// contested are the records for which stones contend, numbered as they come.
type contested struct {
	number map[model.RecordID]int32
	of     [][]int32  // for each stone and candidate, the record's number, -1 for one that the stone does not contend for
	claims [][2]int32 // of each record, the stones that claim it, and the rows of registers
	places [][4]int32 // of each record, the number of each of its places plus 1, 0 for one that is not used
	list   []place    // by number
}

// at says which of a record's places is meant.
func (p place) at() int {
	k := 0
	if p.register {
		k = 2
	}
	if p.second {
		k++
	}
	return k
}

func contest(all []weighed, proposals []model.Proposal) *contested {
	x := &contested{number: make(map[model.RecordID]int32, 4*len(all)), of: make([][]int32, len(all))}
	for s := range proposals {
		cands, list := proposals[s].Candidates, 0
		if all[s].subject.Stone.Register != nil {
			list = 1
		}
		x.of[s] = make([]int32, len(cands))
		for c := range cands {
			x.of[s][c] = -1
			if cands[c].Probability < contend {
				continue
			}
			n, ok := x.number[cands[c].Record]
			if !ok {
				n = int32(len(x.claims))
				x.number[cands[c].Record] = n
				x.claims = append(x.claims, [2]int32{})
			}
			x.of[s][c] = n
			x.claims[n][list]++
		}
	}
	x.places = make([][4]int32, len(x.claims))
	return x
}

// place is the number of a place, given where it has none.
func (x *contested) place(p place) int {
	n := &x.places[p.record][p.at()]
	if *n == 0 {
		x.list = append(x.list, p)
		*n = int32(len(x.list))
	}
	return int(*n) - 1
}

// settle lets each record be one stone's, or at a price a second one's: it replaces the posteriors by the marginal probabilities that respect that, marks
// the best assignment, and tells which stones claim the same man. A stone with a confirmed record has its man and does not contend.
func (l *Linker) settle(all []weighed, proposals []model.Proposal) {
	price := l.another()
	contested := contest(all, proposals)
	edges := make([][]assign.Edge, len(all))
	which := make([][]int, len(all)) // for each edge, the candidate
	for s := range all {
		if len(l.Settled.Confirmed(proposals[s].Stone)) > 0 {
			continue
		}
		cands := proposals[s].Candidates
		edges[s], which[s] = make([]assign.Edge, 0, len(cands)), make([]int, 0, len(cands))
		for c := range cands {
			record := contested.of[s][c]
			if record < 0 {
				continue
			}
			bits := l.logOdds(&all[s], cands[c].Bits) / math.Ln2
			at := place{record: record, register: all[s].subject.Stone.Register != nil}
			edges[s], which[s] = append(edges[s], assign.Edge{Record: contested.place(at), Bits: bits}), append(which[s], c)
			if contested.claims[record][at.at()/2] < 2 {
				continue
			}
			at.second = true
			edges[s], which[s] = append(edges[s], assign.Edge{Record: contested.place(at), Bits: bits + price}), append(which[s], c)
		}
	}
	marginals := assign.Marginals(edges)
	picked := assign.Solve(edges).Records
	claims := make([][]int32, len(contested.claims)) // of each record, the stones whose claims are told
	assigned := make([]holder, len(contested.list))
	for n := range assigned {
		assigned[n].stone = -1
	}
	for s := range proposals {
		p := &proposals[s]
		for i, c := range which[s] {
			if i == 0 || which[s][i-1] != c {
				p.Candidates[c].Probability = 0
			}
			p.Candidates[c].Probability += marginals[s][i]
			if n := edges[s][i].Record; picked[s] == n {
				assigned[n] = holder{s, c}
			}
		}
		for c := range p.Candidates {
			if p.Candidates[c].Probability >= toldClaim {
				n := contested.of[s][c]
				claims[n] = append(claims[n], int32(s))
			}
		}
	}
	l.hand(proposals, contested, assigned)
	inParts(len(proposals), func(from, to int) {
		for s := from; s < to; s++ {
			p := &proposals[s]
			trim(p)
			for c := range p.Candidates {
				if p.Candidates[c].Probability < toldClaim {
					continue
				}
				record := p.Candidates[c].Record
				for _, other := range claims[contested.number[record]] {
					if int(other) != s {
						p.Notes = append(p.Notes, claimNote(all[s].subject, all[other].subject, record))
					}
				}
			}
		}
	})
}

// holder is a stone and one of its candidates; stone is -1 where nobody holds the place.
type holder struct{ stone, cand int }

// hand marks the best assignment. Of two stones that one man has, the one that speaks more strongly of him is proposed, and the other marked as his second. A row of
// a register, and a stone whose man is confirmed for another, are second to a stone.
func (l *Linker) hand(proposals []model.Proposal, contested *contested, assigned []holder) {
	at := func(h holder) *model.Candidate { return &proposals[h.stone].Candidates[h.cand] }
	held := func(p place) (holder, bool) {
		n := contested.places[p.record][p.at()]
		if n == 0 || assigned[n-1].stone < 0 {
			return holder{}, false
		}
		return assigned[n-1], true
	}
	for n, h := range assigned {
		if h.stone < 0 {
			continue
		}
		where := contested.list[n]
		if where.second {
			first, ok := held(place{record: where.record, register: where.register})
			if ok && at(first).Bits >= at(h).Bits {
				at(h).Second = true
				continue
			}
			if ok {
				at(first).Second = true
			}
		} else if second, ok := held(place{record: where.record, register: where.register, second: true}); ok && at(second).Bits > at(h).Bits {
			at(h).Second = true
			continue
		}
		_, stone := held(place{record: where.record})
		if where.register && stone || len(l.Settled.ConfirmedStones(at(h).Record)) > 0 {
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
