package weigh

import (
	"testing"

	"musterstone/model"
	"musterstone/vocab/name"
)

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
