package index

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// TestOtherRows: a man is found by the other name that his name or his remarks give, and by the other unit that these give, and among the men of the stone's unit where they tell of another name without giving it; once each.
func TestOtherRows(t *testing.T) {
	var records []*model.Record
	add := func(surname, given, company string, regiment int, remarks string) model.RecordID {
		r := &model.Record{ID: model.RecordID(fmt.Sprintf("r%d", len(records))), Source: model.Source{File: "roster.csv", Row: len(records) + 2}}
		r.Person.Name = name.FromParts(surname, given)
		r.Service.Unit = model.Unit{State: "OH", Number: regiment, Arm: "infantry", Company: company}
		r.Service.Remarks = remarks
		records = append(records, r)
		return r.ID
	}
	for i := range 300 { // the stone's company, with many men whose names are as far off
		add([]string{"Abbott", "Bennett", "Conner", "Dwyer", "Ewing"}[i%5], []string{"John", "William", "James", "George"}[i%4], "B", 7, "")
	}
	for i := range 300 { // and namesakes elsewhere
		add("Kirby", "Henry", "C", 20+i%50, "")
	}
	named := add("Fogarty", "Peter", "K", 9, "Alias Henry Kirby; deserted")
	inName := add("Fogarty alias Kirby", "Peter", "K", 9, "")
	told := add("Gaines", "Peter", "B", 7, "Alias on some rolls")
	substitute := add("Hale", "Peter", "B", 7, "Substitute")
	later := add("Kirby", "Henry", "K", 9, "Transferred to Co. B, 7th Regiment")
	inUnit := add("Kirby", "Henry", "K", 9, "")
	records[len(records)-1].Service.Unit = unit.FromParts(unit.Parts{Unit: "Co. K, 9th Ohio Inf.; Co. B, 7th Ohio Inf."})
	dir := t.TempDir()
	built := open(t, dir, inputs(records, "a"))
	if err := built.Close(); err != nil {
		t.Fatal(err)
	}
	x := open(t, dir, inputs(records, "a"))
	if x.Built || len(x.Notes) > 0 || x.Len() != len(records) {
		t.Fatalf("opened again it has %d records, built %v, %v; want the %d that were kept", x.Len(), x.Built, x.Notes, len(records))
	}
	of := func(u model.Unit) []model.RecordID {
		claim := model.Claim{Person: model.Person{Name: model.Name{Surname: "Kirby", Given: "Henry"}}}
		claim.Service.Unit = u
		s := &model.Subject{Stone: &model.Stone{ID: "s"}, Readings: []model.Reading{{Probability: 1, People: []model.Claim{claim}}}}
		found, err := x.Candidates(context.Background(), s, 50)
		if err != nil {
			t.Fatal(err)
		}
		list := ids(found)
		if again := slices.Compact(slices.Sorted(slices.Values(list))); len(again) != len(list) || len(list) != 50 {
			t.Errorf("%d candidates, %d of them different, want 50", len(list), len(again))
		}
		return list
	}
	list := of(model.Unit{State: "OH", Number: 7, Arm: "infantry", Company: "B"})
	if !slices.Contains(list[:2], later) || !slices.Contains(list[:2], inUnit) {
		t.Errorf("first for the other unit are %v, want %s by his remarks and %s by the cell of his unit", list[:2], later, inUnit)
	}
	for what, id := range map[string]model.RecordID{"of another name": told, "a substitute": substitute} {
		if !slices.Contains(list, id) {
			t.Errorf("the man of the company who is %s is not among the candidates", what)
		}
	}
	if list = of(model.Unit{State: "OH", Number: 9, Arm: "infantry", Company: "K"}); !slices.Contains(list[:4], named) || !slices.Contains(list[:4], later) || !slices.Contains(list[:4], inUnit) || !slices.Contains(list[:4], inName) {
		t.Errorf("first for the earlier unit are %v, want %s and %s by their other names, %s and %s", list[:4], named, inName, later, inUnit)
	}
}
