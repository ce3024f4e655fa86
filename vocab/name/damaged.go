package name

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"musterstone/vocab"
)

// abbreviated is an abbreviation of a given name, folded.
type abbreviated struct {
	form string
	Form
}

var abbreviatedForms = sync.OnceValue(func() []abbreviated {
	var list []abbreviated
	for _, r := range vocab.Rows("given-abbreviations") {
		list = append(list, abbreviated{strings.ToLower(r.Get("form")), Form{r.Get("name"), r.Float("p")}})
	}
	slices.SortStableFunc(list, func(a, b abbreviated) int { return cmp.Compare(b.P, a.P) })
	return list
})

// leastMeant is how often an abbreviation must stand for a name before a damaged one may. House judgement.
const leastMeant = 0.1

// longestDamaged is how many letters a damaged abbreviation has at most, with the place of its point. House judgement.
const longestDamaged = 6

// damagedForms are the names that a damaged given name, folded, may be the abbreviation of, likeliest first, where they do not fit it written out: "CH[...]" is CHAS. with its point lost as well as
// a name of five letters, "JN[---]" JNO. Its first letter must be there, and two before a gap of unknown length. A point that stands, pointed, was not lost with the letters.
func damagedForms(fold string, pointed bool) []string {
	gap := strings.IndexAny(fold, "?*")
	if gap < 1 || len(fold) > longestDamaged || fold[gap] == '*' && gap < 2 {
		return nil
	}
	short := ""
	if !pointed && strings.HasSuffix(fold, "?") {
		short = fold[:len(fold)-1]
	}
	var list []string
	for _, a := range abbreviatedForms() {
		if a.P < leastMeant || !along(fold, a.form, nil) && (short == "" || !along(short, a.form, nil)) {
			continue
		}
		if !along(fold, Fold(a.Name), nil) && !slices.Contains(list, a.Name) {
			list = append(list, a.Name)
		}
	}
	return list
}

// pointBetween adds the first of two initials between which the place of the point is lost, "J[.]W.", and leaves the second.
func pointBetween(list []token, t *token) []token {
	const gap = "[.]"
	if !t.pointed || len(t.fold) != 3 || t.fold[1] != '?' || len(t.text) != len(gap)+2 || t.text[1:1+len(gap)] != gap {
		return list
	}
	list = append(list, token{text: t.text[:1], fold: t.fold[:1], pointed: true})
	t.text, t.fold = t.text[1+len(gap):], t.fold[2:]
	return list
}

// pointLost reports whether a damaged word is one letter and the place of its point: "W[.] FOX".
func (t token) pointLost() bool {
	return !t.pointed && len(t.fold) == 2 && t.fold[1] == '?' && t.fold[0] != '?' && strings.HasSuffix(t.text, "[.]")
}

// longestMisread is how many letters an abbreviation of a given name has at most to be looked for among those but for a letter, and shortest how many a name has that is: longer names are like the one that they were all the same.
// House judgement.
const longestMisread, shortest = 5, 3

// MisreadFor are the names that a folded word, which is no given name and short for none, may be with one letter misread: "dle" is Ole, a name of three letters, and "theq" is THEO, short for Theodore and another.
// Which letters are taken for each other Worn says; a name rarer than one in ten thousand is not thought of. Longer names, "johm", are for whoever compares whole names.
func MisreadFor(folded string) []string {
	if n := len(folded); n < shortest || n > longestMisread || wild(folded) || isGiven(folded) {
		return nil
	}
	var list []string
	word := []byte(folded)
	for k, own := range word {
		for letter := byte('a'); letter <= 'z'; letter++ {
			if letter == own || Worn(letter, own) < Alike {
				continue
			}
			word[k] = letter
			for _, f := range abbreviations()[string(word)] {
				if f.P >= leastMeant && !slices.Contains(list, f.Name) {
					list = append(list, f.Name)
				}
			}
			if w := string(word); len(w) == shortest && abbreviations()[w] == nil && KnownGiven(w) && GivenShare(w) >= rareGiven && !slices.Contains(list, ordinary(strings.ToUpper(w))) {
				list = append(list, ordinary(strings.ToUpper(w)))
			}
		}
		word[k] = own
	}
	return list
}
