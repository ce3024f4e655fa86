package inscription

import (
	"strings"
	"sync"

	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// chart holds all that the words of one inscription may be, and the ways to lay that end to end. A chart is used again and again; what
// it holds is good until it is.
type chart struct {
	lex     *lexicon
	w       *weights
	text    *words.Text
	context Context

	items          []item
	heading        bool    // a surname may head the stone
	parts          bool    // a name may be parted by a gap
	first          []int32 // per word: the first item that starts there, -1 for none
	sense          []float32
	nameScore      []wordScore
	infos          []nameInfo
	units          []unit.Word
	spots          []spot
	whens          []when
	ages           []date.Age
	births, deaths []int   // the years that figures may stand for
	and, place     []uint8 // per word: how far ahead stands what makes a pair of people, and a place
	// afterLabel tells at which words BORN, DIED or the like has just ended, so that a bare word may be a place.
	afterLabel []bool
	// afterClass tells at which words a rank's class has just ended, so that a name may begin.
	afterClass []bool
	misread    []bool // per word: its forms are those of another word, that looks like it
	unitParts  []unit.Part
	states     []state
	at         []stop // per place, that before each word and that behind the last
	finals     []final
	ranked     [width]place // those of one place, best first
	build      builder
	paths      []uint64 // what the paths built so far tell
	pathOf     []int    // and the reading that each became
	keys       []uint64 // what the readings built so far say
	made       []madeName
	own        words.Text

	hits  []hit         // all forms found, by the word where they start
	found []words.Found // those of one word
	scan  unit.Scanner
}

var charts = sync.Pool{New: func() any { return &chart{lex: theLexicon(), w: &theLexicon().weights} }}

// maxWords is how many words of an inscription are read; what follows is left unread.
const maxWords = 300

// add adds an item, at the head of those that start at its word.
func (c *chart) add(it item) {
	if it.to > len(c.text.Words) || it.to <= it.from {
		return
	}
	if it.kind == kName {
		c.nameBits(&it)
	}
	it.next = c.first[it.from]
	c.items = append(c.items, it)
	c.first[it.from] = int32(len(c.items) - 1)
}

// nameBits notes of a name what every step to it asks.
func (c *chart) nameBits(it *item) {
	w, s, n := &c.text.Words[it.from], &c.nameScore[it.from], &it.name
	n.first = w.Has(words.FirstInLine)
	n.named = s.givenName || s.initial || w.Has(words.CommaAfter) || w.Has(words.Lost) && it.to > it.from+1 && c.nameScore[it.from+1].initial
	n.noGiven = !s.givenName && !s.initial && !w.Has(words.Lost)
	n.noSurname = int(n.surname) == it.to && !n.givenOnly && n.suffix < 0
}

func (c *chart) addWhen(w when) int32 {
	c.whens = append(c.whens, w)
	return int32(len(c.whens) - 1)
}

func (c *chart) addAge(a date.Age) int32 {
	c.ages = append(c.ages, a)
	return int32(len(c.ages) - 1)
}

// fill finds all items of the text.
func (c *chart) fill(t *words.Text, ctx Context) {
	n := len(t.Words)
	c.text, c.context = t, ctx
	c.heading, c.parts = false, false
	c.items, c.whens, c.ages, c.unitParts = c.items[:0], c.whens[:0], c.ages[:0], c.unitParts[:0]
	c.states, c.finals, c.made = c.states[:0], c.finals[:0], c.made[:0]
	c.first, c.sense, c.nameScore = sized(c.first, n), sized(c.sense, n), sized(c.nameScore, n)
	c.infos, c.units, c.spots, c.at = sized(c.infos, n), sized(c.units, n), sized(c.spots, n), sized(c.at, n+1)
	c.afterLabel, c.afterClass, c.misread = sized(c.afterLabel, n+1), sized(c.afterClass, n+1), sized(c.misread, n)
	clear(c.afterLabel)
	clear(c.afterClass)
	post := false // a society's post is named
	for i := range n {
		info := &c.infos[i]
		if p := c.lex.known.Of(t, i); p != nil {
			p.unpack(info)
			c.misread[i] = false
		} else {
			*info = nameInfo{}
			c.misread[i] = c.lookAlike(i, info)
		}
		if t.Words[i].Has(words.FirstInLine) && t.Words[i].Line < 3 && (info.form == 0 || t.Len(i) == 3 && t.Words[i].Line > 0 && info.given == 0) && i+1 < n && (t.Words[i].Has(words.DotAfter) || t.Words[i+1].Flags&words.FirstInLine == 0) {
			c.misread[i] = c.rankAlike(i, info) || c.misread[i]
		}
		if i > 0 && (info.unit == (unit.Word{}) || c.misread[i] || info.noState) && (t.Words[i-1].Num > 0 && t.Words[i-1].Num < 400 || t.Words[i-1].Flags&(words.Digits|words.Lost) == words.Digits|words.Lost) {
			c.misread[i] = c.stateAlike(i, info)
		}
		if t.Len(i) == 2 && info.form == 0 && !info.named && c.behindState(i) {
			c.misread[i] = c.armShort(i, info) || c.misread[i]
		}
		c.units[i] = info.unit
		post = post || info.starts&sPost != 0
		c.first[i], c.sense[i] = -1, 0
	}
	for i := range c.at {
		at := &c.at[i]
		at.best, at.list = none, at.list[:0]
	}
	c.hits = c.hits[:0]
	for i := range n {
		from := len(c.hits)
		if at := c.infos[i].form; at != 0 || t.Words[i].Has(words.Lost) {
			c.found = c.lex.forms.Find(c.found[:0], t, i, at)
			for k := range c.found {
				f := &c.found[k]
				c.hits = append(c.hits, hit{to: int(f.To), entry: c.lex.forms.Value(f), guessed: int(f.Guessed)})
			}
		}
		s := &c.spots[i]
		*s = spot{from: from, to: len(c.hits)}
		s.find(c.hits[from:], i, !t.Words[i].Has(words.Lost) || c.tellsPlace(i))
		if s.month == 0 && i+2 < n && t.Words[i+1].Num > 0 && t.Words[i+1].Num < 32 && (t.Words[i+2].Num > 1600 || t.Words[i+2].Has(words.Digits|words.Lost)) {
			s.month = c.monthAlike(i)
		}
	}
	c.scan.Begin(t, c.units)
	for i := range n {
		if c.scan.Begins(i) {
			c.unitItems(i)
		}
	}
	for i := range n {
		if s := &c.spots[i]; s.from < s.to || t.Words[i].Flags&(words.Note|words.Digits) != 0 || c.infos[i].starts&(sActing|sBrevet) != 0 {
			c.formItems(i)
		}
	}
	for i := range n {
		c.nameScore[i] = c.nameWord(i)
	}
	c.ahead(n)
	for i := range n {
		w, starts := &t.Words[i], c.infos[i].starts
		digits, begins := w.Has(words.Digits), c.mayBegin(i)
		if begins {
			c.nameItems(i)
			c.gapItem(i)
			if c.and[i] < 8 {
				c.pairItems(i)
			}
		}
		if w.Has(words.FirstInLine) {
			c.familyItems(i)
			if w.Line < 2 {
				c.wornRank(i)
			}
			c.relationGap(i)
			c.wornLabel(i)
			if t.Len(i) == 1 && !digits {
				c.wornDate(i)
			}
			c.wornLine(i)
			c.wornHome(i)
		}
		if begins && !digits && (c.place[i] < maxPlace || c.spots[i].preposition > 0 || c.labelled(i)) {
			c.placeItems(i)
		}
		if w.Has(words.Lost) {
			c.hisGap(i)
			c.wornNavy(i)
		} else if n := t.Len(i); (n == 3 || n == 4) && w.Flags&(words.LastInLine|words.FirstInLine|words.Digits|words.Note) == words.LastInLine {
			c.misreadService(i)
		}
		if digits || starts&(sCirca|sIn) != 0 || w.Has(words.Lost) || c.spots[i].month > 0 {
			c.dateItems(i)
		}
		if digits {
			c.ageItems(i, false, i)
		}
		if starts&sThe != 0 || w.Has(words.Ordinal) {
			c.yearOfAge(i)
		}
		c.causeItem(i)
		if digits || starts&(sDept|sGrave|sPlot|sPost) != 0 {
			c.graveItems(i)
		}
		if post && begins {
			c.namedPost(i)
		}
		if w.Has(words.FirstInLine) {
			c.verseItems(i)
		}
	}
}

// tellsPlace reports whether enough is left of a damaged word to tell a place by it: "[---]AN" is no more of Iran than of Michigan, or of a man.
func (c *chart) tellsPlace(i int) bool {
	key := c.text.Key(i)
	return leftOf(key) >= leastOfPlace || strings.IndexByte(key, '*') < 0
}

// leastOfPlace is how many letters of a place must be left beside a gap of unknown length. House judgement.
const leastOfPlace = 4

// lookAlike gives a word of no table the forms of the tables' word that differs from it in one letter, which looks like its own: "PYT" those of PVT. It reports whether there is one.
func (c *chart) lookAlike(i int, info *nameInfo) bool {
	n := c.text.Len(i)
	if n < 3 || n > 12 || c.text.Words[i].Flags&(words.Digits|words.Lost|words.Note) != 0 {
		return false
	}
	key := c.text.Key(i)
	if n > longestAlike && !c.alone(i) {
		return c.doubled(i, info) || c.exchanged(i, info)
	}
	if c.behindGiven(i) {
		return false
	}
	for k := range len(key) {
		own := key[k] - 'A'
		if own >= 26 {
			return false
		}
		for _, other := range c.lex.like[own] {
			if p := c.lex.known.With(c.text, i, k, other); p != nil && (p.form != 0 || p.unit != unit.Word{}) && p.bits&anyName == 0 {
				info.form, info.unit = p.form, p.unit
				return true
			}
		}
	}
	return c.doubled(i, info) || n == 3 && c.exchanged(i, info) || c.oneShort(i, n, info) || c.exchanged(i, info)
}

// longestAlike is how many letters a word has at most that is looked for among those but for a letter, if it does not fill its line as a state does. House judgement: the longer ones are surnames, nearly all.
const longestAlike = 8

// alone reports whether word i fills its line.
func (c *chart) alone(i int) bool {
	return c.text.Words[i].Flags&(words.FirstInLine|words.LastInLine) == words.FirstInLine|words.LastInLine
}

// doubled is the same of a word that has one letter twice, and is not what stands behind a given name: "INFF", "CORRPL", "MICHIGGAN".
func (c *chart) doubled(i int, info *nameInfo) bool {
	if c.behindName(i) {
		return false
	}
	key := c.text.Key(i)
	for k := range len(key) - 1 {
		if key[k] != key[k+1] {
			continue
		}
		var room [12]byte
		if p := c.lex.known.Written(append(append(room[:0], key[:k]...), key[k+1:]...)); p != nil && (p.form != 0 || p.unit != unit.Word{}) && p.bits&anyName == 0 {
			info.form, info.unit = p.form, p.unit
			c.text.Words[i].Flags |= words.Long
			return true
		}
	}
	return false
}

// exchanged is the same of a word of which two letters stand the wrong way round: "MCIHIGAN", "COPRL", "IFN".
func (c *chart) exchanged(i int, info *nameInfo) bool {
	if c.behindName(i) {
		return false
	}
	var room [12]byte
	word := append(room[:0], c.text.Key(i)...)
	found := false
	for k := range len(word) - 1 {
		word[k], word[k+1] = word[k+1], word[k]
		p := c.lex.known.Written(word)
		word[k], word[k+1] = word[k+1], word[k]
		if p == nil || p.form == 0 && (p.unit == unit.Word{}) || p.bits&anyName != 0 {
			continue
		}
		both := p.form != 0 && p.unit != (unit.Word{}) // a word that does more is a commoner one
		if !found || both {
			info.form, info.unit, found = p.form, p.unit, true
		}
		if both {
			break
		}
	}
	return found
}

// behindGiven reports whether word i ends its line behind a given name, and is a surname: "NATHAN CHAPIN".
func (c *chart) behindGiven(i int) bool {
	return c.text.Words[i].Flags&(words.LastInLine|words.FirstInLine|words.DotAfter) == words.LastInLine && i > 0 && (c.infos[i-1].given != 0 || c.infos[i-1].abbreviation) && c.infos[i-1].unit == (unit.Word{})
}

// behindName reports whether word i stands in its line behind a given name or an initial, where a surname does. Behind U. S. stands none.
func (c *chart) behindName(i int) bool {
	t := c.text
	return i > 0 && !t.Words[i].Has(words.FirstInLine) && (c.infos[i-1].named && c.infos[i-1].unit == unit.Word{} || t.Len(i-1) == 1 && !(i > 1 && t.Key(i-2) == "U" && t.Key(i-1) == "S"))
}

// oneShort is the same of a short word, or one that fills its line or ends it behind a state, that has lost one letter without a mark, and is not what stands behind a given name: "ERGT" for SERGT, "U.S. ARY", "MINNESOA", "8 WIS. BTTERY".
func (c *chart) oneShort(i, n int, info *nameInfo) bool {
	if n > 5 && !c.alone(i) && !c.behindState(i) || c.behindName(i) {
		return false
	}
	for k := range n + 1 {
		for letter := byte('A'); letter <= 'Z'; letter++ {
			if p := c.lex.known.Longer(c.text, i, k, letter); p != nil && (p.form != 0 || p.unit != unit.Word{}) && p.bits&anyName == 0 {
				info.form, info.unit = p.form, p.unit
				c.text.Words[i].Flags |= words.Short
				return true
			}
		}
	}
	return false
}

// behindState reports whether word i ends its line behind a regiment's number and its state.
func (c *chart) behindState(i int) bool {
	t := c.text
	return i > 1 && t.Words[i].Flags&(words.LastInLine|words.FirstInLine|words.Digits|words.Lost|words.Note) == words.LastInLine && c.infos[i-1].unit != (unit.Word{}) && t.Len(i-1) > 2 && t.Words[i-2].Num > 0 && t.Words[i-2].Num < 400
}

// armShort is oneShort of two letters: "16 WIS. NF".
func (c *chart) armShort(i int, info *nameInfo) bool {
	for k := range 3 {
		for letter := byte('A'); letter <= 'Z'; letter++ {
			p := c.lex.known.Longer(c.text, i, k, letter)
			if p == nil || starts(p.bits)&sShortArm == 0 || p.unit == (unit.Word{}) {
				continue
			}
			info.form, info.unit = p.form, p.unit
			c.text.Words[i].Flags |= words.Short
			return true
		}
	}
	return false
}

// wideLike is how alike two letters must look for a word between a regiment's number and its arm, where hardly anything but a state stands, to be read with one for the other.
const wideLike = 0.2

// stateAlike is lookAlike of a word between a regiment's number and its arm, which may be a name too, and of two letters: "15 MIS INF", "9 TA. INF.".
func (c *chart) stateAlike(i int, info *nameInfo) bool {
	t := c.text
	n := t.Len(i)
	if n < 2 || n > 6 || t.Words[i].Flags&(words.Digits|words.Lost|words.Note|words.FirstInLine|words.LastInLine) != 0 || i+1 >= len(t.Words) {
		return c.misread[i]
	}
	if arm := c.lex.known.Of(t, i+1); (arm == nil || arm.unit == (unit.Word{}) || t.Len(i+1) < 3) && !(t.Words[i+1].Has(words.Lost|words.LastInLine) && t.Words[i+1].Flags&(words.Digits|words.Note) == 0 && strings.IndexByte("ICA", t.Key(i + 1)[0]) >= 0) {
		return c.misread[i]
	}
	best, found := wideLike, false
	key := t.Key(i)
	for k := range n {
		for letter := byte('A'); letter <= 'Z'; letter++ {
			if letter == key[k] {
				continue
			}
			if like := name.Worn(letter, key[k]); like >= best {
				if p := c.lex.known.With(t, i, k, letter); p != nil && p.unit != (unit.Word{}) && p.form != 0 && (n > 2 || stateForms()[key[:k]+string(rune(letter))+key[k+1:]]) {
					best, found, info.unit = like, true, p.unit
				}
			}
		}
	}
	if !found && n > 2 && (c.stateShort(i, n, info) || n > 3 && c.stateBut(i, n, info)) {
		info.form = 0
	}
	return c.misread[i] || info.unit != (unit.Word{})
}

// rankAlike gives a short word at the beginning of a line, right before a given name or an initial, or of a company or a number, or alone above them on the first line of a government stone, the forms of a rank that it is but for one letter, which may look less like the rank's: "CAPY. FRANCIS CAMPBELL", "NUS. / FREDK. W. JOHNSON", "PVI CO. G".
func (c *chart) rankAlike(i int, info *nameInfo) bool {
	t := c.text
	n := t.Len(i)
	w, next := &t.Words[i], &t.Words[i+1]
	if n < 3 || n > 5 || w.Flags&(words.Digits|words.Lost|words.Note|words.CommaAfter) != 0 || info.given != 0 || info.abbreviation || info.function {
		return false
	}
	if w.Has(words.LastInLine) && (i > 0 || !c.context.government() || !w.Has(words.DotAfter)) || next.Flags&(words.Lost|words.Note) != 0 {
		return false
	}
	p := c.lex.known.Of(t, i+1)
	switch {
	case p != nil && p.bits&anyName != 0 && p.given != 0, t.Len(i+1) == 1 && !next.Has(words.Digits) && next.Has(words.DotAfter):
		if info.form != 0 || info.unit != (unit.Word{}) || info.named && !w.Has(words.DotAfter) {
			return false
		}
	case info.named:
		return false
	case rankForms()[t.Key(i)] || info.starts != 0:
		return false
	case next.Has(words.Digits) && next.Num > 0 && next.Num < 400, t.Key(i+1) == "CO", t.Key(i+1) == "US":
	default:
		return false
	}
	key := t.Key(i)
	for k := range n {
		own := key[k] - 'A'
		if own >= 26 {
			return false
		}
		for _, letter := range c.lex.wide[own] {
			if p := c.lex.known.With(t, i, k, letter); p != nil && p.form != 0 && p.bits&anyName == 0 && rankForms()[key[:k]+string(rune(letter))+key[k+1:]] {
				info.form = p.form
				return true
			}
		}
	}
	return false
}

// rankForms are the abbreviations of ranks in one word.
var rankForms = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, r := range vocab.Rows("rank-forms") {
		if form := r.Get("form"); strings.IndexByte(form, ' ') < 0 {
			m[words.Letters(form)] = true
		}
	}
	return m
})

// stateBut is the same of a word that differs from one state's abbreviation alone in any one letter: "97 IELS INF".
func (c *chart) stateBut(i, n int, info *nameInfo) bool {
	t := c.text
	var found unit.Word
	for k := range n {
		for letter := byte('A'); letter <= 'Z'; letter++ {
			p := c.lex.known.With(t, i, k, letter)
			if p == nil || p.unit == (unit.Word{}) || p.form == 0 || p.unit == found {
				continue
			}
			if found != (unit.Word{}) {
				return false
			}
			found = p.unit
		}
	}
	if found == (unit.Word{}) {
		return false
	}
	info.unit = found
	return true
}

// stateShort is the same of a word of which one letter is lost, or stands twice: "2 MIC. CAV.", "1 MCH CAV", "2 MICCH CAV". What is a state is one alone on a line too.
func (c *chart) stateShort(i, n int, info *nameInfo) bool {
	t := c.text
	for k := range n + 1 {
		for letter := byte('A'); letter <= 'Z'; letter++ {
			if p := c.lex.known.Longer(t, i, k, letter); p != nil && p.unit != (unit.Word{}) && p.form != 0 {
				info.unit = p.unit
				t.Words[i].Flags |= words.Short
				return true
			}
		}
	}
	var room [12]byte
	for k := range n - 1 {
		if key := t.Key(i); key[k] == key[k+1] {
			if p := c.lex.known.Written(append(append(room[:0], key[:k]...), key[k+1:]...)); p != nil && p.unit != (unit.Word{}) && p.form != 0 {
				info.unit = p.unit
				t.Words[i].Flags |= words.Long
				return true
			}
		}
	}
	return false
}

// ahead works out how far ahead of each word the next AND is, and the next word that makes a place of the words before it; far where there is none.
func (c *chart) ahead(n int) {
	c.and, c.place = sized(c.and, n), sized(c.place, n)
	and, place := far, far
	for i := n - 1; i >= 0; i-- {
		w, s := &c.text.Words[i], &c.spots[i]
		and, place = min(and+1, far), min(place+1, far)
		switch {
		case w.Flags&(words.Digits|words.Note) != 0:
			place = far
		case s.fullState > 0 || s.state > 0 || s.country > 0 || s.battle:
			place = 0
		}
		if c.infos[i].starts&sAnd != 0 {
			and = 0
		}
		c.and[i], c.place[i] = uint8(and), uint8(place)
	}
}

// far is farther than anything looks ahead.
const far = 100

// sized is room for n, used again where there is enough.
func sized[T any](room []T, n int) []T {
	if n > cap(room) {
		return append(room[:cap(room)], make([]T, n-cap(room)+16)...)[:n]
	}
	return room[:n]
}

// joins reports whether word i only joins others; "A." is an initial.
func (c *chart) joins(i int) bool {
	return c.infos[i].function && !(c.text.Len(i) == 1 && c.text.Words[i].Has(words.DotAfter))
}

// lostWord reports whether nothing of a word is left.
func lostWord(key string) bool {
	for k := range len(key) {
		if key[k] != '?' && key[k] != '*' {
			return false
		}
	}
	return true
}
