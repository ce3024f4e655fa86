package same

import (
	"fmt"
	"reflect"
	"testing"
	"unsafe"

	"musterstone/model"
	"musterstone/model/date"
)

func made(i int) *model.Record {
	day := date.Day{Year: 1861 + i%4, Month: 1 + i%12, Day: 1 + i%28}
	d := date.Date{EDTF: day.String(), From: day, To: day, Written: "on " + day.String()}
	r := &model.Record{ID: model.RecordID(fmt.Sprint("m", i)), Source: model.Source{File: "roster.csv", Row: i + 2},
		Written: []model.Cell{{Column: "id", Value: fmt.Sprint("m", i)}, {Column: "remarks", Value: fmt.Sprint(" no ", i)}}}
	r.Person = model.Person{Name: model.Name{Surname: fmt.Sprint("Name", i%7), Given: "John", Written: fmt.Sprint("Name", i%7, ", Jno."), GivenOr: []string{"Jonathan"}}, Born: d, Residence: fmt.Sprint("Place ", i%3)}
	r.Service = model.Service{Rank: "private", Unit: model.Unit{Number: i % 5, State: "OH", Marks: []string{"militia"}}, Enlisted: d, Conflicts: []model.ConflictCode{"civil-war"}, Remarks: fmt.Sprint("no ", i)}
	if i%3 == 0 {
		r.Service.Conflicts, r.Person.Age, r.Person.Name.GivenOr = nil, date.Age{Years: i, Known: true}, nil
	}
	return r
}

// TestCollector: a batch gives the records that it was made of, equal values have one number, and none of it hangs on memory that was given.
func TestCollector(t *testing.T) {
	c := NewCollector()
	for range 2 {
		var records []*model.Record
		for i := range 100 {
			records = append(records, made(i))
		}
		b := c.Take(records)
		for i, r := range b.Rows {
			if got := b.Record(r); !reflect.DeepEqual(got, records[i]) {
				t.Fatalf("record %d:\n%+v\n%+v", i, records[i], got)
			}
		}
		if len(c.Surnames) != 8 || len(c.Names) != 3 || len(c.Units) != 6 || len(c.Places) != 4 || len(c.Services) != 3 || len(c.Shapes) != 2 {
			t.Errorf("%d surnames, %d names, %d units, %d places, %d services, %d shapes", len(c.Surnames), len(c.Names), len(c.Units), len(c.Places), len(c.Services), len(c.Shapes))
		}
	}
	text := []byte("Holden")
	n := c.Surname(unsafe.String(&text[0], len(text)))
	copy(text, "Miller")
	if c.Surnames[n] != "Holden" {
		t.Errorf("the surname has become %q", c.Surnames[n])
	}
	if NewCollector().Reader() == c.Reader() {
		t.Error("two collectors have one number")
	}
}

// TestTrust: one that was trusted with the values of a single reader numbers those of a second as if it had looked for each from the first; and takes what it is given while it trusts.
func TestTrust(t *testing.T) {
	reader, trusting, looking := NewCollector(), NewCollector(), NewCollector()
	trusting.Trust()
	var records []*model.Record
	for i := range 100 {
		records = append(records, made(i))
	}
	reader.Take(records)
	enter := func(c *Collector) (n [][]uint32) {
		v := &reader.Values
		n = append(n, each(v.Surnames, func(s *string) uint32 { return c.Surname(*s) }), each(v.Places, func(s *string) uint32 { return c.Place(*s) }), each(v.Names, c.Name), each(v.Units, c.Unit),
			each(v.Dates, c.Date), each(v.Ages, c.Age), each(v.Services, c.Service), each(v.Shapes, c.Shape))
		return n
	}
	want := enter(looking)
	for range 2 {
		if got := enter(trusting); !reflect.DeepEqual(got, want) {
			t.Errorf("the numbers are %v, want %v", got, want)
		}
		trusting.Check()
	}
	if !reflect.DeepEqual(trusting.Values, looking.Values) {
		t.Errorf("the values are\n%+v, want\n%+v", trusting.Values, looking.Values)
	}
	trusting.Trust()
	if n := trusting.Surname("Name1"); int(n) != len(looking.Surnames) || trusting.Surnames[n] != "Name1" {
		t.Errorf("a surname given while it trusts has the number %d", n)
	}
}

func each[T any](list []T, number func(*T) uint32) (n []uint32) {
	for i := range list {
		n = append(n, number(&list[i]))
	}
	return n
}

// TestText: the texts of a row that its shape tells are its cells, without the blanks about them.
func TestText(t *testing.T) {
	shape := Shape{Columns: []string{"a", "b", "c"}, Given: 1}
	shape.Texts[NameWritten], shape.Texts[Remarks] = 2, 3
	b := Batch{Values: Values{Shapes: []Shape{{}, shape}}, Cells: []string{"before", " John", "Holden ", " of wounds "}}
	r := &Row{Shape: 1, From: 1, To: 4}
	for which, want := range map[int]string{NameWritten: "Holden, John", Remarks: "of wounds", Buried: ""} {
		if got := b.Text(r, which); got != want {
			t.Errorf("text %d is %q, want %q", which, got, want)
		}
	}
	b.Own = [][TextCount]string{{Buried: "Rock"}}
	r.Own = 1
	if got := b.Text(r, Buried); got != "Rock" || b.Text(r, Remarks) != "" {
		t.Errorf("of its own texts, buried is %q", got)
	}
}
