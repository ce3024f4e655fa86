package link

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"sync"
	"sync/atomic"
	"testing"

	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
)

// keptRecords are the men of keptSurvey.
func keptRecords() []*model.Record {
	records := company()
	for i, who := range []string{"Tillotson, Enos", "Tillotson, Jared", "Tillottson, Abel"} {
		records = append(records, record(fmt.Sprint("k", i), who, "Co. F, 31st Wis. Inf."))
	}
	return records
}

// keptSurvey is a company on stones, two to a man, weighed as rows.
func keptSurvey(t testing.TB) (*Linker, []*model.Subject) {
	t.Helper()
	records := keptRecords()
	packer, number := weigh.NewPacker(), map[model.RecordID]uint32{}
	for i, r := range records {
		packer.Add(r)
		number[r.ID] = uint32(i)
	}
	columns := packer.Columns()
	counts := columns.Counts()
	scan := &Scan{Records: records, Counts: counts}
	var subjects []*model.Subject
	for i, r := range records {
		for k, unit := range []string{r.Service.Unit.Written, "Co. F 31 Wis. Inf."} {
			subjects = append(subjects, subject(fmt.Sprint("s", i, "-", k), r.Person.Name.Given+" "+r.Person.Name.Surname, unit))
		}
	}
	return &Linker{Columns: columns, Counts: counts, Rows: func(ctx context.Context, s *model.Subject, limit int) (rows []uint32, err error) {
		found, err := scan.Candidates(ctx, s, limit)
		for _, r := range found {
			rows = append(rows, number[r.ID])
		}
		return rows, err
	}}, subjects
}

// keptOf are the bytes that the linker keeps of each subject, and what it proposes.
func keptOf(t testing.TB, l *Linker, subjects []*model.Subject) ([][]byte, []model.Proposal) {
	t.Helper()
	kept := make([][]byte, len(subjects))
	var mu sync.Mutex
	keeping := *l
	keeping.Keep = func(i int, b []byte) {
		mu.Lock()
		defer mu.Unlock()
		kept[i] = slices.Clone(b)
	}
	proposals, err := keeping.Propose(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	return kept, proposals
}

// TestKept: a run that reads what another has weighed proposes the same, to the bit and the word, whatever was decided in the meantime; it asks for no rows.
func TestKept(t *testing.T) {
	l, subjects := keptSurvey(t)
	kept, undecided := keptOf(t, l, subjects)
	decisions := []model.Decision{
		{ID: "1", By: "A", Stone: subjects[0].Stone.ID, Record: undecided[0].Candidates[0].Record, As: model.Confirmed},
		{ID: "2", By: "A", Stone: subjects[3].Stone.ID, Record: undecided[3].Candidates[0].Record, As: model.Refused},
		{ID: "3", By: "A", Stone: subjects[6].Stone.ID, As: model.NoneOfThese},
		{ID: "4", By: "A", Stone: subjects[8].Stone.ID, Record: "no record of the rosters", As: model.Confirmed},
	}
	for name, settled := range map[string]ledger.State{"undecided": {}, "decided": ledger.StateOf(slices.Values(decisions))} {
		l.Settled = settled
		again, want := keptOf(t, l, subjects)
		if !reflect.DeepEqual(again, kept) {
			t.Errorf("%s: what is kept hangs on the decisions", name)
		}
		reading := *l
		reading.Rows = func(context.Context, *model.Subject, int) ([]uint32, error) {
			t.Errorf("%s: rows are asked for", name)
			return nil, nil
		}
		reading.Kept = func(i int, room []byte) ([]byte, error) { return append(room[:0], kept[i]...), nil }
		got, err := reading.Propose(context.Background(), subjects)
		if err != nil {
			t.Fatal(err)
		}
		for i := range want {
			if !reflect.DeepEqual(got[i], want[i]) {
				t.Fatalf("%s, stone %s:\ngot  %+v\nwant %+v", name, want[i].Stone, got[i], want[i])
			}
		}
		var asked atomic.Int32
		keeping := *l
		keeping.Keep = func(int, []byte) {}
		keeping.Again = func(i int, room []byte) ([]byte, error) {
			if asked.Add(1) == 1 {
				return nil, errKept // is weighed again
			}
			return append(room[:0], kept[i]...), nil
		}
		if got, err = keeping.Propose(context.Background(), subjects); err != nil || !reflect.DeepEqual(got, want) || asked.Load() < 2 {
			t.Errorf("%s: spelled by what the run itself has kept it proposes otherwise; asked %d times, error %v", name, asked.Load(), err)
		}
	}
}

// TestKeptDamaged: what is not as it was written is not read, or read as something that can be told; where one stone cannot be read all are weighed.
func TestKeptDamaged(t *testing.T) {
	l, subjects := keptSurvey(t)
	kept, want := keptOf(t, l, subjects)
	refused := 0
	for at := range kept[0] {
		for _, change := range []byte{1, 0x80, 0xff} {
			b := slices.Clone(kept[0])
			b[at] ^= change
			if l.readStone(b, new(weighed)) != nil {
				refused++
			}
		}
		if l.readStone(kept[0][:at], new(weighed)) == nil {
			t.Fatalf("%d bytes of %d are read", at, len(kept[0]))
		}
	}
	if refused < len(kept[0])/4 {
		t.Errorf("%d of %d changes are refused", refused, 3*len(kept[0]))
	}
	reading := *l
	reading.Kept = func(i int, room []byte) ([]byte, error) {
		if i == len(kept)/2 {
			return append(room[:0], kept[i][1:]...), nil
		}
		return append(room[:0], kept[i]...), nil
	}
	got, err := reading.Propose(context.Background(), subjects)
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("with one stone damaged it proposes otherwise, error %v", err)
	}
}

// FuzzKept: bytes that anybody may have written are refused, or can be learned from and told.
func FuzzKept(f *testing.F) {
	l, subjects := keptSurvey(f)
	kept, _ := keptOf(f, l, subjects[:4])
	for _, b := range kept {
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		all := make([]weighed, 1)
		if l.readStone(b, &all[0]) != nil {
			return
		}
		l.decide(all)
		c := l.cases(all)
		if len(c.Stones) != 1 {
			t.Fatalf("%d cases", len(c.Stones))
		}
		var numbers []uint32
		for _, r := range all[0].rows.list {
			numbers = append(numbers, r.number)
		}
		lines := newKeptLines(b, numbers, nil)
		for _, r := range all[0].rows.list {
			var of weigh.Lines
			if !lines.of(r.number, &of) {
				t.Fatalf("row %d has no lines", r.number)
			}
		}
	})
}
