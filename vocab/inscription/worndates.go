// This file reads dates of which damage has left a part: a month and a day without their year, a year without its month, a day that no month has.

package inscription

import (
	"strings"
	"sync"

	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// wornDate adds the date on the rest of a line, from word i at its beginning or behind a label, which is no date as it stands but can be nothing else: "FEB. 6, [....]", "NOV. 15[....]82", "SEPT. 78, 1902",
// "OCT 27, 1062", "[---] 1893", "S[---]1843", "[.....]3 1923", "[---]1898".
func (c *chart) wornDate(i int) {
	t := c.text
	w := &t.Words[i]
	if !w.Has(words.FirstInLine) && !c.afterLabel[i] || w.Line == 0 {
		return
	}
	to := i + 1
	for to < len(t.Words) && to < i+4 && !t.Words[to-1].Has(words.LastInLine) {
		to++
	}
	if !t.Words[to-1].Has(words.LastInLine) || t.Words[to-1].Line != w.Line {
		return
	}
	d := moment{from: i, to: to}
	ok := false
	if m, k := c.month(i); m > 0 {
		d.month = m
		ok = c.wornRest(&d, k, to)
	} else if w.Has(words.Lost) {
		ok = c.wornMonth(&d, i, to)
	}
	if !ok || !d.possible() {
		return
	}
	c.add(item{from: i, to: to, kind: kDate, score: c.w.DateWhole + c.w.DateWorn*float32(to-i), ref: c.addWhen(when{one: d})})
}

// wornRest reads what stands behind a month, words k to to-1, and reports whether it is a day and a year, or what is left of them.
func (c *chart) wornRest(d *moment, k, to int) bool {
	t := c.text
	if k >= to {
		return false
	}
	w, key := &t.Words[k], t.Key(k)
	figures := strings.TrimRight(key, "?*")
	if w.Flags&(words.Digits|words.Lost) == 0 {
		return false
	}
	switch n := 0; {
	case w.Num >= 1 && w.Num <= 31:
		d.dayText, d.day = key, w.Num
	case w.Num > 31 && w.Num < 100 && to == k+2: // a day that no month has: a figure of it is misread
	case len(figures) < 3 && len(figures) < len(key): // "2[---]", "12[.]" of which the comma is lost, "[...]"
		for _, f := range figures {
			n = n*10 + int(f-'0')
		}
		if strings.IndexByte(figures, '?') < 0 && n > 3 && n < 32 {
			d.dayText, d.day = figures, n
		}
	default: // "15[....]82"
		front, rest := words.Parted(key)
		if to == k+1 && front == "" && (len(rest) == 3 || len(rest) == 4) { // "JAN. [....]1865", "APR. [---]863"
			if c.births = yearsAt(c.births[:0], "?"[:4-len(rest)]+rest); len(c.births) == 1 {
				d.year = c.births[0]
				return true
			}
		}
		if to > k+1 || front == "" || len(front) > 2 || len(rest) != 2 || strings.Trim(front+rest, "0123456789") != "" {
			return false
		}
		for _, f := range front {
			n = n*10 + int(f-'0')
		}
		if len(front) == 2 && n > 0 && n < 32 {
			d.dayText, d.day = front, n
		}
		d.yearText = "XX" + rest
		return true
	}
	if k+1 == to {
		return true
	}
	if k+2 < to {
		return false
	}
	y := &t.Words[k+1]
	if text, year, ok := c.yearOpen(k + 1); ok {
		d.yearText, d.year = text, year
		return true
	}
	switch key := t.Key(k + 1); {
	case y.Has(words.Lost): // its year is lost, or all of it that tells
		return strings.Trim(key, "0123456789?*") == ""
	case y.Has(words.Ordinal) || y.Num < 100:
		return false
	case len(key) == 4: // "1062": a figure of it is misread
		if c.births = misread(c.births[:0], y.Num); len(c.births) != 1 {
			c.births = yearsAt(c.births[:0], key)
		}
		if len(c.births) == 1 {
			d.year = c.births[0]
			return true
		}
		d.yearText = key
		return len(c.births) > 0
	case len(key) == 3: // "824": its first figure is lost
		if c.births = yearsAt(c.births[:0], "?"+key); len(c.births) == 1 {
			d.year = c.births[0]
			return true
		}
	}
	return false
}

// wornMonth reads a line of two words whose first is damaged, and the other its year, or of one word that ends with a year.
func (c *chart) wornMonth(d *moment, i, to int) bool {
	t := c.text
	front, rest := words.Parted(t.Key(i))
	switch {
	case to == i+1:
		if front != "" || len(rest) != 4 || !t.Words[i].Has(words.Digits) {
			return false
		}
		if c.births = yearsAt(c.births[:0], rest); len(c.births) != 1 {
			return false
		}
		d.year = c.births[0]
		return true
	case to != i+2 || t.Words[i].Has(words.DashAfter):
		return false
	}
	if figures := front == "" && rest != "" && len(rest) < 3 && t.Words[i].Has(words.Digits); !figures && (rest != "" || front != "" && !dateWords().begins(front)) {
		return false
	}
	text, year, ok := c.year(i + 1)
	d.yearText, d.year = text, year
	return ok && year > 0
}

// dateWords are the words with which a line may begin that tells a date.
var dateWords = sync.OnceValue(func() *wordList {
	l := &wordList{"BORN", "DIED"}
	for form := range date.Months() {
		*l = append(*l, words.Letters(form))
	}
	return l
})

type wordList []string

func (l *wordList) begins(front string) bool {
	for _, w := range *l {
		if strings.HasPrefix(w, front) {
			return true
		}
	}
	return false
}

// wornLabel adds BORN or DIED at the beginning of a line, above or before a month, of which the first letter is left, or all but one or two: "D[...] / NOV. 15, 1882", "BO[.]H JUNE 14, 1844", "OIED MAY 4, 1891".
func (c *chart) wornLabel(i int) {
	t := c.text
	w := &t.Words[i]
	if i == 0 || i+1 >= len(t.Words) || c.spots[i+1].month == 0 || w.Flags&(words.Digits|words.Note) != 0 {
		return
	}
	key := t.Key(i)
	if w.Has(words.LastInLine|words.Lost) && key[0] == 'D' && len(key) < 6 && strings.Trim(key[1:], "?*") == "" {
		c.label(i, &c.lex.died)
		return
	}
	if len(key) != 4 || strings.IndexByte(key, '*') >= 0 || c.infos[i].named || w.Has(words.LastInLine) {
		return
	}
	for _, e := range []*entry{&c.lex.born, &c.lex.died} {
		same, like := 0, 0
		for k, own := range []byte(strings.ToUpper(e.code)) {
			switch {
			case key[k] == own:
				same++
			case key[k] == '?' || name.Worn(key[k], own) >= wideLike:
				like++
			}
		}
		if same > 1 && same < 4 && same+like == 4 {
			c.label(i, e)
		}
	}
}

// label adds a label of which a part is lost or misread.
func (c *chart) label(i int, e *entry) {
	c.afterLabel[i+1] = true
	c.add(item{from: i, to: i + 1, kind: kLabel, entry: e, score: c.w.LabelWorn})
}

// monthAlike is the month whose form a word before a day and a year is, but for one letter that looks like the form's: "SEPY. 11, 1844"; 0 where none is, or several are.
func monthAlike(t *words.Text, i int) int {
	key, found := t.Key(i), 0
	if len(key) < 3 || len(key) > 9 || t.Words[i].Flags&(words.Digits|words.Lost|words.Note) != 0 {
		return 0
	}
	for _, m := range monthForms() {
		if len(m.form) != len(key) || !alikeBut(key, m.form) {
			continue
		}
		if found != 0 && found != m.month {
			return 0
		}
		found = m.month
	}
	return found
}

// alikeBut reports whether two words of one length differ in one letter, and these look alike.
func alikeBut(a, b string) bool {
	wrong := 0
	for k := range len(a) {
		if a[k] != b[k] {
			if wrong++; wrong > 1 || name.Worn(a[k], b[k]) < wideLike {
				return false
			}
		}
	}
	return wrong == 1
}

type monthForm struct {
	form  string
	month int
}

var monthForms = sync.OnceValue(func() (all []monthForm) {
	for form, m := range date.Months() {
		if letters := words.Letters(form); len(letters) > 2 {
			all = append(all, monthForm{letters, m})
		}
	}
	return all
})
