package intake

import (
	"fmt"
	"testing"

	"musterstone/index/texts"
)

// TestDerive gives rows of few ids, in two tables of which the second stands between two halves of the first, counts by which they are told apart: the least that is free, some being given by the
// file itself. Crossed are those before which one of the same stands in another table.
func TestDerive(t *testing.T) {
	var book idBook
	first, second := &Table{File: "a.csv"}, &Table{File: "b.csv"}
	free := map[string]*Table{}
	book.take("m0-40", texts.Hash("m0-40"), place{first, 1})
	free["m0-40"] = first
	for i := range 1000 {
		id, at := fmt.Sprint("m", i%7), place{first, i + 2}
		if i%7 == 3 || i/300 == 1 {
			at.table = second
		}
		want, crossed := id, false
		for n := 2; free[want] != nil; n++ {
			crossed = crossed || free[want] != at.table
			want = fmt.Sprintf("%s-%d", id, n)
		}
		free[want] = at.table
		if got, c := book.derive(id, at); got != want || c != crossed {
			t.Fatalf("row %d has the id %s, crossed %v; want %s, %v", i, got, c, want, crossed)
		}
	}
}
