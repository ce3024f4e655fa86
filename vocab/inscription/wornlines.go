// This file tells from what is left of a whole line what stood on it: a war, a state, the words that open a stone.

package inscription

import (
	"strings"
	"sync"

	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// lineForm is a form that fills its line, in capitals and with its blanks.
type lineForm struct {
	form    string
	letters string
	entry
}

// lineForms are those of one length, with the letters with which they begin and end.
type lineForms struct {
	forms       []lineForm
	heads, ends letterSet
}

// letterSet is a set of capitals; a letter that is lost may be any.
type letterSet uint32

func (s letterSet) has(letter byte) bool {
	return letter < 'A' || letter > 'Z' || s&(1<<(letter-'A')) != 0
}

// addLine adds a form that fills its line.
func (l *lexicon) addLine(form string, e entry) {
	f := lineForm{form, words.Letters(form), e}
	l.lines = append(l.lines, f)
	if n := len(f.letters); n >= leastMisread && n < len(l.long) {
		l.long[n].forms = append(l.long[n].forms, f)
		l.long[n].heads |= 1 << (form[0] - 'A')
		l.long[n].ends |= 1 << (form[len(form)-1] - 'A')
	}
	l.lineHeads |= 1 << (form[0] - 'A')
	l.lineEnds |= 1 << (form[len(form)-1] - 'A')
}

// leastLine is how many letters of a line must be left.
const leastLine = 3

// leastMisread is how many letters a line must have for some of them to be misread.
const leastMisread = 7

// misreadLine adds the war, or the words that open a stone, that words i to to-1 are but for a letter in eight that is another, or two that look like their own: "WORLD WHR", "5P. AM. WAR", "SPANISH AMERLCAN WAR", "HIER RUHI".
func (c *chart) misreadLine(i, to int) {
	line := c.text.Join(i, to)
	n := len(line)
	if n < leastMisread || n >= len(c.lex.long) {
		return
	}
	long := &c.lex.long[n]
	if !long.heads.has(line[0]) && !long.ends.has(line[n-1]) {
		return
	}
	for k := c.spots[i].from; k < c.spots[i].to; k++ {
		if h := &c.hits[k]; h.to == to && h.guessed == 0 && (h.entry.kind == kConflict || i == 0) {
			return // it is one as it stands
		}
	}
	most := n / 4
	if i == 0 { // where names stand
		most = 1
	}
	for k := range long.forms {
		f := &long.forms[k]
		if line[0] != f.letters[0] && line[n-1] != f.letters[n-1] && line[0] != '?' && line[n-1] != '?' || (f.kind != kConflict) != (i == 0) {
			continue
		}
		other, lost := 0, 0
		for k := 0; k < n && other <= most; k++ {
			if letter := line[k]; letter == '?' {
				lost++
			} else if letter != f.letters[k] {
				other++
			}
		}
		if other > most || other+lost == 0 || lost > n/4 {
			continue
		}
		off := 0
		for k := range n {
			if letter := line[k]; letter != f.letters[k] && letter != '?' {
				if off++; name.Worn(letter, f.letters[k]) < wideLike {
					off++
				}
			}
		}
		if off > most {
			continue
		}
		c.add(item{from: i, to: to, kind: f.kind, entry: &f.entry, score: c.w.LineWorn})
		return
	}
}

// wornLine adds the war, or the words that open a stone, whose line word i begins and of which a gap has left enough that nothing else fits: "SP [.....]R", "WAR WI[.....]AIN", "WORLD W[....]", "[...]R RUHT"; or of which letters are misread.
func (c *chart) wornLine(i int) {
	t := c.text
	to, lost, digits, strange := i, 0, false, false
	for to < len(t.Words) && t.Words[to].Line == t.Words[i].Line {
		if t.Words[to].Has(words.Note) {
			return
		}
		digits = digits || t.Words[to].Has(words.Digits)
		if info := &c.infos[to]; !strange {
			strange = info.form == 0 && !info.named && info.unit == (unit.Word{}) || t.Len(to) < 3 || c.misread[to]
		}
		if t.Words[to].Has(words.Lost) {
			lost++
		}
		to++
	}
	if strange && to-i > 1 && to-i < 6 && (i > 0 || to == 2) {
		c.misreadLine(i, to)
	}
	if to-i > 4 || lost != 1 || digits {
		return
	}
	left := 0
	for k := i; k < to; k++ {
		left += leftOf(t.Key(k))
	}
	last := t.Key(to - 1)
	if left < leastLine || !c.lex.lineHeads.has(t.Key(i)[0]) || !c.lex.lineEnds.has(last[len(last)-1]) {
		return
	}
	line := t.Key(i)
	for k := i + 1; k < to; k++ {
		line += " " + t.Key(k)
	}
	from, end := strings.IndexAny(line, "?*"), strings.LastIndexAny(line, "?*")+1
	front, rest, open := line[:from], line[end:], line[from] == '*'
	var found *lineForm
	off := 2 // by how many letters the form found is longer or shorter than the gap tells
	for k := range c.lex.lines {
		f := &c.lex.lines[k]
		hidden := len(f.form) - len(front) - len(rest)
		if hidden < 1 || (f.kind != kConflict) != (i == 0) {
			continue
		}
		o := 0
		if !open {
			o = max(hidden-(end-from), end-from-hidden)
		}
		if o > min(off, 1) || !strings.HasPrefix(f.form, front) || !strings.HasSuffix(f.form, rest) {
			continue
		}
		if o == off && (found == nil || found.code != f.code) {
			found = nil // it may be either
			continue
		}
		found, off = f, o
	}
	if found != nil {
		c.add(item{from: i, to: to, kind: found.kind, entry: &found.entry, score: c.w.LineWorn})
	}
}

// wornHome adds the state alone on the first line of which a gap has left enough, with one letter misread at most: "[....]ANA", "I[.]DIAMA".
func (c *chart) wornHome(i int) {
	t := c.text
	if i > 0 || !t.Words[0].Has(words.LastInLine|words.Lost) || t.Words[0].Has(words.Note) || t.Lines < 4 || leftOf(t.Key(0)) < leastLine {
		return
	}
	key := t.Key(0)
	found := 0
	for k := range homes() {
		h := &homes()[k]
		if wrong := name.Misread(key, h.form, name.Alike); found < 2 && (wrong == 0 || wrong == 1) {
			c.add(item{from: 0, to: 1, kind: kHome, entry: &h.entry, score: c.w.Home + c.w.HomeFull + c.w.HomeFirst + c.w.LineWorn})
			found++
		}
	}
}

// homes are the names of the states, in one word.
var homes = sync.OnceValue(func() (all []lineForm) {
	for _, r := range vocab.Rows("state-forms") {
		if form := words.Letters(r.Get("form")); r.Get("kind") == "name" && form == strings.ToUpper(r.Get("form")) {
			all = append(all, lineForm{form, form, entry{kind: kHome, code: r.Get("state"), source: r.Get("source"), traits: tFull}})
		}
	}
	return all
})
