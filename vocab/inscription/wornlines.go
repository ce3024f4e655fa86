// This file tells from what is left of a whole line what stood on it: a war, a state, the words that open a stone.

package inscription

import (
	"strings"
	"sync"

	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// lineForm is a form that fills its line, in capitals and with its blanks.
type lineForm struct {
	form string
	entry
}

// letterSet is a set of capitals; a letter that is lost may be any.
type letterSet uint32

func (s letterSet) has(letter byte) bool {
	return letter < 'A' || letter > 'Z' || s&(1<<(letter-'A')) != 0
}

// addLine adds a form that fills its line.
func (l *lexicon) addLine(form string, e entry) {
	l.lines = append(l.lines, lineForm{form, e})
	l.lineHeads |= 1 << (form[0] - 'A')
	l.lineEnds |= 1 << (form[len(form)-1] - 'A')
}

// leastLine is how many letters of a line must be left.
const leastLine = 3

// wornLine adds the war, or the words that open a stone, whose line word i begins and of which a gap has left enough that nothing else fits: "SP [.....]R", "WAR WI[.....]AIN", "WORLD W[....]", "[...]R RUHT". Of these words one letter may be misread instead: "HIER RUHI".
func (c *chart) wornLine(i int) {
	t := c.text
	to, lost := i, 0
	for to < len(t.Words) && t.Words[to].Line == t.Words[i].Line {
		if t.Words[to].Flags&(words.Digits|words.Note) != 0 {
			return
		}
		if t.Words[to].Has(words.Lost) {
			lost++
		}
		to++
	}
	if to-i > 4 || lost > 1 || lost == 0 && (i > 0 || to != i+2) {
		return
	}
	if lost == 0 {
		for k := range c.lex.lines {
			if f := &c.lex.lines[k]; f.kind != kConflict && misreadAs(t, i, f.form) {
				c.add(item{from: i, to: to, kind: f.kind, entry: &f.entry, score: c.w.LineWorn})
				return
			}
		}
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

// misreadAs reports whether the two words of the first line are those of a form but for one letter, which looks like the form's.
func misreadAs(t *words.Text, i int, form string) bool {
	first, second, _ := strings.Cut(form, " ")
	wrong := 0
	for k, own := range [2]string{first, second} {
		key := t.Key(i + k)
		if len(key) != len(own) {
			return false
		}
		for n := range len(own) {
			if key[n] != own[n] {
				if wrong++; name.Worn(key[n], own[n]) < likeLetter {
					return false
				}
			}
		}
	}
	return wrong == 1
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
		if found < 2 && fitsState(key, h.form) {
			c.add(item{from: 0, to: 1, kind: kHome, entry: &h.entry, score: c.w.Home + c.w.HomeFull + c.w.HomeFirst + c.w.LineWorn})
			found++
		}
	}
}

// fitsState reports whether a damaged word has the letters of a name where they are left, but for one that looks like its own.
func fitsState(key, form string) bool {
	if strings.IndexByte(key, '*') >= 0 || len(key) != len(form) {
		return false
	}
	wrong := 0
	for k := range len(key) {
		if key[k] != '?' && key[k] != form[k] {
			if wrong++; name.Worn(key[k], form[k]) < likeLetter {
				return false
			}
		}
	}
	return wrong < 2
}

// homes are the names of the states, in one word.
var homes = sync.OnceValue(func() (all []lineForm) {
	for _, r := range vocab.Rows("state-forms") {
		if form := words.Letters(r.Get("form")); r.Get("kind") == "name" && form == strings.ToUpper(r.Get("form")) {
			all = append(all, lineForm{form, entry{kind: kHome, code: r.Get("state"), source: r.Get("source"), traits: tFull}})
		}
	}
	return all
})
