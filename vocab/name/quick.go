package name

import (
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/words"
)

// wordFacts are what the tables say of one word of plain capitals. They hold no pointers, so that the collector of memory passes them by.
type wordFacts struct {
	from    int32 // where the word stands in ordinary capitals in the text of all
	short   int16 // the place of what it is short for; 0 where it is no abbreviation
	length  int8
	sure    bool // short for one name nearly always
	spoken  bool // an abbreviation only where a point ends it
	given   bool // a given name, or short for one
	special bool // a title, a suffix or the like: read with care, by parse
}

// shortFor is what a word is short for, likeliest first, and what else it may be.
type shortFor struct {
	name string
	or   []string
}

// wordList are the words of all tables of names, by their capitals.
type wordList struct {
	facts words.Table[wordFacts]
	text  string
	short []shortFor
}

// ordinary is the word of the facts in ordinary capitals.
func (w *wordList) ordinary(f *wordFacts) string { return w.text[f.from : f.from+int32(f.length)] }

var knownWords = sync.OnceValue(func() *wordList {
	m := &wordList{short: make([]shortFor, 1)}
	var text strings.Builder
	at := func(word string) *wordFacts {
		k := strings.ToUpper(letters(word))
		f := m.facts.At(k)
		if f.length == 0 {
			o := ordinary(k)
			f.from, f.length, f.given, f.spoken = int32(text.Len()), int8(len(o)), isGiven(k), spokenForms()[strings.ToLower(k)]
			text.WriteString(o)
		}
		return f
	}
	for word, forms := range abbreviations() {
		f := at(word)
		s := shortFor{name: forms[0].Name}
		for _, o := range forms[1:] {
			s.or = append(s.or, o.Name)
		}
		s.or = s.or[:len(s.or):len(s.or)]
		f.short, f.sure = int16(len(m.short)), forms[0].P >= sureMiddle
		m.short = append(m.short, s)
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
	for _, list := range []map[string]bool{l.particle, l.inner, l.givenParticle, l.title, l.degree, l.dropped, l.alias} {
		for word := range list {
			at(word).special = true
		}
	}
	for word := range l.suffix {
		at(word).special = true
	}
	m.text = text.String()
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
		f := known.facts.Get(word)
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
	known := knownWords()
	for i := range list {
		t, f := &list[i], facts[i]
		text := ""
		short := f != nil && f.short > 0 && (t.pointed || !f.spoken)
		switch {
		case short && (i == 0 || f.sure):
			text = known.short[f.short].name
		case f != nil:
			text = known.ordinary(f)
		default:
			text = ordinary(t.text)
		}
		switch {
		case i == 0:
			b.n.Given = text
			if short {
				b.n.GivenOr = known.short[f.short].or
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
		b.n.Surname = knownWords().ordinary(f)
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
			b.n.Surname = knownWords().ordinary(facts[0])
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
