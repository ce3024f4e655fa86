package link

import (
	"context"
	"math"
	"slices"
	"testing"

	"musterstone/link/ledger"
	"musterstone/model"
)

// TestDecidedRows: what people have decided counts the same whether a stone's candidates are records or rows of the columns.
func TestDecidedRows(t *testing.T) {
	l, subjects := keptSurvey(t)
	records := &Linker{Counts: l.Counts, Finder: &Scan{Records: keptRecords(), Counts: l.Counts}}
	undecided, err := l.Propose(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	top := func(i int) model.RecordID { return undecided[i].Candidates[0].Record }
	settled := ledger.StateOf(slices.Values([]model.Decision{
		{ID: "1", By: "A", Stone: subjects[0].Stone.ID, Record: top(0), As: model.Confirmed},
		{ID: "2", By: "A", Stone: subjects[3].Stone.ID, Record: top(3), As: model.Refused},
		{ID: "3", By: "A", Stone: subjects[6].Stone.ID, As: model.NoneOfThese},
		{ID: "4", By: "A", Stone: subjects[8].Stone.ID, Record: "no record of the rosters", As: model.Confirmed},
	}))
	l.Settled, records.Settled = settled, settled
	got, err := l.Propose(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	want, err := records.Propose(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	for i := range want {
		g, w := &got[i], &want[i]
		same := len(g.Candidates) == len(w.Candidates) && math.Abs(g.None-w.None) < 1e-9
		for k := range min(len(g.Candidates), len(w.Candidates)) {
			a, b := &g.Candidates[k], &w.Candidates[k]
			same = same && a.Record == b.Record && a.Decided == b.Decided && a.Proposed == b.Proposed && math.Abs(a.Probability-b.Probability) < 1e-9 && math.Abs(a.Bits-b.Bits) < 1e-9
		}
		if !same {
			t.Errorf("stone %s:\nrows    %+v\nrecords %+v", w.Stone, *g, *w)
		}
	}
}
