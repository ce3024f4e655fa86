package index

import (
	"context"

	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	"github.com/blevesearch/bleve/v2/search/searcher"
	bleveindex "github.com/blevesearch/bleve_index_api"
)

// allOfThese is a query that a document answers which answers every one of these, and is worth what it is worth for them together, as bleve's conjunction has
// it. That one goes from a rare surname's men to the next document of a common given name, of a hundred thousand, and reads on its way how often each of these has
// the word. Here it is first asked without any worth which documents answer, which takes but sets of numbers; only those are then weighed.
type allOfThese []query.Query

// Searcher is what bleve asks of a query.
func (q allOfThese) Searcher(ctx context.Context, i bleveindex.IndexReader, m mapping.IndexMapping, options search.SearcherOptions) (search.Searcher, error) {
	if len(q) == 1 {
		return q[0].Searcher(ctx, i, m, options)
	}
	plain := options
	plain.Score = "none"
	sets, err := q.searchers(ctx, i, m, plain)
	if err != nil {
		return nil, err
	}
	set, err := searcher.NewConjunctionSearcher(ctx, i, sets, plain)
	if err != nil {
		closeAll(sets)
		return nil, err
	}
	all, err := q.searchers(ctx, i, m, options)
	if err != nil {
		set.Close()
		return nil, err
	}
	all = append(all, worthless{set})
	both, err := searcher.NewConjunctionSearcher(ctx, i, all, options)
	if err != nil {
		closeAll(all)
	}
	return both, err
}

func (q allOfThese) searchers(ctx context.Context, i bleveindex.IndexReader, m mapping.IndexMapping, options search.SearcherOptions) ([]search.Searcher, error) {
	list := make([]search.Searcher, 0, len(q)+1)
	for _, one := range q {
		s, err := one.Searcher(ctx, i, m, options)
		if err != nil {
			closeAll(list)
			return nil, err
		}
		list = append(list, s)
	}
	return list, nil
}

// closeAll closes searchers that are not used, after an error that is told.
func closeAll(list []search.Searcher) {
	for _, s := range list {
		s.Close()
	}
}

// worthless is a searcher whose documents add nothing to what they are worth. A conjunction goes by it before any other.
type worthless struct{ search.Searcher }

func (worthless) Weight() float64      { return 0 }
func (worthless) SetQueryNorm(float64) {}
func (worthless) Count() uint64        { return 0 }
