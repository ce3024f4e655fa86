// This file takes figures that stand for the first or the last letter of a name: "5COTT", "JO5".

package inscription

import (
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// figures joins a single figure to the letters that it touches, as a letter that was misread, where no table knows these: "WILLIAM 5COTT" is no number, but "5ILL." is. Behind letters it must complete a name.
func (c *chart) figures(t *words.Text) {
	for i := 0; i < len(t.Words); i++ {
		if t.Words[i].Flags&(words.Digits|words.Lost) != 0 {
			c.mend(t, i)
		}
		if t.Words[i].Has(words.FirstInLine) && t.Words[i].Line > 0 && t.Len(i) == 1 {
			c.member(t, i)
		}
		if i+1 >= len(t.Words) {
			break
		}
		w, next := &t.Words[i], &t.Words[i+1]
		if !next.Has(words.Glued) || next.Flags&(words.FirstInLine|words.Note|words.Apostrophe) != 0 || w.Flags&(words.Note|words.Ordinal|words.SlashAfter) != 0 {
			continue
		}
		switch {
		case t.Len(i) == 1 && w.Num >= 0 && w.Flags&words.Glued == 0 && next.Flags&words.Digits == 0 && leftOf(t.Key(i+1)) > 2 && c.nameless(t, i, i+1) ||
			t.Len(i) == 1 && w.Num >= 0 && w.Line == 0 && w.Flags&words.Glued == 0 && next.Flags&(words.Digits|words.Lost) == words.Lost && leftOf(t.Key(i+1)) > 1:
			t.Fuse(i)
		case t.Len(i+1) == 1 && next.Num >= 0 && w.Flags&(words.Digits|words.Glued) == 0 && t.Len(i) > 1 && (i+2 >= len(t.Words) || t.Words[i+2].Flags&words.Glued == 0) && c.completes(t, i):
			t.Fuse(i)
		}
	}
}

// nameless reports whether no table knows the letters behind a figure as a word of a unit, or of anything else than a name.
func (c *chart) nameless(t *words.Text, figure, i int) bool {
	if t.Words[i].Has(words.Lost) {
		return t.Words[i].Line == 0
	}
	p := c.lex.known.Of(t, i)
	return p == nil || p.form == 0 && p.unit == (unit.Word{}) && starts(p.bits) == 0
}

// completes reports whether the figure behind word i looks like a letter that makes it a name that the tables know.
func (c *chart) completes(t *words.Text, i int) bool {
	if t.Words[i].Has(words.Lost) {
		return t.Words[i].Line == 0 && leftOf(t.Key(i)) > 2
	}
	key, figure := t.Key(i), t.Key(i + 1)[0]
	for letter := byte('A'); letter <= 'Z'; letter++ {
		if name.Worn(letter, figure) >= name.Alike {
			if n := c.lex.known.Get(key + string(rune(letter))); n != nil && n.bits&anyName != 0 {
				return true
			}
		}
	}
	return false
}

// unfigured is a name's word with the figure at its edge made the letter that it looks like, where that is one alone, or one makes a name that the tables know: "5COTT" is SCOTT, "8OYLE" BOYLE.
func (c *chart) unfigured(raw, key string) string {
	n := len(raw) - 1
	at, place := 0, 0
	switch {
	case n < 1:
		return raw
	case raw[0] >= '0' && raw[0] <= '9':
	case raw[n] >= '0' && raw[n] <= '9':
		at, place = n, len(key)-1
	default:
		return raw
	}
	var like, known []byte
	for letter := byte('A'); letter <= 'Z'; letter++ {
		if name.Worn(letter, raw[at]) < name.Alike {
			continue
		}
		like = append(like, letter)
		if w := c.lex.known.Get(key[:place] + string(rune(letter)) + key[place+1:]); w != nil && w.bits&anyName != 0 {
			known = append(known, letter)
		}
	}
	if len(known) == 1 {
		like = known
	}
	if len(like) != 1 {
		return raw
	}
	return raw[:at] + string(rune(like[0])) + raw[at+1:]
}
