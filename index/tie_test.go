package index

import (
	"context"
	"testing"

	"github.com/blevesearch/bleve/v2"
)

// TestTies: hits of one score come in the order of their names, as bleve's own sorting has them, which looks up all names.
func TestTies(t *testing.T) {
	c := newCounty(5, 40)
	x := open(t, t.TempDir(), inputs(c.roster(3000), "a"))
	ctx := context.Background()
	if _, err := x.Find(ctx, "john", FindOptions{}); err != nil {
		t.Fatal(err)
	}
	ties := 0
	for i, text := range append([]string{"john", "name:john", "oh", "unit:oh", "john william"}, c.surnames...) {
		q, err := ask(text)
		if err != nil {
			t.Fatal(err)
		}
		request := func() *bleve.SearchRequest { return bleve.NewSearchRequestOptions(q.query(false), 1+i%9, i%4*5, false) }
		got, err := x.searchWords(ctx, request())
		if err != nil {
			t.Fatal(err)
		}
		req := request()
		req.SortBy([]string{"-_score", "_id"})
		want, err := x.words.index.SearchInContext(ctx, req)
		if err != nil {
			t.Fatal(err)
		}
		if got.Total != want.Total || len(got.Hits) != len(want.Hits) {
			t.Fatalf("%q: %d hits of %d, want %d of %d", text, len(got.Hits), got.Total, len(want.Hits), want.Total)
		}
		for k := range got.Hits {
			if got.Hits[k].ID != want.Hits[k].ID || got.Hits[k].Score != want.Hits[k].Score {
				t.Fatalf("%q: hit %d is %s, want %s", text, k, got.Hits[k].ID, want.Hits[k].ID)
			}
			if k > 0 && got.Hits[k].Score == got.Hits[k-1].Score {
				ties++
			}
		}
	}
	if ties < 20 {
		t.Errorf("only %d hits have the score of the one before", ties)
	}
}
