package unit

import (
	"sync"

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
)

var smallRoles = map[string]smallWord{
	"regiment":         isRegimentWord,
	"division":         isDivision,
	"division-arm":     isDivisionArm,
	"battalion":        isBattalion,
	"company":          isCompany,
	"brigade":          isBrigade,
	"brigade-arm":      isBrigadeArm,
	"corps":            isCorps,
	"army":             isArmy,
	"band":             isBand,
	"group-kind":       isGroupKind,
	"group":            isGroup,
	"numbered-company": isNumberedCompany,
	"company-end":      isCompanyEnd,
	"captain":          isCaptain,
	"colonel":          isColonel,
	"no-legion":        isNoLegion,
}

var smallWords = sync.OnceValue(func() *words.Table[smallWord] {
	var all words.Table[smallWord]
	for _, r := range vocab.Rows("unit-words") {
		role, ok := smallRoles[r.Get("role")]
		if !ok {
			panic(r.Where() + ": unknown role " + r.Get("role"))
		}
		*all.At(r.Get("word")) |= role
	}
	return &all
})

// may reports whether word i may do any of that; a word beyond the text does nothing.
func may(t *words.Text, i int, what smallWord) bool {
	if i < 0 || i >= len(t.Words) {
		return false
	}
	w := smallWords().Of(t, i)
	return w != nil && *w&what != 0
}
