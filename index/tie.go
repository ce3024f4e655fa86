package index

import (
	"container/heap"
	"sort"

	"github.com/blevesearch/bleve/v2/search"
	bleveindex "github.com/blevesearch/bleve_index_api"
)

// tie puts hits of one score into the order of their names. The name of a hit takes longer to look up than its score to work out, and a common surname has ten thousand: it
// is looked up only for those that may be among the hits that are wanted, by the scores seen so far. It is for one search.
type tie struct {
	names  bleveindex.IndexReader
	wanted int
	best   sort.Float64Slice // the best scores so far, at most so many as are wanted; the least first, as a heap
	failed error
}

// Value is the hit's name, and nothing where so many have better scores as are wanted.
func (t *tie) Value(d *search.DocumentMatch) string {
	switch {
	case len(t.best) < t.wanted:
		heap.Push(scores{&t.best}, d.Score)
	case d.Score < t.best[0]:
		return ""
	case d.Score > t.best[0]:
		t.best[0] = d.Score
		heap.Fix(scores{&t.best}, 0)
	}
	id, err := t.names.ExternalID(d.IndexInternalID)
	if err != nil && t.failed == nil {
		t.failed = err
	}
	return id
}

func (t *tie) DecodeValue(value string) string { return value }
func (t *tie) UpdateVisitor(string, []byte)    {}
func (t *tie) Descending() bool                { return false }
func (t *tie) RequiresDocID() bool             { return false }
func (t *tie) RequiresScoring() bool           { return false }
func (t *tie) RequiresFields() []string        { return nil }
func (t *tie) Reverse()                        {}
func (t *tie) Copy() search.SearchSort         { return t }

// scores are a heap.
type scores struct{ *sort.Float64Slice }

func (s scores) Push(x any) { *s.Float64Slice = append(*s.Float64Slice, x.(float64)) }

func (s scores) Pop() any { return nil } // nothing is taken off
