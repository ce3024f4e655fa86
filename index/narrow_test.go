package index

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search/query"
)

// TestAllOfThese asks the index of words of 5,000 records for men in many ways and holds what is found, in its order and with what it is worth, against what bleve's own
// conjunction of the same words finds.
func TestAllOfThese(t *testing.T) {
	c := newCounty(3, 400)
	records := c.roster(5000)
	in := inputs(records, "a")
	in.Graves, in.Stones = digest("stones"), slices.Values(smallStones())
	x := open(t, t.TempDir(), in)
	if _, err := x.Find(context.Background(), "john", FindOptions{}); err != nil {
		t.Fatal(err)
	}
	var questions []string
	for i := range 60 {
		n, u := records[i*83].Person.Name, records[i*83].Service.Unit
		questions = append(questions, n.Surname+" "+n.Given, n.Surname, n.Given+" unit:"+string(u.State), fmt.Sprintf("%s %s %d", n.Given, n.Surname, u.Number),
			fmt.Sprintf("name:%s* unit:%d", n.Surname[:2], u.Number), fmt.Sprintf(`%s "%d %s"`, n.Surname, u.Number, u.State), "zebulon "+n.Surname)
	}
	found := 0
	for _, text := range questions {
		for _, near := range []bool{false, true} {
			for _, kind := range []string{"", "record"} {
				q, err := ask(text)
				if err != nil {
					t.Fatal(err)
				}
				asked := q.query(near)
				if kind != "" {
					asked = append(asked, term(kindField, kind, 0))
				}
				var lists [2]string
				for i, one := range [...]query.Query{asked, bleve.NewConjunctionQuery(asked...)} {
					res, err := x.searchWords(context.Background(), bleve.NewSearchRequestOptions(one, 20, 0, false))
					if err != nil {
						t.Fatalf("%s: %v", text, err)
					}
					lists[i] = fmt.Sprint(res.Total)
					for _, h := range res.Hits {
						lists[i] += fmt.Sprintf(" %s=%v", h.ID, h.Score)
					}
					found += int(res.Total)
				}
				if lists[0] != lists[1] {
					t.Errorf("%s (near %v, kind %q):\nfound %s\nbleve %s", text, near, kind, lists[0], lists[1])
				}
			}
		}
	}
	if found == 0 {
		t.Error("nothing was found for any question")
	}
}
