package index

import (
	"context"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
	"musterstone/model/same"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// man makes a record as a roster words it: `R1 | Holden, John T. | Co. F, 31st Wis. Inf. | 1841 | buried Oak Hill`.
func man(line string) *model.Record {
	cells := strings.Split(line, "|")
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	cells = append(cells, "", "", "", "")
	r := &model.Record{ID: model.RecordID(cells[0])}
	r.Person.Name = name.Parse(cells[1])
	r.Service.Unit, _ = unit.Parse(cells[2])
	if cells[3] != "" {
		var y int
		fmt.Sscan(cells[3], &y)
		r.Person.Born = year(y)
	}
	r.Person.Buried = cells[4]
	for i, c := range []string{"id", "name", "unit", "born", "buried"} {
		if cells[i] != "" {
			r.Written = append(r.Written, model.Cell{Column: c, Value: cells[i]})
		}
	}
	return r
}

func claim(nameWritten, unitWritten string, born int) model.Claim {
	var c model.Claim
	c.Person.Name = name.Parse(nameWritten)
	c.Service.Unit, _ = unit.Parse(unitWritten)
	if born > 0 {
		c.Person.Born = year(born)
	}
	return c
}

// smallRoster is invented: brothers, men of one name, short forms, other spellings.
var smallRoster = []string{
	"R1 | Holden, John T. | Co. F, 31st Wis. Inf. | 1841",
	"R2 | Holden, James | Co. F, 31st Wis. Inf. | 1843 | Oak Hill Cemetery", // his brother
	"R3 | Holden, John | Co. A, 2nd Ohio Cav. | 1838",
	"R4 | Holdren, John | Co. B, 8th Ill. Inf. | 1840",
	"R5 | Smith, William | Co. C, 7th Iowa Inf. | 1839",
	"R6 | Smith, William | Co. K, 22nd Iowa Inf. | 1842",
	"R7 | Smyth, Wm. | Co. D, 14th Iowa Inf. | 1845",
	"R8 | Schmidt, Wilhelm | Co. G, 26th Wis. Inf. | 1836",
	"R9 | Larkin, Henry | Co. E, 5th Wis. Inf. | 1844",
	"R10 | Larkin, Harry | Co. H, 36th Wis. Inf. | 1846",
	"R11 | Quackenbush, Peter | Co. I, 115th N.Y. Inf. | 1840",
	"R12 | McNeil, Hugh | Co. C, 7th Iowa Inf. | 1837",
	"R13 | O'Brien, Patrick | Co. B, 90th Ill. Inf. | 1835",
	"R14 | Obrian, Pat | Co. B, 23rd Ill. Inf. | 1841",
	"R15 | Abernethy, Silas | Co. F, 31st Wis. Inf. | 1842",
}

func smallRecords() []*model.Record {
	var list []*model.Record
	for _, l := range smallRoster {
		list = append(list, man(l))
	}
	return list
}

func TestCandidates(t *testing.T) {
	x := open(t, t.TempDir(), inputs(smallRecords(), "small"))
	register := subject("S", claim("Henry Larkin", "", 0))
	register.Stone.Register = &register.Readings[0].People[0]
	swapped := subject("S", model.Claim{Person: model.Person{Name: model.Name{Surname: "Peter", Given: "Quackenbush"}}})
	swapped.Stone.Register = &swapped.Readings[0].People[0]
	buried := subject("S", claim("J. Holden", "", 0))
	buried.Stone.Place.Cemetery, buried.Stone.Place.State = "Oak Hill", ""
	family := subject("S", claim("Mary Abcott", "", 0))
	family.Readings[0].People[0].Person.Relation = "wife"
	family.Readings[0].People = append(family.Readings[0].People, claim("Silas Abernethy", "", 0))
	for _, test := range []struct {
		what    string
		subject *model.Subject
		want    string // the first of the candidates, in order
	}{
		{"name, unit and birth", subject("S", claim("John T. Holden", "Co. F, 31st Wis. Inf.", 1841)), "R1 R2"},
		{"the brother", subject("S", claim("Jas. Holden", "Co F 31 Wis Inf", 0)), "R2 R1"},
		{"an abbreviated name in another regiment", subject("S", claim("Jno. Holden", "Co. A, 2 O.V.C.", 0)), "R3"},
		{"one of two men of a name, by regiment", subject("S", claim("Wm. Smith", "22nd Iowa Inf.", 0)), "R6"},
		{"one of two men of a name, by birth", subject("S", claim("William Smith", "", 1839)), "R5 R6"},
		{"another spelling of the same sound", subject("S", claim("William Smythe", "14th Iowa Inf.", 0)), "R7"},
		{"a short form", subject("S", claim("Harry Larkin", "5th Wis. Inf.", 0)), "R9 R10"},
		{"a register's row", register, "R9 R10"},
		{"lost letters", subject("S", claim("Peter Qu[...]enb[..]h", "", 0)), "R11"},
		{"a lost beginning", subject("S", claim("Peter [---]enbush", "", 0)), "R11"},
		{"lost letters and an error", subject("S", claim("P. Quac[.]enbach", "", 0)), "R11"},
		{"a ruined name, found by company", subject("S", claim("S. [---]", "Co. F, 31st Wis. Inf.", 0)), "R15"},
		{"no name at all", subject("S", claim("", "Co. F, 31st Wis. Inf.", 1842)), "R15 R1 R2"},
		{"points, blanks and capitals", subject("S", claim("HUGH MC NEIL", "", 0)), "R12"},
		{"an apostrophe and an i", subject("S", claim("Patrick O'Brian", "Co. B, 23rd Ill.", 0)), "R14 R13"},
		{"the names put the wrong way round", swapped, "R11"},
		{"the roster's burial remark", buried, "R2"},
		{"the second person of a family stone", family, "R15"},
		{"the second reading", subject("S", claim("Jn. Bolder", "", 0), claim("Hugh McNeil", "", 0)), "R12"},
	} {
		found, err := x.Candidates(context.Background(), test.subject, 0)
		if err != nil {
			t.Fatalf("%s: %v", test.what, err)
		}
		var got []string
		for _, r := range found {
			got = append(got, string(r.ID))
		}
		want := strings.Fields(test.want)
		if len(got) < len(want) || !slices.Equal(got[:len(want)], want) {
			t.Errorf("%s: candidates %v, want first %v", test.what, got, want)
		}
		if sorted := slices.Compact(slices.Sorted(slices.Values(got))); len(sorted) != len(got) {
			t.Errorf("%s: a record twice among %v", test.what, got)
		}
	}
	none, err := x.Candidates(context.Background(), subject("S", model.Claim{}), 0)
	if err != nil || len(none) > 0 {
		t.Errorf("a blank stone has candidates %v, error %v", ids(none), err)
	}
}

func TestReopen(t *testing.T) {
	dir := t.TempDir()
	read := 0
	in := Inputs{Rosters: "first", Parts: []Part{{File: "roster.csv",
		Batches: func(yield func(*same.Batch) bool) { read++; yield(same.NewCollector().Take(smallRecords())) },
		Told: func() ([]model.Complaint, bool) {
			return []model.Complaint{{File: "roster.csv", Row: 9, Text: "no name"}}, true
		}}}}
	x := open(t, dir, in)
	if !x.Built || len(x.Notes) > 0 {
		t.Errorf("first: built %v, notes %q", x.Built, x.Notes)
	}
	x = open(t, dir, in)
	if x.Built || len(x.Notes) > 0 || x.Len() != len(smallRoster) || read != 1 {
		t.Errorf("again: built %v, notes %q, %d records; read %d times", x.Built, x.Notes, x.Len(), read)
	}
	if c := x.Complaints(); len(c) != 1 || c[0].Row != 9 {
		t.Errorf("complaints %v", c)
	}
	want := smallRecords()
	if d := cmp.Diff(want, slices.Collect(x.Records(context.Background()))); d != "" {
		t.Errorf("records (-given +stored):\n%s", d)
	}
	for _, r := range want {
		if got, ok := x.Record(r.ID); !ok || got.ID != r.ID {
			t.Errorf("record %s: %v", r.ID, got)
		}
	}
	if _, ok := x.Record("nobody"); ok {
		t.Error("there is a record nobody")
	}
	if x.Err() != nil {
		t.Error(x.Err())
	}

	x = open(t, dir, inputs(want[:5], "second"))
	if !x.Built || x.Len() != 5 {
		t.Errorf("other files: built %v, %d records", x.Built, x.Len())
	}
	if left, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, "*-*")); len(left) != 1 {
		t.Errorf("the folder has %q, want only the index of the second files", left)
	}
}

// TestSameAnswers asks for the same stones on one core and on many, at once and in another order, of two indexes built apart.
func TestSameAnswers(t *testing.T) {
	c := newCounty(5, 400)
	records := c.roster(3000)
	var stones []*model.Subject
	for i := range 60 {
		stones = append(stones, c.stone(i, records[c.rng.IntN(len(records))], .08))
	}
	answers := func(x *Index, backwards bool) [][]model.RecordID {
		got := make([][]model.RecordID, len(stones))
		var all sync.WaitGroup
		for i := range stones {
			if backwards {
				i = len(stones) - 1 - i
			}
			all.Go(func() {
				found, err := x.Candidates(context.Background(), stones[i], 20)
				if err != nil {
					t.Error(err)
				}
				got[i] = ids(found)
			})
		}
		all.Wait()
		return got
	}
	want := answers(open(t, t.TempDir(), inputs(records, "a")), false)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	x := open(t, t.TempDir(), inputs(records, "b"))
	if d := cmp.Diff(want, answers(x, true)); d != "" {
		t.Errorf("other answers on one core:\n%s", d)
	}
	if d := cmp.Diff(want, answers(x, false)); d != "" {
		t.Errorf("other answers from memory:\n%s", d)
	}
}

func TestEmpty(t *testing.T) {
	x := open(t, t.TempDir(), Inputs{Rosters: "none", Records: func(func(*model.Record) bool) {}})
	found, err := x.Candidates(context.Background(), subject("S", claim("John Holden", "Co. F, 31st Wis. Inf.", 1841)), 0)
	if err != nil || len(found) > 0 {
		t.Errorf("candidates %v, error %v", found, err)
	}
	r, err := x.Find(context.Background(), "holden", FindOptions{})
	if err != nil || r.Total != 0 {
		t.Errorf("found %+v, error %v", r, err)
	}
}

// digest gives a digest.
func digest(d string) func() string { return func() string { return d } }
