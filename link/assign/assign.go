// Package assign settles who gets whom where a record may answer one stone at most, and a stone have one record at most or none.
//
// For every stone there is a list of edges, each to a record, weighed in bits: log2 of how much likelier it is that the stone is of this
// record's man than that it is of no man in the records. [Solve] picks the records so that the sum of the weights is the greatest; [Marginals]
// gives each edge the probability that it has under the same rule.
//
//	edges := [][]assign.Edge{
//		{{Record: 7, Bits: 12}, {Record: 9, Bits: 11}}, // either will do
//		{{Record: 7, Bits: 8}},                        // only 7
//	}
//	s, err := assign.Solve(ctx, edges) // s.Records is [9 7]
//
// The rule has exceptions (a cenotaph, a replacement stone, a government stone beside a private one): it is for the caller to leave those
// out. What is decided already is to be left out too, with its stone and its record.
package assign

import (
	"cmp"
	"math"
	"slices"
)

// None stands for no record.
const None = -1

// Edge says that a record may answer a stone.
type Edge struct {
	// Record is the record's number, from 0; the numbers should be dense, for an array is made of them.
	Record int
	// Bits is log2 of the odds of this record against none. NaN is no edge.
	Bits float64
}

// mostBits is the weight that is as good as certain, either way: what is beyond counts as this.
const mostBits = 1 << 20

func (e Edge) bits() float64 { return min(mostBits, max(-mostBits, e.Bits)) }

// group is a set of stones that contend for records with each other and with no other stone, sorted.
type group []int

// recordsIn is how many records there are by the edges' numbers.
func recordsIn(edges [][]Edge) int {
	n := 0
	for _, list := range edges {
		for _, e := range list {
			n = max(n, e.Record+1)
		}
	}
	return n
}

// groups parts the stones by the edges that count; stones without any are left out. The groups are in the order of their first stones.
func groups(edges [][]Edge, counts func(Edge) bool) []group {
	parent := make([]int, len(edges))
	for s := range parent {
		parent[s] = s
	}
	root := func(s int) int {
		for parent[s] != s {
			parent[s] = parent[parent[s]]
			s = parent[s]
		}
		return s
	}
	claimant := make([]int, recordsIn(edges)) // the first stone that claims the record, and one more
	has := make([]bool, len(edges))
	for s, list := range edges {
		for _, e := range list {
			if e.Record < 0 || !counts(e) {
				continue
			}
			has[s] = true
			if first := claimant[e.Record]; first != 0 {
				a, b := root(first-1), root(s)
				parent[max(a, b)] = min(a, b)
			} else {
				claimant[e.Record] = s + 1
			}
		}
	}
	var out []group
	place := make([]int, len(edges))
	for s := range edges {
		if !has[s] {
			continue
		}
		r := root(s)
		if r == s {
			out = append(out, nil)
			place[s] = len(out) - 1
		}
		out[place[r]] = append(out[place[r]], s)
	}
	return out
}

// byBest sorts stones by their best edge, the greatest first; as they were where these are the same.
func byBest(stones []int, best func(stone int) int64) {
	type claim struct {
		stone int
		best  int64
	}
	claims := make([]claim, len(stones))
	for i, s := range stones {
		claims[i] = claim{s, best(s)}
	}
	slices.SortStableFunc(claims, func(a, b claim) int { return cmp.Compare(b.best, a.best) })
	for i, c := range claims {
		stones[i] = c.stone
	}
}

func isEdge(e Edge) bool { return e.Record >= 0 && !math.IsNaN(e.Bits) }
