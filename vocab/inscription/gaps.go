package inscription

import (
	"slices"
	"strings"
	"sync"

	"musterstone/vocab"
	"musterstone/vocab/words"
)

// leastGap is how many letters a gap of known extent must have lost to hide the end of a name, a space and the beginning of the next.
const leastGap = 3

// gapItem adds what a damaged word alone on its line may be besides one name: "CHARL[---]GIN" is the beginning of a given name and the end of a surname, and the gap has the space between them.
func (c *chart) gapItem(i int) {
	w := &c.text.Words[i]
	const alone = words.FirstInLine | words.LastInLine | words.Lost
	if w.Flags&alone != alone || w.Has(words.Digits) {
		return
	}
	raw := c.text.Span(i, i+1)
	from, to, ok := gapIn(raw)
	if !ok {
		return
	}
	front, rest := words.Letters(raw[:from]), words.Letters(raw[to:])
	if from == 0 { // "[....]POTTER": the given name is lost, and perhaps letters of the surname
		if len(rest) > 2 && !strings.ContainsAny(raw[to:], "[]") && (i == 0 || !c.text.Words[0].Has(words.LastInLine)) {
			it := item{from: i, to: i + 1, kind: kName, name: nameSpan{suffix: -1, surname: int16(i), and: -1, gap: int16(to)}}
			it.name.ownLine = true
			it.score = c.w.DamagedGiven + c.w.DamagedSurname + c.w.NameTwoWords + c.w.NameHeadsLine + c.w.NameEndsLine + c.w.NameInGap
			c.add(it)
		}
		return
	}
	initial := len(front) == 1 && len(rest) > 2 && c.context.government() && (to-from > 6 || raw[from:to] == "[---]") // "J[.....]LFORD": a government stone names nobody by his surname alone
	if strings.ContainsAny(raw[:from]+raw[to:], "[]") || !initial && (len(front) < 2 || len(rest) < 2 && (len(rest) == 0 || to-from < 6 && raw[from:to] != "[---]") || !knownNames().begins(front)) || knownNames().given(front, rest) {
		return
	}
	it := item{from: i, to: i + 1, kind: kName, name: nameSpan{suffix: -1, surname: int16(i), and: -1, gap: int16(to)}}
	it.name.known, it.name.ownLine = true, true
	it.score = c.w.DamagedGiven + c.w.DamagedSurname + c.w.NameTwoWords + c.w.NameHeadsLine + c.w.NameEndsLine + c.w.NameInGap
	if knownNames().surname(front, rest) {
		it.score += c.w.SurnameInGap
	}
	c.add(it)
}

// gapIn finds the only gap within a word that may be as long as that: where it begins, and what stands behind it.
func gapIn(raw string) (from, to int, ok bool) {
	from = strings.IndexByte(raw, '[')
	end := strings.IndexByte(raw, ']')
	if from < 0 || end < from {
		return 0, 0, false
	}
	switch lost := strings.ReplaceAll(raw[from+1:end], " ", ""); {
	case lost == "---":
	case len(lost) < leastGap || strings.Trim(lost, ".") != "":
		return 0, 0, false
	}
	return from, end + 1, true
}

// givenWorn reports whether word i begins as some given name does, by three letters or more, and has lost its end.
func (c *chart) givenWorn(i int) bool {
	key := c.text.Key(i)
	gap := strings.IndexAny(key, "?*")
	return gap > 2 && strings.Trim(key[gap:], "?*") == "" && knownNames().begins(key[:gap])
}

// split is the name that a gap parts: as it would be written with the gap on both sides of the space.
func split(written string, gap int) (given, surname string) {
	return written[:strings.IndexByte(written, '[')] + "[---]", "[---]" + written[gap:]
}

// names are the known names in order, for those who have a beginning and an end of one.
type names struct {
	givens, surnames []string
	long             [12][]string // the given names by their length, those written out alone
	short            [][2]string  // abbreviations, and the names that they stand for
}

var knownNames = sync.OnceValue(func() *names {
	n := &names{}
	for _, t := range []struct {
		table, column string
		to            *[]string
	}{{"given-shares", "given", &n.givens}, {"given-abbreviations", "form", &n.givens}, {"surname-shares", "surname", &n.surnames}} {
		for _, r := range vocab.Rows(t.table) {
			*t.to = append(*t.to, words.Letters(r.Get(t.column)))
		}
	}
	slices.Sort(n.givens)
	slices.Sort(n.surnames)
	for _, r := range vocab.Rows("given-abbreviations") {
		n.short = append(n.short, [2]string{words.Letters(r.Get("form")), r.Get("name")})
	}
	for _, r := range vocab.Rows("given-shares") {
		if g := words.Letters(r.Get("given")); len(g) < len(n.long) && r.Float("percent") >= leastGiven {
			n.long[len(g)] = append(n.long[len(g)], g)
		}
	}
	return n
})

func (n *names) begins(front string) bool        { return within(n.givens, front, "") }
func (n *names) given(front, rest string) bool   { return within(n.givens, front, rest) }
func (n *names) surname(front, rest string) bool { return within(n.surnames, front, rest) }

// leastGiven is the share of those who bear a given name, in percent, below which a damaged word is not taken for it. House judgement.
const leastGiven = 0.01

// fits reports whether a damaged word may be a given name: of three letters or more that are left, and no fewer than are lost, all stand where one has them: "J[.]MES", "[.]EORGE"; or one
// begins, and ends, with what stands on both sides of a gap of unknown length.
func (n *names) fits(key string) bool {
	left := leftOf(key)
	if left < 3 {
		return false
	}
	if gap := strings.IndexByte(key, '*'); gap >= 0 {
		return gap > 2 && !strings.ContainsAny(key[gap+1:], "?*") && strings.IndexByte(key[:gap], '?') < 0 && within(n.givens, key[:gap], key[gap+1:])
	}
	if left*2 < len(key) || len(key) >= len(n.long) {
		return false
	}
	for _, g := range n.long[len(key)] {
		same := 0
		for same < len(g) && (key[same] == g[same] || key[same] == '?') {
			same++
		}
		if same == len(g) {
			return true
		}
	}
	return false
}

// abbreviation is the abbreviation of a given name of which a damaged word of five letters at most is left: all that fit are of one name, and no name written out does. "" where none is.
func (n *names) abbreviation(key string) string {
	if len(key) > 5 || leftOf(key) < 2 || strings.IndexByte(key, '*') >= 0 || n.fits(key) || n.whole(key) {
		return ""
	}
	form, root := "", ""
	for _, s := range n.short {
		if len(s[0]) != len(key) && !(len(s[0]) == len(key)-1 && key[len(key)-1] == '?') || !agrees(key, s[0]) {
			continue
		}
		if root != "" && root != s[1] {
			return ""
		}
		form, root = s[0], s[1]
	}
	return form
}

// whole reports whether a name written out has all letters that are left of a damaged word, however few: "J[..]N" is JOHN sooner than JNTHN.
func (n *names) whole(key string) bool {
	return len(key) < len(n.long) && slices.ContainsFunc(n.long[len(key)], func(g string) bool { return agrees(key, g) })
}

// agrees reports whether all letters that are left of a damaged word stand where another word has them, as far as that goes.
func agrees(key, word string) bool {
	for k := range min(len(key), len(word)) {
		if key[k] != '?' && key[k] != word[k] {
			return false
		}
	}
	return true
}

// within reports whether some name begins and ends so, with letters between them where it must end in some.
func within(sorted []string, front, rest string) bool {
	at, _ := slices.BinarySearch(sorted, front)
	for _, name := range sorted[at:] {
		if !strings.HasPrefix(name, front) {
			return false
		}
		if rest == "" || len(name) > len(front)+len(rest) && strings.HasSuffix(name, rest) {
			return true
		}
	}
	return false
}

// relationGap adds WIFE OF and the like where its end is worn away and the line with it: "WIF[....]", "WIFE [..]".
func (c *chart) relationGap(i int) {
	t := c.text
	if !t.Words[i].Has(words.FirstInLine) || t.Words[i].Has(words.Digits) {
		return
	}
	front, to := t.Key(i), i+1
	switch {
	case front == "HIS" && !t.Words[i].Has(words.LastInLine) && i+1 < len(t.Words):
		c.wifeInGap(i)
		return
	case t.Words[i].Has(words.Lost) && i+1 < len(t.Words) && t.Key(i+1) == "OF" && !t.Words[i].Has(words.LastInLine) && t.Words[i+1].Has(words.LastInLine):
		c.relationLost(i)
		return
	case t.Words[i].Has(words.Lost):
		gap := strings.IndexAny(front, "?*")
		if gap < 3 || strings.Trim(front[gap:], "?*") != "" || within(knownNames().surnames, front[:gap], "") || knownNames().begins(front[:gap]) {
			return
		}
		front = front[:gap]
	case !t.Words[i].Has(words.LastInLine) && i+1 < len(t.Words) && t.Words[i+1].Has(words.Lost) && lostWord(t.Key(i+1)) && t.Len(i+1) < 4:
		to++
	default:
		return
	}
	if !t.Words[to-1].Has(words.LastInLine) {
		return
	}
	for k := range c.lex.relationsOf {
		if r := &c.lex.relationsOf[k]; strings.HasPrefix(r.letters, front) && (to == i+1 || r.letters == front+"OF") {
			c.add(item{from: i, to: to, kind: kRelationOf, score: c.w.RelationWorn, entry: &r.entry})
			return
		}
	}
}

// relationLost adds what stood before OF on a line of its own: WIFE where two letters of it are left, "WI[...] OF"; a child where nothing is and two are named below: "[....] OF / MARTIN & J. HARTWEN".
func (c *chart) relationLost(i int) {
	t := c.text
	front := strings.TrimRight(t.Key(i), "?*")
	if strings.ContainsAny(front, "?*") || len(front) == 1 {
		return
	}
	if front == "" {
		k := i + 2
		for k < len(t.Words) && t.Key(k) != "AND" && !t.Words[k].Has(words.LastInLine) {
			k++
		}
		if k >= len(t.Words) || t.Key(k) != "AND" || t.Words[k].Has(words.LastInLine) {
			return
		}
		front = "CHILDOF"
	}
	for k := range c.lex.relationsOf {
		if r := &c.lex.relationsOf[k]; strings.HasPrefix(r.letters, front) {
			c.add(item{from: i, to: i + 2, kind: kRelationOf, score: c.w.RelationWorn, entry: &r.entry})
			return
		}
	}
}

// wifeInGap adds HIS WIFE where a gap has its end and the beginning of her name: "HIS WI[---]E 1846 - 1928", "HIS W[---]ARY".
func (c *chart) wifeInGap(i int) {
	t := c.text
	key := t.Key(i + 1)
	gap := strings.IndexByte(key, '*')
	if gap < 1 || !strings.HasPrefix("WIFE", key[:gap]) || len(key) == gap+1 {
		return
	}
	for k := range c.lex.relationsOf {
		if r := &c.lex.relationsOf[k]; r.letters == "WIFEOF" {
			c.add(item{from: i, to: i + 2, kind: kRelation, score: c.w.RelationWorn, entry: &r.entry})
			return
		}
	}
}

// relationOf is a form such as WIFE OF, by its letters.
type relationOf struct {
	letters string
	entry   entry
}
