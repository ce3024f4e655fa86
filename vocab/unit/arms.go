package unit

import (
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/words"
)

// armRow is a row of arms.csv.
type armRow struct {
	name    string
	broader model.Arm
	// wordedAs is the arm that sources may name instead: "Art." for heavy artillery. Not every broader one is: nobody calls the sharpshooters infantry.
	wordedAs model.Arm
	others   bool // are worded as this one
	modern   bool // of the First World War or later
}

var arms = sync.OnceValue(func() map[model.Arm]armRow {
	m := map[model.Arm]armRow{}
	for _, r := range vocab.Rows("arms") {
		m[model.Arm(r.Get("code"))] = armRow{name: r.Get("name"), broader: model.Arm(r.Get("broader")), wordedAs: model.Arm(r.Get("worded_as")), modern: r.Get("modern") == "yes"}
	}
	for _, row := range m {
		if as, ok := m[row.wordedAs]; ok {
			as.others = true
			m[row.wordedAs] = as
		}
	}
	return m
})

// WordedAs is the arm that sources may name instead of one, artillery for heavy artillery, or itself; generic is set for an arm that is named instead of others.
func WordedAs(arm model.Arm) (as model.Arm, generic bool) {
	row := arms()[arm]
	if row.wordedAs != "" {
		return row.wordedAs, false
	}
	return arm, row.others
}

// isKind reports whether an arm is the other or a kind of it: siege artillery is heavy artillery, and artillery.
func isKind(arm, of model.Arm) bool {
	for ; arm != ""; arm = arms()[arm].broader {
		if arm == of {
			return true
		}
	}
	return false
}

// armsByMark are the arms by the letters of their codes and of the marks of arm-marks.csv, with what else a mark says of the unit.
var armsByMark = sync.OnceValue(func() map[string]model.Unit {
	m := map[string]model.Unit{}
	for arm := range arms() {
		m[words.Letters(string(arm))] = model.Unit{Arm: arm}
	}
	for _, r := range vocab.Rows("arm-marks") {
		m[words.Letters(r.Get("mark"))] = model.Unit{Arm: model.Arm(r.Get("arm")), Marks: r.List("extra")}
	}
	return m
})

// Arm reads an arm of service as a cell of its own words it, codes included ("heavy-artillery"), with what else the words say of the unit: "Mtd. Inf.",
// "Colored Infantry", "C", "Bat".
func Arm(text string) (arm model.Arm, marks []string, ok bool) {
	key := words.Letters(text)
	if key == "" {
		return "", nil, false
	}
	u, ok := armsByMark()[key]
	if !ok {
		u, _ = Parse(text)
	}
	return u.Arm, u.Marks, u.Arm != "" || len(u.Marks) > 0
}
