package inscription

import (
	"slices"
	"strings"
	"sync"

	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// wide is how many lost letters, or more, may as well be a space and an initial: "AUGUST [......]FENBERGER" may have lost a middle initial, its point and the beginning of the surname.
const wide = "?????"

// opened is a name as written with its wider gaps beside a space of unknown length, and with the initial parted off that stands on the other side of a gap.
func (c *chart) opened(it *item, written string) string {
	for w := it.from; w < it.to; w++ {
		if !c.text.Words[w].Has(words.Lost) {
			continue
		}
		raw, key := c.text.Span(w, w+1), c.text.Key(w)
		if whole := c.unfigured(raw, key); whole != raw { // "5COTT"
			written, raw = strings.Replace(written, raw, whole, 1), whole
		}
		if !strings.Contains(written, raw) {
			continue
		}
		if raw == "..." || c.text.Words[w].Has(words.Note) { // words are gone
			written = strings.Replace(written, raw, "[---]", 1)
			continue
		}
		from, end, lost := gapAt(raw)
		if end == 0 || strings.ContainsAny(raw[end:], lostMarks) {
			continue
		}
		last := w == int(it.name.surname) && w == it.to-1
		switch {
		case w+1 == int(it.name.part) && last && from == 0: // "[......]FENBERGER"
			written = strings.Replace(written, raw, "[---]"+raw[end:], 1)
		case w+1 == int(it.name.part) && last: // "F[......]P"
			gap := " [---]"
			if lost == shortest { // a point and a space
				gap = " "
			}
			written = strings.Replace(written, raw, raw[:from]+gap+raw[end:], 1)
		case w+1 == int(it.name.part): // "[.....]S THODER"
			written = strings.Replace(written, raw, raw[:from]+"[---] "+raw[end:], 1)
		case !last && w < int(it.name.surname) && from > 2 && end < len(raw) && (lost == 0 || lost >= words.LeastGap) && knownNames().begins(words.Letters(raw[:from])) && !knownNames().given(words.Letters(raw[:from]), words.Letters(raw[end:])):
			written = strings.Replace(written, raw, raw[:from]+"[---]", 1) // "JACO[---]RLES": two given names, of which the second says little
		case !last && end == len(raw) && from > 0 && strings.HasSuffix(key, wide), !last && end == len(raw) && strings.HasSuffix(key, "???") && from > 1 && !knownNames().exact(key):
			written = strings.Replace(written, raw, raw[:from]+"[---]"+raw[end:], 1)
		}
	}
	return written
}

// exact reports whether a given name has the letters that are left of a damaged one where it has them, and its length.
func (n *names) exact(key string) bool {
	if len(key) >= len(n.long) {
		return false
	}
	for _, g := range n.long[len(key)] {
		if agrees(key, g) {
			return true
		}
	}
	return false
}

// initialBehind reports whether the last letter of a given name that a gap has left may be an initial, and whether it must: "[.....]S THODER", "COR[---]T. BRULAW".
func (c *chart) initialBehind(i int) (may, must bool) {
	w := &c.text.Words[i]
	if w.Flags&(words.Lost|words.Digits|words.Note) != words.Lost {
		return false, false
	}
	key := c.text.Key(i)
	front, rest := words.Parted(key)
	if len(rest) != 1 || len(front) == 1 {
		return false, false
	}
	gap := len(key) - len(front) - 1
	open := key[len(front)] == '*'
	return true, w.Has(words.DotAfter) && (open || gap > words.LeastGap) || !open && front == "" && !knownNames().exact(key)
}

// initialBefore reports whether the first letter of a surname that a gap has broken may be an initial: "WILLIAM F[......]P", "P. W[..]KENNEY".
func (c *chart) initialBefore(i int) bool {
	if c.text.Words[i].Flags&(words.Lost|words.Digits|words.Note) != words.Lost {
		return false
	}
	key := c.text.Key(i)
	if front, rest := words.Parted(key); len(front) == 1 && rest != "" {
		return true
	}
	return len(key) > 6 && key[1:3] == "??" && !strings.ContainsAny(key[3:], "?*") && knownNames().isSurname(key[3:])
}

func (n *names) isSurname(s string) bool { _, is := slices.BinarySearch(n.surnames, s); return is }
func (n *names) isGiven(s string) bool   { _, is := slices.BinarySearch(n.givens, s); return is }

// gapItem adds what a damaged word alone on its line may be besides one name: "CHARL[---]GIN" is the beginning of a given name and the end of a surname, and the gap has the space between them.
func (c *chart) gapItem(i int) {
	w := &c.text.Words[i]
	if w.Flags&(words.Lost|words.Digits) != words.Lost || !w.Has(words.FirstInLine) && (i == 0 || c.sense[i-1] < 0.5 || c.text.Words[i-1].Has(words.Digits)) || !w.Has(words.LastInLine) && (i+1 >= len(c.text.Words) || !c.infos[i+1].suffix || !c.text.Words[i+1].Has(words.LastInLine)) {
		return
	}
	raw := c.text.Span(i, i+1)
	from, to, lost := gapAt(raw)
	if to == 0 || lost > 0 && lost < words.LeastGap && !c.shortGap(i, raw, from, to, lost) {
		return
	}
	front, rest := words.Letters(raw[:from]), words.Letters(raw[to:])
	if from == 0 { // "[....]POTTER": the given name is lost, and perhaps letters of the surname
		if len(rest) > 2 && !strings.ContainsAny(raw[to:], lostMarks) && (i == 0 && !(c.yearsBelow(1) && !c.context.government()) || !c.text.Words[0].Has(words.LastInLine) || c.context.government() && w.Line == 1) {
			it := item{from: i, to: i + 1, kind: kName, name: nameSpan{suffix: -1, surname: int16(i), and: -1, gap: int16(to)}}
			it.name.ownLine = true
			it.score = c.w.DamagedGiven + c.w.DamagedSurname + c.w.NameTwoWords + c.w.NameHeadsLine + c.w.NameEndsLine + c.w.NameInGap
			c.add(it)
		}
		return
	}
	if rest == "" && c.context.government() && w.Line == 0 && lost != shortest && len(front) > 3 && !strings.ContainsAny(raw[:from]+raw[to:], lostMarks) && knownNames().begins(front) {
		it := item{from: i, to: i + 1, kind: kName, name: nameSpan{suffix: -1, surname: int16(i), and: -1, gap: int16(to)}}
		it.name.known, it.name.ownLine = true, true
		it.score = c.w.DamagedGiven + c.w.LostSurname + c.w.NameTwoWords + c.w.NameHeadsLine + c.w.NameEndsLine + c.w.NameInGap
		c.add(it) // "AUGUSTU[---]": a government stone names nobody by his surname alone
		return
	}
	whole := c.context.government() || i == 0 && c.noNameFollows(i+1) // "J[.....]LFORD": a government stone names nobody by his surname alone, nor does one on which dates follow
	initial := len(front) == 1 && len(rest) > 2 && whole
	if strings.ContainsAny(raw[:from]+strings.TrimSuffix(raw[to:], "[.]"), lostMarks) || !initial && (len(front) < 2 || len(rest) < 2 && (len(rest) == 0 || lost > 0 && lost <= words.LeastGap) || !knownNames().begins(front)) || knownNames().given(front, rest) && !(c.context.government() && lost > 0 && !knownNames().exact(c.text.Key(i))) {
		return
	}
	it := item{from: i, to: i + 1, kind: kName, name: nameSpan{suffix: -1, surname: int16(i), and: -1, gap: int16(to)}}
	it.name.known, it.name.ownLine = true, w.Has(words.FirstInLine)
	it.score = c.w.DamagedGiven + c.w.DamagedSurname + c.w.NameTwoWords + c.w.NameInGap
	if it.name.ownLine {
		it.score += c.w.NameHeadsLine
	}
	if knownNames().surname(front, rest) && !(c.context.government() && lost > 0) {
		it.score += c.w.SurnameInGap
	}
	c.addName(it, w)
}

// lostMarks are the marks of lost letters in a word as written.
const lostMarks = "[]?_+"

// gapAt finds the first gap of a word as written, in brackets or as signs of one kind ("CHARL[....]GIN", "CHARL____GIN"): where it begins and what stands behind it, and how many letters it has lost, 0 for
// an unknown number. To is 0 where there is none.
func gapAt(raw string) (from, to, lost int) {
	from = strings.IndexAny(raw, "[?_+")
	if from < 0 {
		return 0, 0, 0
	}
	if raw[from] != '[' {
		for to = from; to < len(raw) && raw[to] == raw[from]; to++ {
		}
		return from, to, to - from
	}
	end := strings.IndexByte(raw, ']')
	if end < from {
		return 0, 0, 0
	}
	within := strings.ReplaceAll(raw[from+1:end], " ", "")
	if strings.Trim(within, ".") == "" {
		lost = len(within)
	}
	return from, end + 1, lost
}

// shortest is how many letters a gap must have lost to hide a point and a space.
const shortest = 2

// shortGap reports whether a gap is one of two letters behind a whole given name or its abbreviation, a point and a space: "THOS[..]VOMER".
func (c *chart) shortGap(i int, raw string, from, to, lost int) bool {
	return lost == shortest && from > 2 && len(raw) >= to+3 && knownNames().isGiven(c.text.Key(i)[:strings.IndexByte(c.text.Key(i), '?')]) &&
		!knownNames().surname(words.Letters(raw[:from]), words.Letters(raw[to:])) // "THO[..]SON"
}

// isShort reports whether letters are the abbreviation of a given name.
func (n *names) isShort(letters string) bool {
	return slices.ContainsFunc(n.short, func(s [2]string) bool { return s[0] == letters })
}

// noNameFollows reports whether word i begins a line that tells a date.
func (c *chart) noNameFollows(i int) bool {
	if i >= len(c.text.Words) {
		return false
	}
	if c.text.Words[i].Has(words.Digits) || c.spots[i].month > 0 {
		return true
	}
	for k := c.spots[i].from; k < c.spots[i].to; k++ {
		if e := c.hits[k].entry; e.kind == kLabel && (e.label == lBorn || e.label == lDied) {
			return true
		}
	}
	return lostWord(c.text.Key(i)) && c.text.Words[i].Has(words.DashAfter) || c.text.Words[i].Has(words.Lost) && i+1 < len(c.text.Words) && c.text.Words[i+1].Num > firstYear && c.text.Words[i+1].Flags&words.FirstInLine == 0
}

// givenWorn reports whether word i begins as some given name does, by three letters or more, and has lost its end.
func (c *chart) givenWorn(i int) bool {
	key := c.text.Key(i)
	gap := strings.IndexAny(key, "?*")
	return gap > 2 && strings.Trim(key[gap:], "?*") == "" && knownNames().begins(key[:gap])
}

// split is the name that a gap parts: as it would be written with the gap on both sides of the space.
func split(written string, gap int) (given, surname string) {
	from, _, lost := gapAt(written)
	switch {
	case lost != shortest:
	case knownNames().isShort(words.Letters(written[:from])): // a point and a space
		return written[:from], written[gap:]
	default:
		return written[:from], "[.]" + written[gap:]
	}
	return written[:from] + "[---]", "[---]" + written[gap:]
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
	for _, r := range vocab.Rows("given-roots") { // names of the time that the counts of a later one lack: Abner, Sylvanus
		for _, name := range [...]string{words.Letters(r.Get("root")), words.Letters(r.Get("form"))} {
			if len(name) > 4 {
				n.givens = append(n.givens, name)
			}
		}
	}
	slices.Sort(n.givens)
	n.givens = slices.Compact(n.givens)
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
// A point behind it says that it is an abbreviation: "[..]OS." is THOS., "[.]M." WM.
func (n *names) abbreviation(key string, pointed bool) string {
	if len(key) > 5 || leftOf(key) < 2 && !(pointed && len(key) == 2 && leftOf(key) == 1) || strings.IndexByte(key, '*') >= 0 || n.fits(key) || !pointed && n.whole(key) {
		return ""
	}
	form, root := "", ""
	for _, s := range n.short {
		if len(s[0]) != len(key) && !(len(s[0]) == len(key)-1 && key[len(key)-1] == '?') || !agrees(key, s[0]) {
			continue
		}
		if root != "" && root != s[1] && form != s[0] { // "[.]NO." is JNO., whatever that stands for
			return ""
		}
		form, root = s[0], s[1]
	}
	return form
}

// shortened reports whether an abbreviation of a given name has all letters that are left of a damaged word, and its length.
func (n *names) shortened(key string) bool {
	return slices.ContainsFunc(n.short, func(s [2]string) bool { return len(s[0]) == len(key) && agrees(key, s[0]) })
}

// whole reports whether a name written out has all letters that are left of a damaged word, however few: "J[..]N" is JOHN sooner than JNTHN.
func (n *names) whole(key string) bool {
	return len(key) < len(n.long) && slices.ContainsFunc(n.long[len(key)], func(g string) bool { return agrees(key, g) })
}

// misreadShort is the abbreviation of a given name that word i, which has its point, is with one letter misread; "" where it is in a table, where none is, and where those that are stand for several names.
func (c *chart) misreadShort(i int) string {
	n := c.text.Len(i)
	if n < 3 || n > 5 || !c.text.Words[i].Has(words.DotAfter) || c.infos[i].named || c.sense[i] > 0 {
		return ""
	}
	key, form, root := c.text.Key(i), "", ""
	for _, s := range knownNames().short {
		if wrong := name.Misread(key, s[0], name.Alike); wrong != 0 && wrong != 1 {
			continue
		}
		if root != "" && root != s[1] {
			return ""
		}
		form, root = s[0], s[1]
	}
	return form
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
	if front, rest := words.Parted(key); gap < 0 && front != "" && rest != "" {
		gap = len(front) // "HIS W[....]ELLEN"
	}
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

// hisGap adds HIS WIFE, or HER HUSBAND, of which nothing is left of the first word: "MARY / [---] WIFE".
func (c *chart) hisGap(i int) {
	t := c.text
	if i+1 >= len(t.Words) || t.Words[i].Flags&(words.Lost|words.LastInLine|words.Note) != words.Lost || i == 0 || t.Len(i) > 5 || !lostWord(t.Key(i)) {
		return
	}
	s := &c.spots[i+1]
	for k := s.from; k < s.to; k++ {
		if h := &c.hits[k]; h.to == i+2 && h.guessed == 0 && h.entry.kind == kRelation && (h.entry.code == "wife" || h.entry.code == "husband") && (i+2 >= len(t.Words) || t.Words[i+1].Has(words.LastInLine) || t.Words[i+2].Has(words.Digits)) {
			c.add(item{from: i, to: i + 2, kind: kRelation, score: c.w.RelationBehindGap, entry: h.entry})
		}
	}
}

// relationOf is a form such as WIFE OF, by its letters.
type relationOf struct {
	letters string
	entry   entry
}
