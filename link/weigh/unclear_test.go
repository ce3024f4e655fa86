package weigh

import (
	"testing"

	"musterstone/model"
	"musterstone/vocab/name"
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
