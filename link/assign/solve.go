package assign

import (
	"context"
	"math"
	"slices"
)

// Solution is who gets whom.
type Solution struct {
	// Records has for every stone its record's number, or None.
	Records []int
	// Bits is the sum of the weights of the edges picked.
	Bits float64
	// Hurried are the stones, sorted, of groups so large and so entangled that the best could not be had: see Solve.
	Hurried []int
}

// Solve picks the edges, one a stone and one a record at most, so that the sum of their weights is the greatest there is. Edges of zero bits and below are
// never picked. Of answers with the same sum it gives always the same one: a stone that comes earlier, or claims more strongly, keeps what it
// has. Weights are taken to a millionth of a bit.
//
// Stones that contend with each other, directly or by others, are a group, and each group is solved exactly, by shortest augmenting paths with
// prices on the records (Jonker and Volgenant 1987, on a sparse graph). The strongest claims go first, so that a hundred thousand stones
// that claim the same few men cost little more than reading their edges. A group that has cost 200 million looks at an edge (some
// seconds) is hurried: each stone still to be placed takes the best record that is free, or none. What was placed stays the best for the stones
// placed. Hurried names those stones. A context that is done ends it, within some hundredths of a second, with its cause.
func Solve(ctx context.Context, edges [][]Edge) (Solution, error) { return solve(ctx, edges, patience) }

// patience is how many looks at an edge a group may cost.
const patience = 200_000_000

// solve is Solve with another patience, counted in looks at an edge for each group.
func solve(ctx context.Context, edges [][]Edge, patience int) (Solution, error) {
	m := newMatcher(edges)
	hurried := m.placeAll(ctx, patience)
	if err := context.Cause(ctx); err != nil {
		return Solution{}, err
	}
	out := Solution{Records: m.picked, Hurried: hurried}
	for s, r := range out.Records {
		if r == None {
			continue
		}
		best := math.Inf(-1)
		for _, e := range edges[s] {
			if e.Record == r && isEdge(e) {
				best = max(best, e.bits())
			}
		}
		out.Bits += best
	}
	return out, nil
}

// unit is how much of a bit matters.
const unit = 1.0 / (1 << 20)

// worth is an edge's weight in units of 2^-20 bits, whole so that sums are exact in any order and ties are ties; 0 where it is no edge.
func worth(e Edge) int64 {
	if !isEdge(e) {
		return 0
	}
	return int64(math.Round(e.bits() / unit))
}

// matcher grows a matching, one stone at a time, that is always the best for the stones placed. The price of a record is what the others would
// lose by its being taken, never below zero; a stone holds what is worth most to it less the price, and that no less than none is.
type matcher struct {
	edges  [][]Edge
	picked []int // record of a stone, or None
	holder []int // stone of a record, or None
	price  []int64
	held   []int64 // what the record is worth to its holder
	looks  int

	// For the search from one stone; seen and done hold the search's number.
	dist       []int64 // least loss by which the record can be had
	from       []int   // the stone that would take it
	gain       []int64 // what it would be worth to that stone
	seen, done []int
	search     int
	heap       []entry // the least first; not of package container/heap, which would box every entry
	order      []int   // records done, in order
}

type entry struct {
	dist   int64
	record int
}

func newMatcher(edges [][]Edge) *matcher {
	records := recordsIn(edges)
	m := &matcher{
		edges: edges, picked: make([]int, len(edges)), holder: make([]int, records), price: make([]int64, records), held: make([]int64, records),
		dist: make([]int64, records), from: make([]int, records), gain: make([]int64, records), seen: make([]int, records), done: make([]int, records),
	}
	for s := range m.picked {
		m.picked[s] = None
	}
	for r := range m.holder {
		m.holder[r] = None
	}
	return m
}

// placeAll places all stones, group by group, and gives the stones that it had to hurry, sorted. It leaves off when the context is done.
func (m *matcher) placeAll(ctx context.Context, patience int) (hurried []int) {
	for _, g := range groups(m.edges, func(e Edge) bool { return worth(e) > 0 }) {
		byBest(g, m.best)
		m.looks = 0
		for i, s := range g {
			if ctx.Err() != nil {
				return nil
			}
			if m.looks > patience {
				hurried = append(hurried, g[i:]...)
				for _, s := range g[i:] {
					m.takeFree(s)
				}
				break
			}
			m.place(s)
		}
	}
	slices.Sort(hurried)
	return hurried
}

func (m *matcher) best(s int) int64 {
	var best int64
	for _, e := range m.edges[s] {
		best = max(best, worth(e))
	}
	return best
}

// place finds the cheapest way to give the stone something: a record, others moving to other records or to none to make room, or none.
func (m *matcher) place(s int) {
	m.search++
	m.heap, m.order = m.heap[:0], m.order[:0]
	loser, loss := s, int64(0) // the stone that is to have none, and what the search costs then
	m.reach(s, 0)
	free := None
	for len(m.heap) > 0 {
		top := m.pop()
		r := top.record
		if m.done[r] == m.search || top.dist > m.dist[r] {
			continue
		}
		if top.dist >= loss {
			break
		}
		m.done[r] = m.search
		if m.holder[r] == None {
			free, loss = r, top.dist
			break
		}
		m.order = append(m.order, r)
		holder := m.holder[r]
		// The holder gives up r, and with it what r is worth to it less the price.
		base := top.dist + m.held[r] - m.price[r]
		if base < loss {
			loser, loss = holder, base
		}
		m.reach(holder, base)
	}
	for _, r := range m.order {
		if m.dist[r] < loss {
			m.price[r] += loss - m.dist[r]
		}
	}
	r := free
	if r == None {
		if loser == s {
			return
		}
		r = m.picked[loser]
		m.picked[loser] = None
	}
	for {
		taker := m.from[r]
		next := m.picked[taker]
		m.picked[taker], m.holder[r], m.held[r] = r, taker, m.gain[r]
		if taker == s {
			return
		}
		r = next
	}
}

// reach looks at what else the stone could have, from where base is lost already.
func (m *matcher) reach(s int, base int64) {
	m.looks += len(m.edges[s])
	for _, e := range m.edges[s] {
		w := worth(e)
		if w <= 0 {
			continue
		}
		r := e.Record
		d := base - w + m.price[r]
		if m.done[r] == m.search || m.seen[r] == m.search && m.dist[r] <= d {
			continue
		}
		m.seen[r], m.dist[r], m.from[r], m.gain[r] = m.search, d, s, w
		m.push(entry{d, r})
	}
}

// takeFree gives the stone the best record that is free.
func (m *matcher) takeFree(s int) {
	best, at := int64(0), None
	for _, e := range m.edges[s] {
		if w := worth(e); w > best && m.holder[e.Record] == None {
			best, at = w, e.Record
		}
	}
	if at != None {
		m.picked[s], m.holder[at], m.held[at] = at, s, best
	}
}

func less(a, b entry) bool { return a.dist < b.dist || a.dist == b.dist && a.record < b.record }

func (m *matcher) push(e entry) {
	h := append(m.heap, e)
	for i := len(h) - 1; i > 0; {
		up := (i - 1) / 2
		if !less(h[i], h[up]) {
			break
		}
		h[i], h[up] = h[up], h[i]
		i = up
	}
	m.heap = h
}

func (m *matcher) pop() entry {
	h := m.heap
	top := h[0]
	h[0] = h[len(h)-1]
	h = h[:len(h)-1]
	for i := 0; ; {
		down := 2*i + 1
		if down >= len(h) {
			break
		}
		if down+1 < len(h) && less(h[down+1], h[down]) {
			down++
		}
		if !less(h[down], h[i]) {
			break
		}
		h[i], h[down] = h[down], h[i]
		i = down
	}
	m.heap = h
	return top
}
