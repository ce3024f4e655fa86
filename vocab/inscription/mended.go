// This file mends letters that are lost or were misread where the words beside them leave no doubt, before a chart is filled: the ending of an ordinal, initials of a body of troops.

package inscription

import (
	"strings"
	"sync"

	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// mend mends what is misread at word i.
func (c *chart) mend(t *words.Text, i int) {
	w := &t.Words[i]
	switch {
	case i+1 >= len(t.Words):
	case w.Num > 0 && w.Num < 1000 && t.Words[i+1].Flags&(words.Glued|words.Digits|words.Note|words.FirstInLine) == words.Glued && w.Flags&(words.Ordinal|words.SlashAfter|words.Glued) == 0:
		switch n := t.Len(i + 1); {
		case n == 1 && w.Num < 4 && i+2 < len(t.Words) && t.Words[i+2].Num > firstYear && t.Words[i+2].Line == w.Line && strings.IndexByte("OQIL", t.Key(i + 1)[0]) >= 0:
			if t.Key(i + 1)[0] == 'I' || t.Key(i + 1)[0] == 'L' { // "JAN. 2I, 1911"
				t.Count(i, '1')
			} else { // "AUG. 1O, 1839"
				t.Count(i, '0')
			}
		case n <= 2 && c.ending(t, i):
			t.End(i)
		case w.Num == 1 && i > 0 && !w.Has(words.FirstInLine) && c.armBehindOne(t, i):
			t.Fuse(i)
		}
	}
	if t.Len(i) == 1 && (w.Has(words.Lost) || w.Num == 5 || w.Num == 4) || w.Has(words.Lost) && !w.Has(words.Digits) {
		c.initial(t, i)
	}
}

// member mends the words behind A, at word i, where they are MEMBER OF, SOLDIER OF or VETERAN OF but for two letters at most: "A NEM[.]ER OF", "A SOLDIER CF 1861 - 1865", "H SOLDIER OF THE UNION".
func (c *chart) member(t *words.Text, i int) {
	if i+2 >= len(t.Words) || t.Words[i].Flags&(words.DotAfter|words.LastInLine|words.Note) != 0 || t.Words[i+1].Flags&(words.LastInLine|words.Digits|words.Note) != 0 || t.Len(i+2) != 2 || t.Words[i+2].Has(words.Note) {
		return
	}
	for _, word := range c.lex.members {
		wrong := name.Misread(t.Key(i+1), word, 0)
		if wrong < 0 || wrong+strings.Count(t.Key(i+1), "?") > 2 {
			continue
		}
		of := name.Misread(t.Key(i+2), "OF", wideLike)
		if of < 0 || of+strings.Count(t.Key(i+2), "?") > 1 || t.Key(i) != "A" && (t.Key(i+1) != word || t.Key(i+2) != "OF") {
			return
		}
		for k, key := range [...]string{"A", word, "OF"} {
			if t.Key(i+k) != key {
				t.Restore(i+k, key)
			}
		}
		return
	}
}

// ordinal is the ending of a number.
func ordinal(n int) string {
	if n%100/10 != 1 {
		switch n % 10 {
		case 1:
			return "ST"
		case 2:
			return "ND"
		case 3:
			return "RD"
		}
	}
	return "TH"
}

// ending reports whether the letters behind the number at word i are the ending of an ordinal with one of them misread: "43RB GA.", "97TN IND.", "6YH TENN.", "62O OHIO". What is a state too ("TN", "TX") is one unless another follows.
func (c *chart) ending(t *words.Text, i int) bool {
	key, own := t.Key(i+1), ordinal(t.Words[i].Num)
	behind := i+2 < len(t.Words) && t.Words[i+2].Flags&words.FirstInLine == 0 && stateForms()[t.Key(i+2)]
	switch {
	case strings.IndexByte(key, '*') >= 0 || key == own || key == "D":
		return false
	case len(key) == 1:
		return behind && (own == "ND" || own == "RD") && name.Worn(key[0], 'D') >= name.Alike
	case (key[0] == own[0]) == (key[1] == own[1]):
		return false
	}
	p := c.lex.known.Of(t, i+1)
	return behind || p == nil || p.unit == (unit.Word{}) && p.form == 0
}

// stateForms are the forms of states in one word of two letters or more, as stones have them.
var stateForms = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, r := range vocab.Rows("state-forms") {
		if form := words.Letters(r.Get("form")); r.Get("share") == "" && len(form) > 1 && !strings.Contains(r.Get("form"), " ") {
			m[form] = true
		}
	}
	return m
})

// armBehindOne reports whether the figure 1 at word i is the I of an arm behind a number or a state: "27 WIS. 1NF.".
func (c *chart) armBehindOne(t *words.Text, i int) bool {
	before, arm := c.lex.known.Of(t, i-1), c.lex.known.Get("I"+t.Key(i+1))
	return arm != nil && arm.unit != (unit.Word{}) && t.Len(i+1) > 1 && (t.Words[i-1].Has(words.Digits) || before != nil && before.unit != (unit.Word{}))
}

// letterAt is the letter that word i is, of the line of word of; 0 where it is none.
func letterAt(t *words.Text, i, of int) byte {
	if i < 0 || i >= len(t.Words) || t.Len(i) != 1 || t.Words[i].Line != t.Words[of].Line || t.Words[i].Has(words.Note) {
		return 0
	}
	return t.Key(i)[0]
}

// postFollows reports whether a number and G. A. R. follow at word i on its line.
func postFollows(t *words.Text, i int) bool {
	if i < len(t.Words) && t.Key(i) == "NO" {
		i++
	}
	return i+3 < len(t.Words) && t.Words[i].Num > 0 && t.Words[i+3].Line == t.Words[i-1].Line && letterAt(t, i+1, i) == 'G' && letterAt(t, i+2, i) == 'A' && letterAt(t, i+3, i) == 'R'
}

// initial gives back the letter of word i that is lost, or was taken for a figure, to the initials of a body of troops, a side or the Navy: "U. [.]. C. T.", "7 [.]. S. INF.", "C. 5. A.", "3 [.]. R. C.", "7 W. [.]A. INF.".
func (c *chart) initial(t *words.Text, i int) {
	key, before, next, second := t.Key(i), letterAt(t, i-1, i), letterAt(t, i+1, i), letterAt(t, i+2, i)
	number := func(k int) bool { return k >= 0 && t.Words[k].Line == t.Words[i].Line && t.Words[k].Has(words.Digits) }
	arm := func(k int) bool {
		if k >= len(t.Words) || t.Words[k].Line != t.Words[i].Line || t.Len(k) < 3 {
			return false
		}
		p := c.lex.known.Of(t, k)
		return p != nil && p.unit != unit.Word{}
	}
	ends := func(k int) bool { return k < len(t.Words) && t.Words[k].Has(words.LastInLine) }
	switch {
	case key == "?A" && before == 'W' && number(i-2):
		t.Restore(i, "VA")
	case key[len(key)-1] == 'U' && len(key) > 1 && lostWord(key[:len(key)-1]) && next == 'S' && second == 'C': // "[...]U. S. C. T."
		t.Restore(i, "U")
	case key[0] == 'P' && (lostWord(key[1:]) || len(key) > 2 && key[1] == 'O' && lostWord(key[2:])) && len(key) > 1 && i > 0 && postFollows(t, i+1): // "GEN. LYON P[...] NO. 11 G. A. R."
		t.Restore(i, "POST")
	case len(key) > 1 || key == "*":
	case before == 'U' && (next == 'C' || next == 'N' && ends(i+1) || arm(i+1)) && (number(i-2) || t.Words[i-1].Has(words.FirstInLine)):
		t.Restore(i, "S")
	case before == 'G' && next == 'R' && ends(i+1) && t.Words[i-1].Has(words.FirstInLine):
		t.Restore(i, "A")
	case before == 'A' && key == "?" && ends(i) && letterAt(t, i-2, i) == 'G' && t.Words[i-2].Has(words.FirstInLine):
		t.Restore(i, "R") // "G. A. [.]."
	case before == 'S' && (key == "?" || key == "4") && ends(i) && letterAt(t, i-2, i) == 'C' && t.Words[i-2].Has(words.FirstInLine):
		t.Restore(i, "A") // "C. S. 4."
	case key == "?" && t.Words[i].Has(words.FirstInLine) && next == 'A' && second == 'R' && ends(i+2):
		t.Restore(i, "G") // "[.]. A. R."
	case before == 'C' && next == 'A' && t.Words[i-1].Has(words.FirstInLine) && ends(i+1):
		t.Restore(i, "S")
	case key != "?":
	case next == 'S' && (second == 'C' && number(i-1) || arm(i+2) && number(i-1)):
		t.Restore(i, "U")
	case next == 'R' && second == 'C' && ends(i+2) && number(i-1):
		t.Restore(i, "V")
	}
}
