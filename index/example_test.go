package index_test

import (
	"context"
	"fmt"
	"os"
	"slices"

	"musterstone/index"
	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// A survey with three records, a stone whose surname has lost its middle, and a search.
func Example() {
	dir, err := os.MkdirTemp("", "survey-")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	man := func(id, n, u string) *model.Record {
		r := &model.Record{ID: model.RecordID(id)}
		r.Person.Name = name.Parse(n)
		r.Service.Unit, _ = unit.Parse(u)
		r.Written = []model.Cell{{Column: "name", Value: n}, {Column: "unit", Value: u}}
		return r
	}
	records := []*model.Record{
		man("A-1", "Holden, John T.", "Co. F, 31st Wis. Inf."),
		man("A-2", "Hollman, John", "Co. B, 8th Ill. Inf."),
		man("A-3", "Quackenbush, Peter", "Co. I, 115th N.Y. Inf."),
	}
	ctx := context.Background()
	x, err := index.Open(ctx, dir, index.Inputs{Rosters: "digest of the files", Records: slices.Values(records)}, index.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer x.Close()

	stone := &model.Subject{Stone: &model.Stone{ID: "S-1"}}
	stone.Readings = []model.Reading{{People: []model.Claim{{Person: model.Person{Name: name.FromParts("Ho[...]n", "Jno.")}}}, Probability: 1}}
	candidates, err := x.Candidates(ctx, stone, 10)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range candidates {
		fmt.Println(r.ID, r.Person.Name)
	}

	found, err := x.Find(ctx, `peter "115th n.y."`, index.FindOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, h := range found.Hits {
		fmt.Println(h.Kind, h.ID, h.Line)
	}
	// Output:
	// A-1 John T Holden
	// A-2 John Hollman
	// record A-3 Quackenbush, Peter, Company I, 115th New York Infantry
}
