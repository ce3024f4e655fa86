package rdf

import (
	"strconv"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
)

func TestMayLive(t *testing.T) {
	born := func(y int) model.Claim { return model.Claim{Person: model.Person{Born: date.Year(y)}} }
	dead := born(1990)
	dead.Person.Died = date.Year(2010)
	war := func(codes ...model.ConflictCode) model.Claim {
		return model.Claim{Service: model.Service{Conflicts: codes}}
	}
	enlisted := func(y int) model.Claim { return model.Claim{Service: model.Service{Enlisted: date.Year(y)}} }
	buried := born(1990)
	buried.Person.Buried = "Alder Creek"
	if !strings.Contains(string(HeldLiving), strconv.Itoa(LivingYears)) {
		t.Errorf("%q does not name the %d years", HeldLiving, LivingYears)
	}
	for _, c := range []struct {
		name    string
		claim   model.Claim
		onStone bool
		want    Held
	}{
		{"born 109 years ago", born(1916), false, HeldLiving},
		{"born 110 years ago", born(1915), false, ""},
		{"born lately, on a stone made before need", born(1950), true, HeldLiving},
		{"dead", dead, false, ""},
		{"buried, by the roster", buried, false, ""},
		{"nothing known, on a stone", model.Claim{}, true, ""},
		{"nothing known, in a roster", model.Claim{}, false, HeldUndated},
		{"civil war", war("civil-war"), false, ""},
		{"two wars: he served in the first", war("world-war-i", "world-war-ii"), false, ""},
		{"second world war", war("world-war-ii"), false, HeldLiving},
		{"a war that is not over", war("gulf"), false, HeldLiving},
		{"enlisted 1862", enlisted(1862), false, ""},
		{"enlisted 1925, perhaps as a boy", enlisted(1925), false, ""},
		{"enlisted 1926", enlisted(1926), false, HeldLiving},
		{"a side of the civil war", model.Claim{Service: model.Service{Side: model.Union}}, false, ""},
		{"a body of troops of the civil war alone", model.Claim{Service: model.Service{Unit: model.Unit{Body: "indian-home-guard", Number: 2}}}, false, ""},
		{"a body of later wars", model.Claim{Service: model.Service{Unit: model.Unit{Body: "philippine-scouts"}}}, false, HeldUndated},
		{"US Colored Troops", model.Claim{Service: model.Service{Unit: model.Unit{Body: model.BodyUSCT, Number: 79}}}, false, ""},
	} {
		why, held := mayLive(c.claim, c.claim.Person.Born, c.onStone, 2025)
		if why != c.want || held != (c.want != "") {
			t.Errorf("%s: %q, %v; want %q", c.name, why, held, c.want)
		}
	}
}

func TestHeldOnStone(t *testing.T) {
	died := func(y int) model.Claim {
		return model.Claim{Person: model.Person{Name: model.Name{Surname: "Whitcomb"}, Died: date.Year(y)}}
	}
	wife := model.Claim{Person: model.Person{Name: model.Name{Given: "Mary"}, Relation: "wife"}}
	young := model.Claim{Person: model.Person{Name: model.Name{Given: "Ida"}, Born: date.Year(1931)}}
	reading := func(people ...model.Claim) model.Reading { return model.Reading{People: people} }
	for _, c := range []struct {
		name     string
		readings []model.Reading
		want     Held
	}{
		{"a man and his wife without dates, of 1870", []model.Reading{reading(died(1870), wife)}, ""},
		{"a man and his wife without dates, of 1914", []model.Reading{reading(died(1914), wife)}, ""},
		{"a man and his wife without dates, of 1915", []model.Reading{reading(died(1915), wife)}, HeldUndated},
		{"two without dates", []model.Reading{reading(model.Claim{}, wife)}, HeldUndated},
		{"one without dates", []model.Reading{reading(model.Claim{})}, ""},
		{"a second person in a lesser reading only", []model.Reading{reading(died(1950)), reading(died(1950), wife)}, ""},
		{"a late birth in a lesser reading", []model.Reading{reading(died(1870)), reading(died(1870), young)}, HeldLiving},
		{"nobody", []model.Reading{{Unknown: true}}, ""},
	} {
		const year = 2025
		if got := heldOnStone(&model.Subject{Readings: c.readings}, year); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
