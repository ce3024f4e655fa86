package unit

import (
	"musterstone/vocab"
	"musterstone/vocab/words"
)

// smallWord says what a word may do beside a number or a name: the table unit-words.csv.
type smallWord uint32

const (
	isRegimentWord smallWord = 1 << iota
	isDivision
	isDivisionArm
	isBattalion
	isCompany
	isBrigade
	isBrigadeArm
	isCorps
	isArmy
	isBand
	isGroupKind
	isGroup
	isNumberedCompany
	isCompanyEnd
	isCaptain
	isNoLegion
	isColonel
	isCommander
	isCommand
	isArmWord
	isNoShip
	isLettered
	isLegion       // stands behind the name of a legion
	isLegionEnd    // does so at the end of a line
	isNamedBattery // stands behind the name of a battery
	isConnective   // only joins the parts of a unit: "Member of Co. E of the 3rd"
	isCount        // begins a number written out
	isIndependent  // stands before the word for a battery
	isBatteryOrBattalion
)

var smallRoles = map[string]smallWord{
	"regiment":             isRegimentWord,
	"division":             isDivision,
	"division-arm":         isDivisionArm,
	"battalion":            isBattalion,
	"company":              isCompany,
	"brigade":              isBrigade,
	"brigade-arm":          isBrigadeArm,
	"corps":                isCorps,
	"army":                 isArmy,
	"band":                 isBand,
	"group-kind":           isGroupKind,
	"group":                isGroup,
	"numbered-company":     isNumberedCompany,
	"company-end":          isCompanyEnd,
	"captain":              isCaptain,
	"colonel":              isColonel,
	"no-legion":            isNoLegion,
	"commander":            isCommander,
	"command":              isCommand,
	"arm":                  isArmWord,
	"no-ship":              isNoShip,
	"lettered":             isLettered,
	"legion":               isLegion,
	"legion-end":           isLegionEnd,
	"named-battery":        isNamedBattery,
	"connective":           isConnective,
	"independent":          isIndependent,
	"battery-or-battalion": isBatteryOrBattalion,
	"misread-state":        0, // of the reading of stones alone: behind a number it is a state misread
}

// loadSmall adds what words may do.
func (l *lexicon) loadSmall() {
	add := func(word string, what smallWord) { l.words.At(word).small |= what }
	for _, r := range vocab.Rows("unit-words") {
		role, ok := smallRoles[r.Get("role")]
		if !ok {
			panic(r.Where() + ": unknown role " + r.Get("role"))
		}
		add(r.Get("word"), role)
	}
	for _, list := range []map[string]int{numberWords, tensWords, {"ONE": 1, "A": 1}} {
		for word := range list {
			add(word, isCount)
		}
	}
}

// is reports whether word i of a text that no Scanner reads may do any of that.
func is(t *words.Text, i int, what smallWord) bool {
	w := theLexicon().words.Of(t, i)
	return w != nil && w.small&what != 0
}
