package weigh

import (
	"testing"

	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// TestDamagedGiven: of a given name too a lost letter is any and an unclear one a set; what is clear stays as it was.
func TestDamagedGiven(t *testing.T) {
	records := append(roster(t), record(t, "g1", "Munn, Ezra", "private", "Co. B, 31st Wis. Inf."), record(t, "g2", "Munn, Eli", "private", "Co. B, 31st Wis. Inf."),
		record(t, "g3", "Munn, William", "private", "Co. B, 31st Wis. Inf."))
	for _, c := range []struct{ stone, roster, level string }{
		{"Fẓra", "Munn, Ezra", "near"}, {"F\u0323zra", "Munn, Ezra", "same"}, {"Ẹzra", "Munn, Ezra", "same"}, {"F\u0323ḷi", "Munn, Eli", "same"}, {"F\u0323ṭi", "Munn, Eli", "same"},
		{"Ṃbi", "Munn, Eli", "different"}, {"E[..]a", "Munn, Ezra", "same"}, {"W[..]LIAM", "Munn, William", "same"}, {"W[..]LIAM", "Munn, Bill", "short form"},
		{"W[..]LIAM", "Munn, Ezra", "different"}, {"F\u0323", "Munn, Ezra", "initial"}, {"F", "Munn, Ezra", "other initial"}, {"F\u0323zra", "Munn, E.", "initial"},
		{"Ezra", "Munn, Ezra", "same"}, {"Ezra", "Munn, E[..]a", "same"},
	} {
		claim := model.Claim{Person: model.Person{Name: name.FromParts("Munn", c.stone)}}
		_, by := weigh(t, append(records, record(t, "g4", c.roster, "private", "Co. B, 31st Wis. Inf.")), claim, record(t, "r", c.roster, "private", "Co. B, 31st Wis. Inf."))
		if got := by["given"].Level; got != c.level {
			t.Errorf("%s with %s: %q, want %q", c.stone, c.roster, got, c.level)
		}
	}
}

// TestLostGiven: a given name of which nothing is left says nothing.
func TestLostGiven(t *testing.T) {
	r := record(t, "r", "Smith, John", "private", "Co. F, 31st Wis. Inf.")
	_, by := weigh(t, roster(t), model.Claim{Person: model.Person{Name: name.FromParts("Smith", "[---]")}}, r)
	if e, ok := by["given"]; ok {
		t.Errorf("a given name lost as a whole: %q at %+.1f bits", e.Level, e.Bits)
	}
}

// TestPartCompany: where the stone's regiment is lost and the companies are given, the men of that letter agree and the others do not.
func TestPartCompany(t *testing.T) {
	for _, tt := range []struct {
		stone, level string
	}{{"Co. F, Wis. Inf.", "part"}, {"Co. A, Wis. Inf.", "part of another company"}, {"Wis. Inf.", "part"}} {
		var c model.Claim
		c.Service.Unit, _ = unit.Parse(tt.stone)
		_, by := weigh(t, append(roster(t), record(t, "i", "Smith, John", "private", "Co. F, 3rd Ohio Cav.")), c, record(t, "r", "Smith, John", "private", "Co. F, 31st Wis. Inf."))
		if e := by["unit"]; e.Level != tt.level || e.Bits > 0 && tt.level != "part" || tt.stone == "Co. F, Wis. Inf." && e.Bits < .5 {
			t.Errorf("%s: %q at %+.2f bits, want %q", tt.stone, e.Level, e.Bits, tt.level)
		}
	}
}

// TestUnclearLetters: an unclear letter (a dot below it) is what was read and what wears like it; a clear one that wears like another is a level of its own.
func TestUnclearLetters(t *testing.T) {
	records := append(roster(t), record(t, "u1", "Munn, Peter", "private", "Co. B, 31st Wis. Inf."), record(t, "u2", "Gage, Peter", "private", "Co. B, 31st Wis. Inf."))
	for _, c := range []struct{ stone, roster, level string }{
		{"ṂUNN", "Munn, Peter", "fits"}, {"ṆUNN", "Munn, Peter", "fits"}, {"ḤUNN", "Munn, Peter", "fits"}, {"ẒUNN", "Munn, Peter", "nearly fits"},
		{"C\u0323AGE", "Gage, Peter", "fits"}, {"CAGE", "Gage, Peter", "worn"}, {"GAGE", "Gage, Peter", "same"}, {"PAGE", "Gage, Peter", "near"},
	} {
		claim := model.Claim{Person: model.Person{Name: name.FromParts(c.stone, "Peter")}}
		_, by := weigh(t, records, claim, record(t, "r", c.roster, "private", "Co. B, 31st Wis. Inf."))
		if got := by["surname"].Level; got != c.level {
			t.Errorf("%s with %s: %q, want %q", c.stone, c.roster, got, c.level)
		}
	}
}

// TestLostNumber: a regiment with lost digits of its number agrees with those that it may have been, and is another than all others.
func TestLostNumber(t *testing.T) {
	records := append(roster(t), record(t, "n1", "Munn, Ezra", "private", "Co. B, 131st Ill. Inf."))
	worth := map[string]float64{}
	for _, c := range []struct{ lost, company, roster, level string }{
		{"?1", "B", "Co. B, 31st Wis. Inf.", "part"}, {"?1", "", "Co. B, 31st Wis. Inf.", "part"}, {"?1", "B", "Co. C, 31st Wis. Inf.", "state and arm"},
		{"?1", "B", "Co. B, 32nd Wis. Inf.", "state and arm"}, {"*1", "B", "Co. B, 31st Wis. Inf.", "part"}, {"?1", "B", "Co. B, 31st Wis. Cav.", "different"},
		{"?1", "B", "Co. B, 131st Ill. Inf.", "different"},
	} {
		claim := model.Claim{Person: model.Person{Name: name.FromParts("Munn", "Ezra")},
			Service: model.Service{Unit: model.Unit{State: "WI", NumberLost: c.lost, Arm: "infantry", Company: c.company}}}
		_, by := weigh(t, records, claim, record(t, "r", "Munn, Ezra", "private", c.roster))
		if got := by["unit"].Level; got != c.level {
			t.Errorf("%s with %s: %q, want %q", c.lost, c.roster, got, c.level)
		}
		worth[c.lost+c.company+c.roster] = by["unit"].Bits
	}
	if a, b := worth["?1BCo. B, 31st Wis. Inf."], worth["?1BCo. B, 32nd Wis. Inf."]; a <= 0 || b >= 0 {
		t.Errorf("a number that fits is worth %.2f bits, one that does not %.2f", a, b)
	}
}
