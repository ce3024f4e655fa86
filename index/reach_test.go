package index

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/vocab/name"
)

// scanReach scores every row that has one of the stone's surnames or is of its unit, one by one, without what lets the search pass rows by.
func (x *Index) scanReach(t testing.TB, s *model.Subject, limit int) []found {
	best := map[uint32]int32{}
	for _, c := range people(s) {
		m := new(measure)
		if err := x.measure(m, s, c.claim); err != nil {
			t.Fatal(err)
		}
		bits := map[uint32]int16{}
		for _, h := range m.surnames {
			bits[h.surname] = h.bits
		}
		x.scoreRows(best, m, bits, c.cost, func(w *row) bool { return slices.Contains(m.units, w.unit) && x.roll.ofUnit[w.unit] <= maxUnitMen })
	}
	return bestRows(best, limit)
}

// TestReach holds the candidates to those of every row within reach scored, where remarks tell of other names and later units and where they do not: nothing that the search passes by is better than what it gives.
func TestReach(t *testing.T) {
	for _, told := range []bool{false, true} {
		c := newCounty(12, 400)
		records := c.roster(6000)
		for i := range records {
			s := &records[i].Service
			switch {
			case !told:
			case i%5 == 0:
				s.Remarks = "Alias " + title(c.pick(givens)) + " " + title(c.surnames[c.rng.IntN(len(c.surnames))])
			case i%5 == 1:
				s.Remarks = "Transferred to Co. " + string("ABCDEFGHIK"[c.rng.IntN(10)]) + ", " + fmt.Sprint(1+c.rng.IntN(20)) + "th Regiment"
			case i%5 == 2:
				s.Remarks = "Alias on some rolls"
			case i%5 == 3:
				s.Remarks = "Substitute; transferred to Co. B, 9th Regiment"
			}
		}
		x := open(t, t.TempDir(), inputs(records, "a"))
		beyond := 0
		for i := range 300 {
			s := c.stone(i, records[c.rng.IntN(len(records))], .12)
			if len(s.Readings) == 0 || len(s.Readings[0].People) == 0 {
				continue
			}
			switch n := &s.Readings[0].People[0].Person.Name; i % 4 {
			case 0:
				*n = model.Name{Surname: "*", Given: n.Given}
			case 1:
				*n = model.Name{}
			}
			got, err := x.Candidates(context.Background(), s, 20)
			if err != nil {
				t.Fatal(err)
			}
			var want []model.RecordID
			for _, f := range x.scanReach(t, s, 20) {
				r, err := x.record(int(f.at()))
				if err != nil {
					t.Fatal(err)
				}
				want = append(want, r.ID)
				if o := name.OtherIn(r.Service.Remarks); !o.IsZero() && !strings.HasPrefix(o.Text, "Alias ") {
					beyond++
				}
			}
			if !slices.Equal(ids(got), want) {
				t.Fatalf("remarks tell of others: %v; stone %d %v: candidates\n%v, want\n%v", told, i, s.Readings[0].People[0].Person.Name, ids(got), want)
			}
		}
		if told && beyond < 100 {
			t.Errorf("only %d candidates whose remarks tell of another name and do not give it: the case shows nothing", beyond)
		}
	}
}
