package name

import (
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/words"
)

// wordFacts are what the tables say of one word of plain capitals.
type wordFacts struct {
	ordinary string   // in ordinary capitals
	name     string   // what it is short for, likeliest first; "" where it is no abbreviation
	or       []string // what else it may be short for
	sure     bool     // short for name nearly always
	spoken   bool     // an abbreviation only where a point ends it
	given    bool     // a given name, or short for one
	special  bool     // a title, a suffix or the like: read with care, by parse
}

// knownWords are the words of all tables of names, by their capitals.
var knownWords = sync.OnceValue(func() *words.Table[wordFacts] {
	m := &words.Table[wordFacts]{}
	at := func(word string) *wordFacts {
		k := strings.ToUpper(letters(word))
		f := m.At(k)
		if f.ordinary == "" {
			f.ordinary, f.given, f.spoken = ordinary(k), isGiven(k), spokenForms()[strings.ToLower(k)]
		}
		return f
	}
	for word, forms := range abbreviations() {
		f := at(word)
		f.name, f.sure = forms[0].Name, forms[0].P >= sureMiddle
		for _, o := range forms[1:] {
			f.or = append(f.or, o.Name)
		}
		f.or = f.or[:len(f.or):len(f.or)]
	}
	for word := range givenRoots() {
		at(word)
	}
	for _, r := range vocab.Rows("given-shares") {
		at(r.Get("given"))
	}
	for _, r := range vocab.Rows("surname-shares") {
		at(r.Get("surname"))
	}
	l := lists()
	for _, list := range []map[string]bool{l.particle, l.givenParticle, l.title, l.degree, l.dropped} {
		for word := range list {
			at(word).special = true
		}
	}
	for word := range l.suffix {
		at(word).special = true
	}
	for _, word := range []string{"MC", "MAC", "DEN", "DER", "OR", "ALIAS", "AKA", "OTHERWISE"} {
		at(word).special = true
	}
	return m
})

// quickWords is how many words of a name the quick way takes.
const quickWords = 6

// quick parts a name of plain capitals, points and single blanks, which nearly all names on stones are, into its words: n of them, 0 for any other
// name and for one that holds a title, a suffix, the prefix of a surname or a word whose place in the name is in doubt.
func quick(s string, list *[quickWords]token, facts *[quickWords]*wordFacts) (n int) {
	known := knownWords()
	for i := 0; i < len(s); {
		from := i
		for i < len(s) && s[i] >= 'A' && s[i] <= 'Z' {
			i++
		}
		if i == from || n == quickWords {
			return 0
		}
		word := s[from:i]
		t := token{text: word}
		if i < len(s) && s[i] == '.' {
			t.pointed = true
			i++
		}
		if i < len(s) {
			if s[i] != ' ' || i+1 == len(s) {
				return 0
			}
			i++
		}
		f := known.Get(word)
		if f != nil && f.special || len(word) == 2 && (f == nil || !f.given) {
			return 0
		}
		list[n], facts[n] = t, f
		n++
	}
	return n
}

// quickGiven takes the words of given names.
func (b *builder) quickGiven(list []token, facts []*wordFacts) {
	for i := range list {
		t, f := &list[i], facts[i]
		text := ""
		short := f != nil && f.name != "" && (t.pointed || !f.spoken)
		switch {
		case short && (i == 0 || f.sure):
			text = f.name
		case f != nil:
			text = f.ordinary
		default:
			text = ordinary(t.text)
		}
		switch {
		case i == 0:
			b.n.Given = text
			if short {
				b.n.GivenOr = f.or
			}
		case i == 1:
			b.n.Middle = text
		default:
			b.n.Middle += " " + text
		}
	}
}

// quickParse reads a name of plain capitals in reading order; ok is false where parse must read it.
func quickParse(s string) (n model.Name, ok bool) {
	var list [quickWords]token
	var facts [quickWords]*wordFacts
	k := quick(s, &list, &facts)
	if k == 0 || len(list[k-1].text) == 1 && k > 1 {
		return n, false
	}
	var b builder
	if f := facts[k-1]; f != nil {
		b.n.Surname = f.ordinary
	} else {
		b.n.Surname = ordinary(list[k-1].text)
	}
	b.quickGiven(list[:k-1], facts[:k-1])
	b.n.Written = s
	return b.n, true
}

// quickParts reads given names of plain capitals beside a surname of one plain word, or of none; ok is false where FromParts must read them.
func quickParts(surname, given string) (n model.Name, ok bool) {
	var list [quickWords]token
	var facts [quickWords]*wordFacts
	var b builder
	if surname != "" {
		if k := quick(surname, &list, &facts); k != 1 || list[0].pointed || len(surname) < 2 {
			return n, false
		}
		if b.n.Surname = ordinary(surname); facts[0] != nil {
			b.n.Surname = facts[0].ordinary
		}
	}
	k := quick(given, &list, &facts)
	if k == 0 {
		return n, false
	}
	b.quickGiven(list[:k], facts[:k])
	b.n.Written = given
	if surname != "" {
		b.n.Written = surname + ", " + given
	}
	return b.n, true
}
