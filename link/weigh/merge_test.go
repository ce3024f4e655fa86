package weigh

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"musterstone/model"
	"musterstone/model/date"
)

// every unexported type that Counts are made of, for cmp.
var countsTypes = cmp.AllowUnexported(Counts{}, tally{}, serviceKey{}, serviceCount{}, Moves{})

func lived(y int) date.Date {
	return date.Date{From: date.Day{Year: y, Month: 1, Day: 1}, To: date.Day{Year: y, Month: 12, Day: 31}}
}

// TestMerge: counts of parts of the records, written, read and merged in any order, are the counts of all.
func TestMerge(t *testing.T) {
	var records []*model.Record
	for i := range 40 {
		r := &model.Record{ID: model.RecordID(rune('a' + i))}
		r.Person.Name = model.Name{Surname: []string{"Holden", "Smith", "Quackenbush"}[i%3], Given: []string{"John", "W", "Asa", ""}[i%4], Middle: []string{"", "B"}[i%2], Suffix: []string{"", "", "Jr"}[i%3]}
		r.Service.Unit = model.Unit{State: []model.State{"WI", "OH"}[i%2], Number: 1 + i%7, Arm: []model.Arm{"infantry", "cavalry", ""}[i%3], Company: []string{"A", "K", ""}[i%3]}
		r.Service.Rank = []model.Rank{"private", "corporal"}[i%2]
		r.Service.Side = model.Union
		r.Person.Residence, r.Person.Buried = []string{"Dane County", "Rock County"}[i%2], []string{"", "Hill Cemetery"}[i%2]
		r.Person.Born, r.Person.Died = lived(1830+i%9), lived(1864+i%3)
		records = append(records, r)
	}
	want := Count(slices.Values(records))
	got := &Counts{}
	for _, part := range [][]*model.Record{records[30:], records[:11], records[11:30]} {
		b, err := Count(slices.Values(part)).MarshalBinary()
		if err != nil {
			t.Fatal(err)
		}
		c := &Counts{}
		if err := c.UnmarshalBinary(b); err != nil {
			t.Fatal(err)
		}
		got.Merge(c)
	}
	for _, c := range []*Counts{want, got} { // through the same form, in which lists are sorted
		b, err := c.MarshalBinary()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.UnmarshalBinary(b); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(want, got, countsTypes, cmpopts.EquateEmpty(),
		cmpopts.IgnoreFields(serviceCount{}, "of"), cmpopts.IgnoreFields(Counts{}, "peoples")); diff != "" {
		t.Errorf("(-all +merged)\n%s", diff)
	}
}

func TestMergeMoves(t *testing.T) {
	stone := func(here, unit model.State) *model.Subject {
		s := &model.Subject{Stone: &model.Stone{Place: model.Place{State: here}}}
		c := model.Claim{Service: model.Service{Unit: model.Unit{State: unit, Number: 3}}}
		s.Readings = []model.Reading{{People: []model.Claim{c}, Probability: 1}}
		return s
	}
	all := []*model.Subject{stone("WI", "WI"), stone("WI", "OH"), stone("OH", "OH"), stone("WI", "OH"), stone("", "OH")}
	got := &Moves{}
	for _, part := range [][]*model.Subject{all[3:], all[:1], all[1:3]} {
		b, err := CountMoves(part).MarshalBinary()
		if err != nil {
			t.Fatal(err)
		}
		m := &Moves{}
		if err := m.UnmarshalBinary(b); err != nil {
			t.Fatal(err)
		}
		got.Merge(m)
	}
	if diff := cmp.Diff(CountMoves(all), got, countsTypes); diff != "" {
		t.Errorf("(-all +merged)\n%s", diff)
	}
}
