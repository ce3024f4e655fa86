package name

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// Parse reads a personal name as a roster or a stone writes it: "Surname, Given M., Jr." where a comma parts it, "Given M. Surname Jr" where none does, and
// "Guthrie J" where only initials follow. All-capitals are put into ordinary ones, abbreviations of given names written out (the other names that one may
// stand for are in GivenOr), titles (Rev., Mrs.) and degrees left out, and Leiden marks kept. What follows "alias" or "or" is in Other where it is another name, or else in Written alone, which is s.
func Parse(s string) model.Name {
	if n, ok := quickParse(s); ok {
		return n
	}
	return carefulParse(s)
}

// carefulParse is Parse for any name.
func carefulParse(s string) model.Name {
	written := s
	s, doubt := doubts(parted(unnumbered(s)))
	head, others, tells := aliases(s)
	n := parse(head)
	n.Other = tells
	n.GivenOr = append(append(n.GivenOr, others...), doubt...)
	n.Written = written
	return n
}

// fewestFigures is how many figures a number behind a name has at least if it is the man's own and not a house's or a page's: the Army's serial numbers, given out from February 1918 on, had up to
// seven. House judgement.
const fewestFigures = 5

// unnumbered takes off the number that a list prints behind a man's name: "ABEL, JOHN R. 1,970,001" (printed state rosters of the World War; common practice, no source).
func unnumbered(s string) string {
	end := strings.TrimRight(s, " .,;")
	at, figures := len(end), 0
	for at > 0 {
		c := end[at-1]
		if c >= '0' && c <= '9' {
			figures++
		} else if c != ',' && c != ' ' && c != '-' && c != '#' {
			break
		}
		at--
	}
	if figures < fewestFigures || at == 0 {
		return s
	}
	// What stands before must be a word of the name: the number is not part of one, nor within brackets.
	rest := end[at:]
	if c := rest[0]; c != ' ' && c != ',' && end[at-1] != '.' {
		return s
	}
	name := strings.TrimRight(end[:at], " ,;")
	if short := strings.TrimRight(name, "."); len(short) > 2 && strings.EqualFold(short[len(short)-2:], "no") && strings.ContainsRune(" ,", rune(short[len(short)-3])) {
		name = strings.TrimRight(short[:len(short)-2], " ,;") // "Abel, John, No. 1970001"
	}
	return name
}

// parse reads a name without aliases and doubts.
func parse(s string) model.Name {
	comma := strings.IndexByte(s, ',')
	first := strings.IndexByte(s, '(')
	s, nick := nicknames(s)
	if first > 0 && first < comma {
		nick = slices.DeleteFunc(nick, func(word string) bool { return !isGiven(word) }) // "Smith (Schmidt), John": the surname spelt in another way
	}
	parts := slices.DeleteFunc(commas(s), func(p string) bool { return p == "" })
	if len(parts) == 0 {
		if len(nick) > 0 {
			return parse(strings.Trim(strings.Join(nick, " "), "\"“”()")) // all of it in parentheses
		}
		return model.Name{}
	}
	// "John Smith, Jr." is in reading order: all that follows its comma is suffix or degree.
	var b builder
	rest := parts[1:]
	for len(rest) > 0 && suffixOf(rest[0]) != "" {
		b.setSuffix(suffixOf(rest[0]))
		rest = rest[1:]
	}
	if len(parts) == 2 && len(rest) == 1 && lists().degree[letters(rest[0])] && whole(tokens(parts[0])) {
		rest = nil // "John Smith, M.D."
	}
	if len(rest) == 0 && len(parts) > 1 && len(tokens(parts[0])) == 1 {
		b.surname(tokens(parts[0])) // "Smith, Jr."
		return b.name(nick)
	}
	if len(rest) == 0 {
		b.reading(tokens(parts[0]))
		return b.name(nick)
	}
	b.surname(tokens(parts[0]))
	var given []token
	for _, p := range rest {
		if x := suffixOf(p); x != "" {
			b.setSuffix(x)
		} else if !((lists().degree[letters(p)] || lists().title[letters(p)]) && len(given) > 0) {
			given = append(given, tokens(p)...)
		}
	}
	b.given(given)
	return b.name(nick)
}

// FromParts reads a name whose surname and given names stand in cells of their own.
func FromParts(surname, given string) model.Name {
	if n, ok := quickParts(surname, given); ok {
		return n
	}
	return carefulParts(surname, given)
}

// carefulParts is FromParts for any cells.
func carefulParts(surname, given string) model.Name {
	written := strings.TrimSpace(strings.TrimSpace(surname) + ", " + strings.TrimSpace(given))
	written = strings.TrimSuffix(strings.TrimPrefix(written, ", "), ",")
	if strings.TrimSpace(surname) == "" && strings.TrimSpace(given) == "" {
		return model.Name{}
	}
	var b builder
	surname, _, tells := aliases(surname)
	given, others, more := aliases(given)
	given, nick := nicknames(given)
	parts := commas(surname)
	family := tokens(parts[0])
	var words []token
	for _, p := range append(commas(given), parts[1:]...) {
		if x := suffixOf(p); x != "" {
			b.setSuffix(x)
		} else if !((lists().degree[letters(p)] || lists().title[letters(p)]) && len(words) > 0) {
			words = append(words, tokens(p)...)
		}
	}
	if len(words) == 0 && whole(family) {
		b.reading(family)
	} else {
		b.surname(family)
		b.given(words)
	}
	n := b.name(nick)
	n.GivenOr = append(n.GivenOr, others...)
	n.Other, n.Written = cmp.Or(tells, more), written
	return n
}

// whole reports whether the cell of a surname, with none of a given name beside it, holds a whole name: "Caleb L. Hudson", "HALL WILL E".
func whole(words []token) bool {
	if len(words) < 2 || particle(words, 0) {
		return false
	}
	for _, w := range words {
		if w.initial() {
			return true
		}
	}
	return isGiven(words[0].text) && SurnameShare(words[0].fold) < GivenShare(words[0].fold)
}

// builder gathers the parts of a name.
type builder struct {
	n model.Name
}

func (b *builder) setSuffix(s string) {
	if s != "" && b.n.Suffix == "" {
		b.n.Suffix = s
	}
}

// reading takes words in reading order.
func (b *builder) reading(words []token) {
	words = b.trim(words)
	switch {
	case len(words) == 0:
		return
	case len(words) > 1 && surnameFirst(words):
		b.surname(words[:1])
		b.given(words[1:])
		return
	case len(words) > 1 && words[len(words)-1].initial() && !words[0].initial():
		b.given(words) // "WM. H.": the surname is lost
		return
	}
	at := len(words) - 1
	for at > 0 && particle(words, at-1) {
		at--
	}
	b.surname(words[at:])
	b.given(words[:at])
}

// surnameFirst reports whether a name that ends with an initial begins with a word that is a surname sooner than a given name:
// "Guthrie J", "Hall Will E".
func surnameFirst(words []token) bool {
	if words[0].initial() || !words[len(words)-1].initial() {
		return false
	}
	f := words[0].fold
	if _, ok := abbreviations()[f]; ok {
		return false
	}
	return GivenShare(f) < 10*SurnameShare(f)
}

// particle reports whether the word at i begins the surname that follows it.
func particle(words []token, i int) bool {
	k := words[i].key()
	if lists().inner[k] {
		return i > 0 && lists().outer[words[i-1].key()]
	}
	if (k == "o" || k == "d") && strings.ContainsFunc(words[i].text, isApostrophe) {
		return true
	}
	return lists().particle[k]
}

// trim takes titles off the head, and suffixes and degrees off the end.
func (b *builder) trim(words []token) []token {
	for len(words) > 1 && lists().title[words[0].key()] && !(len(words) == 2 && words[1].initial()) {
		words = words[1:]
	}
	for len(words) > 1 {
		last := words[len(words)-1]
		k := last.key()
		if x := lists().suffix[k]; x != "" && !((k == "junior" || k == "senior") && len(words) < 3) {
			b.setSuffix(x)
		} else if len(words) > 3 && k == "d" && last.pointed && words[len(words)-2].key() == "m" && !words[len(words)-3].initial() {
			words = words[:len(words)-1] // "John Smith M.D."
		} else if !(lists().dropped[k] || lists().title[k] && last.pointed && len(words) > 2) {
			break
		}
		words = words[:len(words)-1]
	}
	return words
}

// surname takes the words of a surname.
func (b *builder) surname(words []token) {
	words = b.trim(words)
	if len(words) == 1 {
		b.n.Surname = ordinary(words[0].text)
		return
	}
	var s strings.Builder
	for i, w := range words {
		text := ordinary(w.text)
		if i > 0 && !joins(words[i-1]) {
			s.WriteByte(' ')
		} else if i > 0 {
			text = capitalised(text)
		}
		s.WriteString(text)
	}
	b.n.Surname = s.String()
}

// elided are the letters that stand with an apostrophe before the rest of a surname: O'Hare, D'Arcy.
const elided = "odlm"

// joins reports whether a word is written together with the one after it: Mc, Mac, O', D'.
func joins(word token) bool {
	return lists().joined[word.fold] || len(word.fold) == 1 && strings.Contains(elided, word.fold) && strings.ContainsFunc(word.text, isApostrophe)
}

// given takes the words of the given names: the first is Given, the rest Middle.
func (b *builder) given(words []token) {
	words = b.trim(words)
	if len(words) == 1 && lists().suffix[words[0].key()] != "" {
		b.setSuffix(lists().suffix[words[0].key()])
		return
	}
	if len(words) == 0 {
		return
	}
	if len(words) > 1 && lists().givenParticle[words[0].key()] && len(words[1].fold) > 2 {
		joined := token{text: ordinary(words[0].text) + " " + ordinary(words[1].text), fold: words[0].fold + words[1].fold}
		words = append([]token{joined}, words[2:]...)
	}
	list := make([]token, 0, 4)
	for _, w := range words {
		list = runTogether(pointBetween(list, &w), w)
	}
	for k := range list {
		if list[k].pointLost() {
			list[k].text, list[k].fold = strings.TrimSuffix(list[k].text, "[.]"), list[k].fold[:1]
		}
	}
	b.n.Given = ordinary(list[0].text)
	if wild(list[0].fold) {
		b.n.GivenOr = append(b.n.GivenOr, damagedForms(list[0].fold, list[0].pointed)...)
	}
	if forms := list[0].expand(); forms != nil {
		b.n.Given = forms[0].Name
		for _, f := range forms[1:] {
			b.n.GivenOr = append(b.n.GivenOr, f.Name)
		}
	}
	var middle strings.Builder
	for _, w := range list[1:] {
		if middle.Len() > 0 {
			middle.WriteByte(' ')
		}
		if forms := w.expand(); forms != nil && forms[0].P >= sureMiddle {
			middle.WriteString(forms[0].Name)
		} else {
			middle.WriteString(ordinary(w.text))
		}
	}
	b.n.Middle = middle.String()
}

// sureMiddle is how sure an abbreviation must be before a middle name is written out, since a middle name has no others beside it.
const sureMiddle = 0.9

// expand writes out an abbreviation. A short form that was spoken (Fred, Will) is one only where a point or an apostrophe ("H'Y") says so.
func (t token) expand() []Form {
	if !t.pointed && spokenForms()[t.fold] && !strings.ContainsFunc(t.text, isApostrophe) {
		return nil
	}
	return abbreviations()[t.fold]
}

// spokenForms are the abbreviations that are diminutives too.
var spokenForms = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, r := range vocab.Rows("given-abbreviations") {
		k := strings.ToLower(r.Get("form"))
		if _, ok := givenRoots()[k]; ok {
			m[k] = true
		}
	}
	return m
})

// runTogether adds a word, and parts two initials that are written as one: "JW", but not "WM", "ED" or "Jo".
func runTogether(list []token, w token) []token {
	if len(w.text) != 2 || len(w.fold) != 2 || w.text[0] > 'Z' || w.text[1] > 'Z' || w.text[0] < 'A' || w.text[1] < 'A' {
		return append(list, w)
	}
	if isGiven(w.text) || lists().shortGiven[w.fold] {
		return append(list, w)
	}
	return append(list, token{text: w.text[:1], fold: w.fold[:1]}, token{text: w.text[1:], fold: w.fold[1:]})
}

// name gives what was gathered. Nicknames that are given names or short for one go to GivenOr, other words in parentheses, which are mostly maiden
// names, to Middle.
func (b *builder) name(nick []string) model.Name {
	for _, s := range nick {
		var words []string
		for _, w := range tokens(strings.NewReplacer(",", " ", ";", " ").Replace(s)) {
			words = append(words, ordinary(w.text))
		}
		word := strings.Join(words, " ")
		if word == "" || strings.EqualFold(word, b.n.Given) {
			continue
		}
		if first := Fold(word); b.n.Given == "" || len(b.n.Given) == 1 && len(words) == 1 && len(first) > 1 && first[0] == b.n.Given[0]|0x20 && isGiven(word) {
			b.n.Given = word // "Penhallow, H. (Hezekiah)": what the initial stands for
			continue
		}
		if isGiven(word) {
			b.n.GivenOr = append(b.n.GivenOr, word)
			continue
		}
		if x := suffixOf(s); x != "" {
			b.setSuffix(x)
			continue
		}
		b.n.Middle = strings.TrimSpace(b.n.Middle + " " + word)
	}
	return b.n
}

// isGiven reports whether the tables know a word as a given name or as short for one.
func isGiven(word string) bool {
	f := Fold(word)
	_, short := abbreviations()[f]
	return short || KnownGiven(f)
}
