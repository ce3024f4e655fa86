package name

import (
	"sync"

	"musterstone/vocab"
)

// Sex is whose name a given name is.
type Sex byte

// The sexes. EitherSex is that of a name borne by both, or of which the tables do not tell.
const (
	EitherSex Sex = iota
	Woman
	Man
)

// otherWomen and otherMen are which part of those who were given a woman's name may have been boys, and of a man's girls. House judgement: of the Marys 4 in a thousand were
// entered as boys, by slips; one woman in a hundred with a man's name is no reason to doubt it.
const (
	otherWomen = 0.01
	otherMen   = 0.05
)

// sexes is by the births of 1880 to 1889, the earliest that were counted by name and sex, of the soldiers' children: the names of two hundred and more. Among rarer ones
// are immigrants' men (Andrea, Arie) whose names were girls' here.
var sexes = sync.OnceValue(func() map[string]Sex {
	m := map[string]Sex{}
	for _, r := range vocab.Rows("given-sexes") {
		women, men, sex := r.Float("women"), r.Float("men"), EitherSex
		switch {
		case men <= otherWomen*women:
			sex = Woman
		case women <= otherMen*men:
			sex = Man
		}
		m[r.Get("given")] = sex
	}
	return m
})

// SexOf is whose name a folded given name is: what the table says of it or, where it has it not, of all that it may stand for.
func SexOf(folded string) Sex {
	if len(folded) < 2 || Uncertain(folded) {
		return EitherSex
	}
	if s, ok := sexes()[folded]; ok {
		return s
	}
	of := EitherSex
	for _, f := range Roots(folded) {
		s, ok := sexes()[f.Name]
		if ok && (s == EitherSex || of != EitherSex && s != of) {
			return EitherSex
		}
		of = max(of, s)
	}
	return of
}
