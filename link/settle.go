package link

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"musterstone/link/assign"
	"musterstone/model"
)

// contend is the probability from which a claim counts as one when men are shared out among stones: what a claim left out takes from another stone's is less than it, in proportion. Were
// weaker ones to count, the candidates that a stone has beside its own man would chain nearly all stones of a survey into one component, and a man whom another stone claims by one
// in a million would have a second stone to give.
const contend = 1e-4

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
	records *records
	number  []int32    // by the number of a record among all, its number among the contested plus 1; 0 for one that nobody contends for
	claims  [][2]int32 // of each record, the stones that claim it, and the rows of registers
	places  [][4]int32 // of each record, the number of each of its places plus 1, 0 for one that is not used
	list    []place    // by number
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

// contest finds the records for which stones contend, and counts the claims on each.
func contest(all []weighed, answers []answer) *contested {
	x := &contested{records: number(all)}
	x.number = make([]int32, x.records.n)
	for s := range answers {
		w, list := &all[s], 0
		if w.register {
			list = 1
		}
		for k := range answers[s].list {
			c := &answers[s].list[k]
			if c.p < contend {
				continue
			}
			n := x.records.at(w, int(c.cand))
			if int(n) >= len(x.number) {
				x.number = append(x.number, make([]int32, int(n)+1-len(x.number))...)
			}
			if x.number[n] == 0 {
				x.claims = append(x.claims, [2]int32{})
				x.number[n] = int32(len(x.claims))
			}
			x.claims[x.number[n]-1][list]++
		}
	}
	x.places = make([][4]int32, len(x.claims))
	return x
}

// of is the number of a choice's record among the contested, -1 for one that nobody contends for.
func (x *contested) of(w *weighed, c *choice) int32 {
	n := x.records.at(w, int(c.cand))
	if int(n) >= len(x.number) {
		return -1
	}
	return x.number[n] - 1
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
// the best assignment, and finds which stones claim the same man. A stone with a confirmed record has its man and does not contend. A context that is done ends it with its cause.
func (l *Linker) settle(ctx context.Context, all []weighed, answers []answer) error {
	price := l.another()
	contested := contest(all, answers)
	edges := make([][]assign.Edge, len(all))
	which := make([][]uint16, len(all)) // for each edge, the choice
	for s := range all {
		w := &all[s]
		if len(l.Settled.Confirmed(w.stone)) > 0 {
			continue
		}
		list := answers[s].list
		n := 0
		for k := range list {
			if list[k].p >= contend {
				n++
			}
		}
		edges[s], which[s] = make([]assign.Edge, 0, n), make([]uint16, 0, n)
		for k := range list {
			c := &list[k]
			if c.p < contend {
				continue
			}
			record := contested.of(w, c)
			bits := l.logOdds(w, w.bits(int(c.cand))) / math.Ln2
			at := place{record: record, register: w.register}
			edges[s], which[s] = append(edges[s], assign.Edge{Record: contested.place(at), Bits: bits}), append(which[s], uint16(k))
			if contested.claims[record][at.at()/2] < 2 {
				continue
			}
			at.second = true
			edges[s], which[s] = append(edges[s], assign.Edge{Record: contested.place(at), Bits: bits + price}), append(which[s], uint16(k))
		}
	}
	marginals, err := assign.Marginals(ctx, edges)
	if err != nil {
		return err
	}
	solution, err := assign.Solve(ctx, edges)
	if err != nil {
		return err
	}
	picked := solution.Records
	told := make([]uint8, len(contested.claims)) // of each record, how many stones' claims are told, two or more as two
	assigned := make([]holder, len(contested.list))
	for n := range assigned {
		assigned[n].stone = -1
	}
	for s := range answers {
		a := &answers[s]
		for i, k := range which[s] {
			if i == 0 || which[s][i-1] != k {
				a.list[k].p = 0
			}
			a.list[k].p += marginals[s][i]
			if n := edges[s][i].Record; picked[s] == n {
				assigned[n] = holder{int32(s), k}
			}
		}
		for k := range a.list {
			if c := &a.list[k]; c.p >= toldClaim {
				n := contested.of(&all[s], c)
				told[n] = min(2, told[n]+1)
			}
		}
	}
	l.hand(all, answers, contested, assigned)
	claims := map[int32][]int32{} // of the records that several stones claim, these
	for s := range answers {
		for k := range answers[s].list {
			if c := &answers[s].list[k]; c.p >= toldClaim {
				if n := contested.of(&all[s], c); told[n] > 1 {
					claims[n] = append(claims[n], int32(s))
				}
			}
		}
	}
	inParts(len(answers), func(from, to int) {
		for s := from; s < to; s++ {
			w, a := &all[s], &answers[s]
			w.trim(a)
			for k := range a.list {
				c := &a.list[k]
				if c.p < toldClaim {
					continue
				}
				for _, other := range claims[contested.of(w, c)] {
					if int(other) != s {
						a.rivals = append(a.rivals, rival{uint16(k), other})
					}
				}
			}
		}
	})
	return nil
}

// holder is a stone and one of its choices; stone is -1 where nobody holds the place.
type holder struct {
	stone  int32
	choice uint16
}

// hand marks the best assignment. Of two stones that one man has, the one that speaks more strongly of him is proposed, and the other marked as his second. A row of
// a register, and a stone whose man is confirmed for another, are second to a stone.
func (l *Linker) hand(all []weighed, answers []answer, contested *contested, assigned []holder) {
	at := func(h holder) *choice { return &answers[h.stone].list[h.choice] }
	bits := func(h holder) float64 { return all[h.stone].bits(int(at(h).cand)) }
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
			if ok && bits(first) >= bits(h) {
				at(h).second = true
				continue
			}
			if ok {
				at(first).second = true
			}
		} else if second, ok := held(place{record: where.record, register: where.register, second: true}); ok && bits(second) > bits(h) {
			at(h).second = true
			continue
		}
		_, stone := held(place{record: where.record})
		if where.register && stone || len(l.Settled.ConfirmedStones(all[h.stone].id(int(at(h).cand)))) > 0 {
			at(h).second = true
			continue
		}
		at(h).proposed = true
	}
	for s := range answers {
		for k := range answers[s].list {
			if c := &answers[s].list[k]; all[s].decided(int(c.cand)) == confirmed {
				c.proposed, c.second = true, false
			}
		}
	}
}

// claimNote says that another stone, or a register's row, claims the same man.
func claimNote(s, other *weighed, record model.RecordID) string {
	if s.register != other.register {
		return fmt.Sprintf("%s, from another list, may be the same grave: record %s comes near it too", other.stone, record)
	}
	return fmt.Sprintf("stone %s claims record %s too: one of them is another man's, or he has two stones", other.stone, record)
}

// trim keeps the choices that matter, likeliest first, and makes their probabilities and that of none sum to 1.
func (w *weighed) trim(p *answer) {
	last := func(c choice) int { // refused ones stand behind the others
		if w.decided(int(c.cand)) == refused {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(p.list, func(a, b choice) int {
		return cmp.Or(cmp.Compare(last(a), last(b)), cmp.Compare(b.p, a.p), cmp.Compare(w.bits(int(b.cand)), w.bits(int(a.cand))))
	})
	keep := len(p.list)
	for keep > shown && p.list[keep-1].p < rest && w.decided(int(p.list[keep-1].cand)) == undecided {
		keep--
	}
	p.list = slices.Clone(p.list[:keep])
	total := 0.0
	for _, c := range p.list {
		total += c.p
	}
	if total > 1 {
		for i := range p.list {
			p.list[i].p /= total
		}
		total = 1
	}
	p.none = 1 - total
}

// rest is the probability below which a candidate that stands behind the first ten is left out of a proposal; its share goes to none.
const rest = 0.0005
