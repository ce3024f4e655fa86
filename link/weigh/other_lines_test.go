package weigh

import (
	"fmt"
	"slices"
	"testing"

	"musterstone/model"
	"musterstone/vocab/name"
)

// TestOtherLines: with a man's other name goes its own middle name; and the unit that his remarks tell counts only where it is worth more than the row's.
func TestOtherLines(t *testing.T) {
	var records []*model.Record
	add := func(surname, given, company, remarks string) *model.Record {
		r := &model.Record{ID: model.RecordID(fmt.Sprint(len(records))), Claim: model.Claim{Person: model.Person{Name: name.FromParts(surname, given)}, Service: model.Service{Remarks: remarks}}}
		r.Service.Unit = model.Unit{Body: "OH", State: "OH", Number: 7, Arm: "infantry", Company: company}
		records = append(records, r)
		return r
	}
	for i := range 40 {
		add("Smith", "John A", string("ABCDE"[i%5]), "")
		add("Adams", "Henry", string("ABCDE"[i%5]), "")
	}
	named := add("Adams", "John W", "C", "Alias Henry J. Kirby")
	unnamed := add("Adams", "John W", "C", "Alias Henry Kirby")
	better := add("Kirby", "Henry J", "B", "Transferred to Co. C")
	worse := add("Kirby", "Henry J", "", "Transferred to Co. K")
	worn := add("Kirby", "Henry J", "B", "Transferred to Co. C, 7th Ohio Infantry")
	worn.Service.Unit.Number = 9
	kept := add("Adams", "Henry J", "C", "Alias on some rolls")
	differs := add("Adams", "Henry W", "C", "Alias on some rolls")
	changed := add("Adams", "John J", "C", "Alias on some rolls")
	w := New(Count(slices.Values(records)), nil)
	claim := model.Claim{Person: model.Person{Name: name.FromParts("Kirby", "Henry J")}}
	claim.Service.Unit = model.Unit{Body: "OH", State: "OH", Number: 7, Arm: "infantry", Company: "C"}
	v := w.Stone(&model.Subject{Stone: &model.Stone{ID: "s"}}, claim)
	claim.Service.Unit.Company = "G" // which wears like C
	g := w.Stone(&model.Subject{Stone: &model.Stone{ID: "g"}}, claim)
	for _, c := range []struct {
		of           string
		v            *Stone
		r            *model.Record
		field, level string
	}{
		{"the other name's middle initial is the stone's", v, named, "middle", "same"},
		{"the other name has none, and no file says how many have one", v, unnamed, "middle", ""},
		{"the later company is the stone's", v, better, "unit", "later company"},
		{"the later company's letter wears like the stone's", g, worn, "unit", "worn later company"},
		{"another name that is not told, given and middle name kept", v, kept, "middle", "same"},
		{"another name that is not told, and another middle name", v, differs, "middle", ""},
		{"another name that is not told, the given name changed with it", v, changed, "middle", ""},
		{"the later company is another, and the row gives none", v, worse, "unit", "regiment"},
	} {
		level := ""
		_, list := c.v.Against(c.r)
		for _, e := range list {
			if e.Field == c.field {
				level = e.Level
			}
		}
		if level != c.level {
			t.Errorf("%s: %s is %q, want %q", c.of, c.field, level, c.level)
		}
	}
}
