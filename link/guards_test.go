package link

import (
	"context"
	"slices"
	"testing"

	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
)

// TestKeptView: a row that says it was weighed under a reading which the stone has not is told without evidence; the bytes fit their sums and may be anybody's.
func TestKeptView(t *testing.T) {
	l, subjects := keptSurvey(t)
	kept, _ := keptOf(t, l, subjects)
	forged := 0
	for i := range kept {
		if forged == 3 {
			break
		}
		b := slices.Clone(kept[i])
		r := keptReader{b: b}
		if _, rows := r.stone(new(weighed)); rows == 0 {
			continue
		}
		b[len(b)-len(r.b)+12] = 100 // the first row's view
		if l.readStone(b, new(weighed)) != nil {
			continue
		}
		reading := *l
		reading.Kept = func(k int, room []byte) ([]byte, error) {
			if k == i {
				return append(room[:0], b...), nil
			}
			return append(room[:0], kept[k]...), nil
		}
		got, err := reading.Propose(context.Background(), subjects)
		if err != nil {
			t.Fatal(err)
		}
		if slices.ContainsFunc(got[i].Candidates, func(c model.Candidate) bool { return len(c.Evidence) == 0 }) {
			forged++
		}
	}
	if forged == 0 {
		t.Error("no stone could be forged")
	}
}

// TestNobody: that a person has said of a stone that none of the records is its man is known of it whether its candidates are records or rows, and where it has none at all; it teaches then, and is left out of
// what the stone would be if nobody had decided.
func TestNobody(t *testing.T) {
	l, subjects := keptSurvey(t)
	stranger := subject("stranger", "Zebedee Quux", "Co. Z 1 Nev. Art.")
	l.Settled = ledger.StateOf(slices.Values([]model.Decision{{ID: "1", By: "A", Stone: subjects[0].Stone.ID, As: model.NoneOfThese}, {ID: "2", By: "A", Stone: stranger.Stone.ID, As: model.NoneOfThese}}))
	w := weigh.NewPacked(l.Counts, nil, l.Columns)
	byRows := []weighed{l.weighRows(w, subjects[0], []uint32{0, 1}, nil), l.weighRows(w, stranger, nil, nil), l.weighRows(w, subjects[2], []uint32{0, 1}, nil)}
	l.decide(byRows)
	records := keptRecords()
	byRecords := []weighed{l.weighWith(w, subjects[0], records[:2]), l.weighWith(w, stranger, nil), l.weighWith(w, subjects[2], records[:2])}
	for name, all := range map[string][]weighed{"rows": byRows, "records": byRecords} {
		for i, want := range []bool{true, true, false} {
			if all[i].nobody != want {
				t.Errorf("%s, stone %s: nobody %v, want %v", name, all[i].stone, all[i].nobody, want)
			}
			if all[i].undecided().nobody {
				t.Errorf("%s, stone %s: if nobody had decided, somebody has", name, all[i].stone)
			}
		}
		decided, err := l.decided(context.Background(), all)
		if err != nil || len(decided) != 2 {
			t.Errorf("%s: %d stones are decided, want 2; %v", name, len(decided), err)
		}
	}
}
