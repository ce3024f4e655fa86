// This file tells ranks from what damage has left of their line, above the name.

package inscription

import (
	"slices"
	"strings"

	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// rankForm is a rank's form that stands for nothing else: its only word, or its first word and the rest.
type rankForm struct {
	letters, rest string
	entry         entry
}

// longestRank is how many letters a form has at most that is told from what is left of it.
const longestRank = 8

// wornRank adds the rank of which a part is left on the first line, or the one below a grave's number, above a line that begins a name of two words or more: "[...]PL / ADAM HART", "[...]DS. / WILBUR S. HART", "O[..] SEA /
// PETER HART", "1 [.]L FIRE / JOHN HART". Where several would fit, the line tells no rank.
func (c *chart) wornRank(i int) {
	t := c.text
	w := &t.Words[i]
	if w.Line > 1 || w.Line == 1 && !(t.Words[0].Has(words.LastInLine) && t.Words[0].Flags&(words.Digits|words.Lost) != 0) {
		return
	}
	to, worn := i+1, w.Flags&words.Lost
	for ; to < len(t.Words) && !t.Words[to-1].Has(words.LastInLine); to++ {
		if to == i+3 {
			return
		}
		worn |= t.Words[to].Flags & words.Lost
	}
	if worn == 0 || !c.nameBelow(to) {
		return
	}
	var found *entry
	key, rest := t.Key(i), ""
	if to == i+2 {
		rest = t.Key(i + 1)
	}
	numbered := rest != "" && w.Num > 0 && w.Num < 4 && leftOf(rest) > 0 // "1 S[---]"
	if numbered || to <= i+2 && !strings.ContainsAny(rest, "?*") && !w.Has(words.Digits) && (leftOf(key) > 1 || rest != "") {
		for k := range c.lex.rankForms {
			f := &c.lex.rankForms[k]
			if numbered && (f.letters != key || !wornStart(rest, f.rest)) || !numbered && (f.rest != rest || !wornAs(key, f.letters)) {
				continue
			}
			switch {
			case found == nil || found.code == f.entry.code:
				found = &f.entry
			case f.entry.traits&tCivil != 0 && found.traits&tCivil == 0: // a corporal sooner than a chaplain
			case f.entry.traits&tCivil == 0 && found.traits&tCivil != 0:
				found = &f.entry
			default:
				return
			}
		}
	}
	if found == nil && to > i+1 && c.isClass(i, to-1) { // the rank alone, of which the class or the rest is lost
		for k := c.spots[to-1].from; k < c.spots[to-1].to; k++ {
			if h := &c.hits[k]; h.to == to && h.entry.kind == kRank && h.guessed == 0 && !c.misread[to-1] && h.entry.traits&(tInitials|tNameLike) == 0 {
				found = h.entry
				break
			}
		}
	}
	if found != nil {
		c.add(item{from: i, to: to, kind: kRank, entry: found, score: c.w.RankWorn})
	}
}

// wornNavy adds the navy of which U. S. alone is left, on the last words of a line below a rate: "LANDS. / ADAM HART / U. S. [....]".
func (c *chart) wornNavy(i int) {
	t := c.text
	w := &t.Words[i]
	from := i - 2
	if !w.Has(words.LastInLine) || i < 2 || !lostWord(t.Key(i)) {
		return
	}
	switch {
	case t.Key(i-1) == "US":
		from = i - 1
	case t.Key(i-1) != "S" || t.Key(from) != "U":
		return
	}
	if !t.Words[from].Has(words.FirstInLine) {
		return
	}
	for k := range c.hits {
		if h := &c.hits[k]; h.entry.kind == kRank && h.entry.traits&(tNavy|tInitials) == tNavy && t.Words[h.to-1].Line < w.Line {
			c.add(item{from: from, to: i + 1, kind: kBranch, entry: &c.lex.navy, score: c.w.LineWorn})
			return
		}
	}
	for k := 0; k < i; k++ {
		for j := c.first[k]; j >= 0; j = c.items[j].next {
			if it := &c.items[j]; it.kind == kRank && it.entry.traits&tNavy != 0 {
				c.add(item{from: from, to: i + 1, kind: kBranch, entry: &c.lex.navy, score: c.w.LineWorn})
				return
			}
		}
	}
}

// misreadService adds the army or the navy of which one letter behind U. S. is lost, misread or exchanged with the next, at the end of a line: "SGT US AMY", "PFC US ARMV".
func (c *chart) misreadService(i int) {
	t := c.text
	from := i - 1
	switch {
	case t.Key(from) == "US":
	case i > 1 && t.Key(from) == "S" && t.Key(i-2) == "U":
		from = i - 2
	default:
		return
	}
	for _, e := range [...]*entry{&c.lex.army, &c.lex.navy} {
		if nearly(t.Key(i), e.code) {
			c.add(item{from: from, to: i + 1, kind: kBranch, entry: e, score: c.w.LineWorn})
		}
	}
}

// nearly reports whether a word is another, in lower case, but for one letter that is lost or misread, or for two that stand the wrong way round.
func nearly(key, word string) bool {
	word = strings.ToUpper(word)
	if len(key) == len(word) {
		if wrong := name.Misread(key, word, wideLike); wrong == 0 || wrong == 1 {
			return wrong == 1
		}
		for k := range len(word) - 1 {
			if key == word[:k]+word[k+1:k+2]+word[k:k+1]+word[k+2:] {
				return true
			}
		}
		return false
	}
	for k := range len(word) {
		if key == word[:k]+word[k+1:] {
			return true
		}
	}
	return false
}

// isClass reports whether words i to to-1 are damaged and can be what stands before a rate: a number and CL., or one word.
func (c *chart) isClass(i, to int) bool {
	t := c.text
	if to == i+1 {
		return t.Words[i].Has(words.Lost) && !t.Words[i].Has(words.Digits)
	}
	return t.Words[i].Num > 0 && t.Words[i].Num < 4 && wornAs(t.Key(i+1), "CL")
}

// nameBelow reports whether a line of two words or more that begins a name stands at word i.
func (c *chart) nameBelow(i int) bool {
	t := c.text
	if i+1 >= len(t.Words) || t.Words[i].Has(words.LastInLine) {
		return false
	}
	s := &c.nameScore[i]
	return s.ok && (s.givenName || s.initial || t.Words[i].Has(words.Lost)) && c.nameScore[i+1].ok
}

// wornAs reports whether a damaged word may be what is left of a form: each lost letter is one, or where they are at its end one more or fewer, and a gap of unknown length is any number.
func wornAs(key, form string) bool {
	if gap := strings.IndexByte(key, '*'); gap >= 0 {
		rest := key[gap+1:]
		return gap+len(rest) > 1 && len(form) > gap+len(rest) && agrees(key[:gap], form) && agrees(rest, form[len(form)-len(rest):])
	}
	left := strings.TrimRight(key, "?")
	off := len(key) - len(form)
	return agrees(left, form) && len(left) <= len(form) && (off == 0 || (off == 1 || off == -1) && len(left) < len(key))
}

// wornStart is wornAs of a word of which the first letter may be all that is left.
func wornStart(key, form string) bool {
	return wornAs(key, form) || key[1:] == "*" && key[0] == form[0]
}

// addRankForm gathers the forms of ranks of one word or two that are no names and no other words; from the rows of the table, so that no rank is told by a form made from another.
func (l *lexicon) addRankForm(t *words.Text, e entry) {
	if e.traits&(tNameLike|tInitials|tModern) != 0 || len(t.Words) > 2 || len(t.Letters()) > longestRank || strings.ContainsAny(t.Letters()[1:], "0123456789") || t.Words[0].Num > 0 && e.traits&tNavy != 0 {
		return
	}
	f := rankForm{letters: t.Key(0), entry: e}
	if len(t.Words) == 2 {
		f.rest = t.Key(1)
	}
	if len(f.letters)+len(f.rest) > 2 && !slices.Contains(l.rankForms, f) {
		l.rankForms = append(l.rankForms, f)
	}
}
