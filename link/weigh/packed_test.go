package weigh

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// pack makes columns of records.
func pack(records []*model.Record) *Columns {
	p := NewPacker()
	for _, r := range records {
		p.Add(r)
	}
	return p.Columns()
}

// one draws a word, "" at times.
func one(r *rand.Rand, list ...string) string {
	if r.IntN(6) == 0 {
		return ""
	}
	return list[r.IntN(len(list))]
}

// madeClaim draws a claim of a man, of a few values each, so that every level of every field comes about between two of them.
func madeClaim(r *rand.Rand, surnames []string) model.Claim {
	var c model.Claim
	p, s := &c.Person, &c.Service
	p.Name = name.FromParts(surnames[r.IntN(len(surnames))], one(r, "John", "Jno.", "J.", "Harry", "Henry", "William", "Wm.", "Billy", "Hal", "Frederick", "Frederico", "John T.", "T. John", "Henry William", "K.", "Timothy", "Will[.]am", "Mary"))
	if r.IntN(20) == 0 {
		p.Name.Surname = ""
	}
	p.Name.Suffix = []string{"", "", "", "Jr", "Sr", "II"}[r.IntN(6)]
	year := func(from, n int) string { return strconv.Itoa(from + r.IntN(n)) }
	day := func(from, n int) string {
		return one(r, year(from, n), []string{"May ", "Sept. "}[r.IntN(2)]+strconv.Itoa(1+r.IntN(4))+", "+year(from, n), "June "+year(from, n))
	}
	if r.IntN(3) == 0 {
		p.Born, _ = date.Parse(day(1835, 12))
	}
	if r.IntN(2) == 0 {
		p.Died, _ = date.Parse(day(1862, 14))
	}
	if r.IntN(2) == 0 {
		p.Age, _ = date.ParseAge(strconv.Itoa(18 + r.IntN(20)))
	}
	s.Enlisted, _ = date.Parse(day(1861, 3))
	s.MusteredIn, _ = date.Parse(day(1861, 3))
	s.MusteredOut, _ = date.Parse(day(1864, 2))
	p.Residence = one(r, "Harlan Co.", "harlan county, Wis.", "Old Mill", "Dane Co.", "Cook County, Ill.")
	p.Buried = one(r, "Old Mill Cemetery", "Harlan", "Oak Hill, Dane Co.", "")
	s.Remarks = one(r, "Died of disease; buried at Mill Creek; no stone", "Deserted", "", "Alias on some rolls", "Deserted; alias Henry Holden", "Substitute; buried at Harlan", "Alias Smith", "enlisted as Wm. T. Smith",
		"Transferred to Co. F, 31st Wis. Inf.", "Trans. to Co. G, 2nd V. R. C., Jan. 3, 1864", "Trans. to 31st Wis. Inf.; alias Smith")
	if text := one(r, "Co. F, 31st Wis. Inf.", "Co. E, 31st Wis. Inf.", "Co. A, 31st Wis. Inf.", "31st Wis. Inf.", "Co. F, 37th Wis. Inf.", "Co. F, 34th Wis. Inf.", "Co. F, 31st Ohio Inf.", "3rd Ohio Cav.",
		"Co. B, 79th U.S.C.I.", "Co. B, 1st Kans. Col. Inf.", "31st Inf.", "Co. F, 31st Inf.", "Wis. Inf.", "Co. F, Wis. Inf.", "Wis. Cav.", "Co. C, 1st Wis. H. Art.", "Co. G, 2nd V. R. C.", "Co. B, 9th Ohio Inf.; Co. F, 31st Wis. Inf."); text != "" {
		s.Unit = unit.FromParts(unit.Parts{Unit: text})
	}
	s.Rank, s.RankOut = model.Rank(one(r, "private", "private", "corporal", "sergeant", "captain", "major")), model.Rank(one(r, "private", "sergeant", "captain"))
	if r.IntN(3) > 0 {
		s.Conflicts = []model.ConflictCode{"civil-war"}
	}
	if r.IntN(9) == 0 {
		s.Conflicts = append(s.Conflicts, "world-war-i")
	}
	s.Side = model.Side(one(r, "union", "union", "confederate"))
	return c
}

// made draws records, and stones whose readings are claims of the same kind.
func made(seed uint64, records, stones int) ([]*model.Record, []*model.Subject) {
	r := rand.New(rand.NewPCG(seed, 3))
	surnames := []string{"Smith", "Schmidt", "Smyth", "Holden", "Hdlden", "Holdenn", "Quackenbush", "Quackenbusch", "Williams", "Williamson", "McNeil", "O'Hare", "Köhler", "Sm[.]th", "Smiths", "[---]son", "Quimby alias Holden", "Koch", "Cook"}
	var rows []*model.Record
	for i := range records {
		rows = append(rows, &model.Record{ID: model.RecordID(fmt.Sprintf("r%d", i)), Source: model.Source{File: one(r, "a.csv", "b.csv"), Row: i + 2}, Claim: madeClaim(r, surnames)})
	}
	var out []*model.Subject
	for i := range stones {
		s := &model.Stone{ID: model.StoneID(fmt.Sprintf("s%d", i))}
		s.Place = model.Place{Cemetery: one(r, "Old Mill Cemetery", "Oak Hill"), County: one(r, "Harlan", "Dane Co."), State: model.State(one(r, "WI", "OH"))}
		c := madeClaim(r, surnames)
		if r.IntN(8) == 0 {
			c.Person.Name = name.FromParts(surnames[r.IntN(len(surnames))], "Johm") // no record's, nor anybody's
		}
		if r.IntN(3) == 0 {
			c.Service = model.Service{}
		}
		if r.IntN(10) == 0 {
			s.Register = &c
		}
		imp := model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: "civil-war-1873", Probability: .7}, {Code: model.NotGovernment, Probability: .3}},
			Services: []model.Weighted[string]{{Code: "civil-war/union", Probability: .8}, {Code: "none", Probability: .2}}}
		if r.IntN(3) == 0 {
			imp = model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: model.NotGovernment, Probability: .9}, {Code: "civil-war-1873", Probability: .1}},
				Services: []model.Weighted[string]{{Code: "world-war-i", Probability: .5}, {Code: "none", Probability: .5}}}
		}
		out = append(out, &model.Subject{Stone: s, Readings: []model.Reading{{People: []model.Claim{c}, Probability: 1}}, Implies: imp})
	}
	return rows, out
}

// TestPacked weighs stones against records and against their packed rows: the same lines to the bit, the same evidence, and every level comes about.
func TestPacked(t *testing.T) {
	records, subjects := made(1, 600, 80)
	columns := pack(records)
	moves := CountMoves(subjects)
	w := NewPacked(columns.Counts(), moves, columns)
	plain := New(Count(slices.Values(records)), moves)
	came := map[string]bool{}
	var kept model.Record
	for _, s := range subjects {
		v, byCount := w.Stone(s, s.Reading().Claim()), plain.Stone(s, s.Reading().Claim())
		for i, r := range records {
			var row, rec, other Lines
			v.Row(uint32(i), &row)
			v.Record(r, &rec)
			byCount.Record(r, &other)
			if row != rec || rec != other {
				t.Fatalf("stone %s, record %s: packed %+v\nrecord %+v\nwith counts made one by one %+v", s.Stone.ID, r.ID, row, rec, other)
			}
			columns.Record(uint32(i), &kept)
			spelled, want := v.Spell(&row, &kept), v.Spell(&rec, r)
			if d := cmp.Diff(want, spelled); d != "" {
				t.Fatalf("stone %s, record %s: evidence from the columns differs:\n%s", s.Stone.ID, r.ID, d)
			}
			sum := 0.0
			for _, e := range spelled {
				sum += e.Bits
				came[e.Field+"/"+e.Level] = true
			}
			if sum != row.Bits {
				t.Fatalf("stone %s, record %s: evidence adds up to %v, the weight is %v", s.Stone.ID, r.ID, sum, row.Bits)
			}
		}
	}
	for _, l := range table().rows[1:] {
		if key := l.field + "/" + l.name; !came[key] && l.field != "reading" && l.field != "decisions" && l.field != "unlisted surname" {
			t.Errorf("the level %s did not come about", key)
		}
	}
}

// TestColumnsCounts sets the counts made from columns beside those made record by record, namesakes too.
func TestColumnsCounts(t *testing.T) {
	records, _ := made(2, 900, 0)
	want := Count(slices.Values(records))
	columns := pack(records)
	got := columns.Counts()
	for _, r := range records {
		if d := cmp.Diff(want.Namesakes(r), got.Namesakes(r)); d != "" {
			t.Fatalf("namesakes of %v: %s", r.Person.Name, d)
		}
	}
	got.names = want.names // the rest is compared as it is written
	a, err := want.MarshalBinary()
	if err != nil {
		t.Fatal(err)
	}
	b, err := got.MarshalBinary()
	if err != nil {
		t.Fatal(err)
	}
	var wantAgain, gotAgain Counts
	if err := wantAgain.UnmarshalBinary(a); err != nil {
		t.Fatal(err)
	}
	if err := gotAgain.UnmarshalBinary(b); err != nil {
		t.Fatal(err)
	}
	for i, x := range gotAgain.services { // what a marker's design cannot tell apart is kept of the first man only, and in the columns of none
		wantAgain.services[i].of = x.of
	}
	if d := cmp.Diff(wantAgain, gotAgain, cmp.AllowUnexported(Counts{}, tally{}, serviceKey{}, serviceCount{}), cmpopts.IgnoreFields(Counts{}, "peoples")); d != "" {
		t.Errorf("counts differ (- record by record, + columns):\n%s", d)
	}
}

// TestColumnsFile writes columns and reads them again, whole and damaged.
func TestColumnsFile(t *testing.T) {
	records, _ := made(3, 300, 0)
	records = append(records, &model.Record{ID: "last", Claim: model.Claim{Service: model.Service{Remarks: "Transferred to Co. D, 17th Ohio Inf."}}}) // the last unit, told by the last service
	c := pack(records)
	path := filepath.Join(t.TempDir(), "weigh.bin")
	if err := c.WriteFile(path); err != nil {
		t.Fatal(err)
	}
	again, err := ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(c, again, cmp.AllowUnexported(Columns{}, row{}, rankPair{}), cmp.Transformer("marks", func(u model.Unit) string { return fmt.Sprintf("%+v", u) })); d != "" {
		t.Fatalf("columns read again differ:\n%s", d)
	}
	for i, r := range records {
		if id, file := again.ID(uint32(i)), again.Files()[again.FileNumber(uint32(i))]; id != r.ID || file != r.Source.File {
			t.Fatalf("record %d is %s of %s, want %s of %s", i, id, file, r.ID, r.Source.File)
		}
	}
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		bad := bytes.Clone(whole)
		if r.IntN(2) == 0 {
			bad = bad[:r.IntN(len(bad))]
		} else {
			bad[r.IntN(len(bad))] ^= byte(1 + r.IntN(255))
		}
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := ReadFile(path); err == nil {
			t.Fatal("a damaged file was read without a word")
		}
	}
}

// TestPackedBirths: the years in which men of many ages on many days were born are those of their records, in whatever order they come.
func TestPackedBirths(t *testing.T) {
	p := NewPacker()
	var all []*model.Record
	for i := range 20_000 {
		var rec model.Record
		rec.Service.Enlisted, _ = date.Parse(fmt.Sprintf("%d-%02d-%02d", 1861+i%1700/360, 1+i%1700/30%12, 1+i%28))
		rec.Person.Age = date.Age{Years: 15 + i*i%89, Known: true}
		switch { // long ago, and ages that go back no whole number of years
		case i%11 == 3:
			rec.Service.Enlisted, _ = date.Parse(fmt.Sprintf("%04d-05-01", 1+i%700))
		case i%7 == 2:
			rec.Person.Age.HasMonths, rec.Person.Age.Months = true, i%12
		case i%13 == 5:
			rec.Service.Enlisted, _ = date.Parse("../1862-12-31")
		}
		if i%5 == 0 {
			rec.Service.MusteredIn, rec.Service.Enlisted = rec.Service.Enlisted, date.Date{}
		}
		p.Add(&rec)
		all = append(all, &rec)
	}
	c := p.Columns()
	for i, rec := range all {
		from, to := birthYears(rec.Birth())
		if w := &c.rows[i]; w.bornFrom != from || w.bornTo != to {
			t.Fatalf("a man of %d on %s was born from %d to %d, want %d to %d", rec.Person.Age.Years, rec.Service.Enlisted.EDTF, w.bornFrom, w.bornTo, from, to)
		}
	}
}
