package unit

import (
	"slices"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// renaming is one row of usct-redesignations.csv: a regiment of US Colored Troops and what it, or a part of it, was before.
type renaming struct {
	later, before model.Unit
}

var renamings = sync.OnceValue(func() []renaming {
	var all []renaming
	for _, r := range vocab.Rows("usct-redesignations") {
		v := renaming{later: model.Unit{Body: model.BodyUSCT, Number: r.Int("number"), Arm: model.Arm(r.Get("arm"))}}
		v.before = whose(r.Get("old"))
		v.before.Number, v.before.Arm, v.before.Marks = r.Int("old_number"), model.Arm(r.Get("old_arm")), r.List("old_mark")
		all = append(all, v)
	}
	return all
})

// renamingsOf are the rows by each of their two numbers, in the order of the table.
var renamingsOf = sync.OnceValue(func() map[int][]renaming {
	m := map[int][]renaming{}
	for _, r := range renamings() {
		m[r.later.Number] = append(m[r.later.Number], r)
		if r.before.Number != r.later.Number {
			m[r.before.Number] = append(m[r.before.Number], r)
		}
	}
	return m
})

// Redesignated gives the other names of the same regiment, with the unit's company: what a regiment of US Colored Troops was called before,
// and what a colored regiment of a state became. Where one number stood for two regiments in turn (the 79th, the 7th Heavy
// Artillery), the names of both are given, and only dates can tell them apart. A state's regiment counts only where its words say that it was
// colored, of African descent, or the Native Guard: "1 KANS. INF." alone is another regiment. Source: the table's rows.
func Redesignated(u model.Unit) []model.Unit {
	var out []model.Unit
	add := func(v model.Unit) {
		v.Company = u.Company
		for _, o := range out {
			if o.SameRegiment(v) && slices.Equal(o.Marks, v.Marks) {
				return
			}
		}
		out = append(out, v)
	}
	for _, r := range renamingsOf()[u.Number] { // SameRegiment asks for one number
		if sameName(u, r.later) {
			add(r.before)
		}
		if sameName(u, r.before) {
			add(r.later)
		}
	}
	return out
}

// twice are the numbers that stood for two regiments of US Colored Troops in turn, with the arm of both: the rows that say which of the two they are of.
var twice = sync.OnceValue(func() map[int]model.Arm {
	m := map[int]model.Arm{}
	for _, r := range vocab.Rows("usct-redesignations") {
		if r.Get("which") != "" {
			m[r.Int("number")] = model.Arm(r.Get("arm"))
		}
	}
	return m
})

// Twice reports whether the number of a regiment of US Colored Troops stood for two regiments in turn.
func Twice(u model.Unit) bool {
	arm, ok := twice()[u.Number]
	return ok && u.Body == model.BodyUSCT && (u.Arm == arm || u.Arm == "")
}

// sameName reports whether a unit as written is the one of the table. An arm may be missing.
func sameName(u, row model.Unit) bool {
	if !u.SameRegiment(row) {
		return false
	}
	if len(row.Marks) == 0 || row.State == "" {
		return true
	}
	return u.HasMark("colored") || u.HasMark("african-descent") || u.HasMark("native-guard")
}
