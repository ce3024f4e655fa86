// Package resurvey sets two surveys of the same grounds, made years apart, beside each other: which stone of the later one is which of the earlier one, and what became of
// it.
//
// It links stone to stone with the weights that link stones to service records (package weigh), each stone of the earlier survey standing as a record, and adds where
// a stone stands and how it looks. Each stone is one stone of the other survey at most (package assign).
//
//	changes, err := resurvey.Compare(ctx, before, after)
//
// A pairing is a proposal with its reasons. That a stone is "gone" means that nobody wrote it down again: it may be buried, moved, or overlooked.
package resurvey

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"musterstone/link/assign"
	"musterstone/model"
	"musterstone/vocab"
)

// Kind says what became of a stone.
type Kind string

// The kinds of change, in the order in which they are told.
const (
	Gone     Kind = "gone"
	New      Kind = "new"
	Replaced Kind = "replaced"
	Worn     Kind = "worn"
	Moved    Kind = "moved"
	Same     Kind = "same"
)

// Kinds are the kinds in the order in which they are told.
func Kinds() []Kind { return []Kind{Gone, New, Replaced, Worn, Moved, Same} }

// Change is a stone of one survey or of both.
type Change struct {
	Kind          Kind
	Before, After *model.Subject // nil where the survey has no such stone
	// Probability is that of the pairing; for a stone of one survey only, that it has no stone in the other.
	Probability float64
	// Evidence is what speaks for and against the pairing; of a stone without one, for and against the nearest.
	Evidence []model.Evidence
	// Nearest is, of a stone without a pair, the stone of the other survey that came nearest and that Evidence compares it with; nil where none did.
	Nearest *model.Subject
	// Why are sentences: what was found changed, or which stone was nearest.
	Why []string
}

// House judgement, all of them.
const (
	// stays is the chance that a stone of the later survey was in the earlier one.
	stays = 0.9
	// pairs is the probability from which two stones are told as one.
	pairs = 0.5
	// comesNear is the probability from which a stone without a pair is told which one is nearest.
	comesNear = 0.05
	// leastBits is the weight below which two stones are not thought of as one.
	leastBits = -14
)

// Compare pairs the stones of two surveys. Rows of burial registers are passed over. The same input gives the same changes, whatever its order. Of thousands of stones that are all alike every two
// come near each other: [MostNear] of the earlier ones are kept for each later one, and the chance that it is one of the others is still counted. A context that is done ends it with its cause.
func Compare(ctx context.Context, earlier, later []*model.Subject) ([]Change, error) {
	return compare(ctx, earlier, later, MostNear)
}

func compare(ctx context.Context, earlier, later []*model.Subject, most int) ([]Change, error) {
	before, after := stones(earlier), stones(later)
	e := newEarlier(before)
	edges := make([][]assign.Edge, len(after))
	keep := newKeeper(len(before), most)
	prior := math.Log2(stays / (1 - stays) / float64(max(1, len(before))))
	var two pairing
	for i := range after {
		s := &after[i]
		view := e.weigher.Stone(s.Subject, s.Reading().Claim())
		for k := range before {
			if before[k].cemetery != s.cemetery {
				continue
			}
			if bits := prior + two.weigh(e, view, s, k); bits > leastBits {
				keep.near(k, bits)
			}
		}
		edges[i] = keep.keep(i)
		if err := context.Cause(ctx); err != nil {
			return nil, err
		}
	}
	// Of thousands of stones that are all alike, unknown or plain, every two come near each other: the words are put only to the pairs that are told.
	evidence := func(i, k int) []model.Evidence {
		s := &after[i]
		view := e.weigher.Stone(s.Subject, s.Reading().Claim())
		two.weigh(e, view, s, k)
		return two.evidence(e, view, s, k)
	}
	all, err := settle(ctx, edges, most)
	if err != nil {
		return nil, err
	}
	taken := make([]bool, len(before))
	found := make([]float64, len(before)) // of each earlier stone, the chance that some later one is it
	nearest := make([]comer, len(before)) // and the later one that came nearest
	var out []Change
	for i, s := range after {
		if err := context.Cause(ctx); err != nil {
			return nil, err
		}
		pair, none := -1, 1.0
		for j, x := range edges[i] {
			p := all.marginals[i][j]
			none -= p
			if x.Record >= len(before) {
				continue
			}
			found[x.Record] += p
			if p > nearest[x.Record].probability {
				nearest[x.Record] = comer{i, p}
			}
			if x.Record == all.solution.Records[i] {
				pair = j
			}
		}
		if pair >= 0 && all.marginals[i][pair] >= pairs {
			k := edges[i][pair].Record
			taken[k] = true
			c := Change{Before: before[k].Subject, After: s.Subject, Probability: all.marginals[i][pair], Evidence: evidence(i, k)}
			c.Kind, c.Why = became(c.Before, c.After)
			out = append(out, c)
			continue
		}
		c := Change{Kind: New, After: s.Subject, Probability: max(0, none)}
		c.Why = []string{"no stone of the earlier survey comes near it: set since, uncovered, or overlooked then"}
		if k, p := near(edges[i][:min(len(edges[i]), most)], all.marginals[i]); k >= 0 {
			c.Nearest, c.Evidence = before[k].Subject, evidence(i, k)
			c.Why = []string{fmt.Sprintf("the nearest is stone %s of the earlier survey, %s", c.Nearest.Stone.ID, vocab.Percent(p))}
		} else if none < 1-comesNear {
			c.Why = []string{"many stones of the earlier survey come near it, no one of them much nearer than others: which it is, if any, cannot be told"}
		}
		out = append(out, c)
	}
	for k, b := range before {
		if taken[k] {
			continue
		}
		if err := context.Cause(ctx); err != nil {
			return nil, err
		}
		c := Change{Kind: Gone, Before: b.Subject, Probability: max(0, 1-found[k])}
		if n := nearest[k]; n.probability >= comesNear {
			c.Nearest, c.Evidence = after[n.later].Subject, evidence(n.later, k)
			c.Why = []string{fmt.Sprintf("the nearest is stone %s of the later survey, %s", c.Nearest.Stone.ID, vocab.Percent(n.probability))}
		} else if found[k] > comesNear {
			c.Why = []string{"many stones of the later survey come near it, no one of them much nearer than others: which it is, if any, cannot be told"}
		} else {
			c.Why = []string{"no stone of the later survey comes near it: buried, moved, or overlooked"}
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b Change) int {
		return cmp.Or(cmp.Compare(slices.Index(Kinds(), a.Kind), slices.Index(Kinds(), b.Kind)), cmp.Compare(id(a.Before), id(b.Before)), cmp.Compare(id(a.After), id(b.After)))
	})
	return out, nil
}

// settled are the probabilities of the candidates, in their shape, and the pairs that are the best together.
type settled struct {
	marginals [][]float64
	solution  assign.Solution
}

// settle gives both of the candidates.
func settle(ctx context.Context, edges [][]assign.Edge, most int) (all settled, err error) {
	if all.marginals, err = assign.Marginals(ctx, edges); err != nil {
		return settled{}, err
	}
	candidates := make([][]assign.Edge, len(edges)) // without those that stand for others
	for i, list := range edges {
		candidates[i] = list[:min(len(list), most)]
	}
	all.solution, err = assign.Solve(ctx, candidates)
	return all, err
}

func id(s *model.Subject) model.StoneID {
	if s == nil {
		return ""
	}
	return s.Stone.ID
}

// comer is a later stone, by number, and the chance that it is an earlier one.
type comer struct {
	later       int
	probability float64
}

// near is the earlier stone that came nearest to a new one, and its chance; -1 where none came near.
func near(edges []assign.Edge, marginals []float64) (k int, probability float64) {
	best := -1
	for j := range edges {
		if marginals[j] >= comesNear && (best < 0 || marginals[j] > marginals[best]) {
			best = j
		}
	}
	if best < 0 {
		return -1, 0
	}
	return edges[best].Record, marginals[best]
}
