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
	if !w.Has(words.FirstInLine) && !c.afterLabel[i] && !c.behindYear(i) || w.Line == 0 {
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
	if m, k := c.month(i); m > 0 && !c.joinedYears(i) {
		d.month = m
		ok = c.wornRest(&d, k, to)
	} else if w.Has(words.Lost) {
		ok = c.wornMonth(&d, i, to)
	} else if w.Num > 0 && w.Num < 32 && to == i+2 && c.afterLabel[i] {
		ok = c.behindDay(&d, to-1)
	} else if to == i+2 && w.Num > 0 && w.Num < 32 && w.Has(words.CommaAfter) { // "21, 1843": the month is lost without a mark
		_, d.year, ok = c.year(i + 1)
		ok = ok && d.year > 0
	} else if to == i+3 && t.Len(i) == 1 && strings.Contains("JFMASOND", t.Key(i)) { // "S 27, 1910": the rest of the month is lost without a mark
		d.month = monthsByLetter[t.Key(i)[0]]
		_, _, day := c.day(i + 1)
		ok = day && c.wornRest(&d, i+1, to)
	}
	if !ok || !d.possible() {
		return
	}
	c.add(item{from: i, to: to, kind: kDate, score: c.w.DateWhole + c.w.DateWorn*float32(to-i), ref: c.addWhen(when{one: d})})
}

// behindYear reports whether word i stands in its line behind the year of another date: "OCT 8 1878 NOV [...]953".
func (c *chart) behindYear(i int) bool {
	t := c.text
	return i > 2 && !t.Words[i].Has(words.FirstInLine) && t.Words[i-1].Num > earlyYear && t.Words[i-1].Num <= lastYear && t.Words[i-1].Line == t.Words[i-3].Line && (c.spots[i-3].month > 0 || c.spots[i-2].month > 0)
}

// behindDay reads the damaged word k behind a day and reports whether it is a month, or the end of a year: "GEB. 10. [---]843", "GEST. 24. SEP[---]".
func (c *chart) behindDay(d *moment, k int) bool {
	if !c.text.Words[k].Has(words.Lost) {
		return false
	}
	if c.yearEnds(d, k) {
		return true
	}
	front, rest := words.Parted(c.text.Key(k))
	return len(front) > 2 && rest == "" && dateWords().nearly(front)
}

// yearEnds reads the last three or four figures of a year at word k, behind a gap or with the word that has one before them: "[...]953", "JUL[---]895". One year alone must fit.
func (c *chart) yearEnds(d *moment, k int) bool {
	w, key := &c.text.Words[k], c.text.Key(k)
	if w.Has(words.Lost) {
		front, rest := words.Parted(key)
		if front != "" && (len(front) > 2 || w.Flags&words.Digits == 0) {
			return false
		}
		key = rest
	} else if !w.Has(words.Glued) || k == 0 || !c.text.Words[k-1].Has(words.Lost) {
		return false
	}
	if len(key) != 3 && len(key) != 4 {
		return false
	}
	if c.births = yearsAt(c.births[:0], "?"[:4-len(key)]+key); len(c.births) != 1 {
		return false
	}
	d.year = c.births[0]
	return true
}

// monthsByLetter are the months that alone begin with their letter.
var monthsByLetter = [...]int{'F': 2, 'S': 9, 'O': 10, 'N': 11, 'D': 12, 'Z': 0}

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
	if to == k+1 && c.yearEnds(d, k) {
		return true // "SEPT 2[....]881", "JAN. [....]1865", "APR. [---]863", "JUL[---]895"
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
		if to == k+1 && front == "" && rest != "" && len(rest) < 3 && c.behindYear(k-1) { // "OCT 15 1899 MAR [......]1": its year is not told
			return true
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
	text, year, ok := c.yearOpen(k + 1)
	if ok {
		d.yearText, d.year = text, year
		return true
	}
	switch key := t.Key(k + 1); {
	case y.Has(words.Lost): // its year is lost, or all of it that tells
		return strings.Trim(key, "0123456789?*") == ""
	case y.Has(words.Ordinal) || y.Num < 100:
		return false
	case len(key) == 4: // "1062"
		d.yearText, d.year, ok = c.yearMisread(k + 1)
		return ok
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
	if c.yearEnds(d, i+1) {
		return true
	}
	text, year, ok := c.year(i + 1)
	d.yearText, d.year = text, year
	return ok && year > 0
}

// yearMisread reads a number of four figures that is no year that a stone gives, with one of its figures another: the year that it looks like, or all that it may be. The text is the number: who settles it beside another date asks for all of them.
func (c *chart) yearMisread(i int) (text string, year int, ok bool) {
	if i >= len(c.text.Words) {
		return "", 0, false
	}
	w, key := &c.text.Words[i], c.text.Key(i)
	if len(key) != 4 || w.Num < 1000 || w.Num >= earlyYear && w.Num <= lastYear || w.Has(words.Ordinal) {
		return "", 0, false
	}
	if c.births = misread(c.births[:0], w.Num); len(c.births) != 1 {
		c.births = yearsAt(c.births[:0], key)
	}
	switch len(c.births) {
	case 0:
		return "", 0, false
	case 1:
		return key, c.births[0], true
	}
	return key, 0, true
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

// nearly reports whether a word of the list begins so, but for one letter.
func (l *wordList) nearly(front string) bool {
	for _, w := range *l {
		if len(w) >= len(front) {
			if wrong := name.Misread(front, w[:len(front)], 0); wrong == 0 || wrong == 1 && len(front) > 2 {
				return true
			}
		}
	}
	return false
}

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
	if len(key) > 5 {
		c.serviceLabel(i, key)
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

// serviceLabel adds ENLISTED, DISCHARGED or the like with a gap, or with two letters misread at most: "DISCH[..]ED", "DIBCHABGED".
func (c *chart) serviceLabel(i int, key string) {
	gap, end := strings.IndexAny(key, "?*"), strings.LastIndexAny(key, "?*")+1
	for k := range c.lex.labels {
		f := &c.lex.labels[k]
		wrong := name.Misread(key, f.letters, 0)
		if wrong > 0 && wrong < 3 || gap > 3 && strings.HasPrefix(f.letters, key[:gap]) && strings.HasSuffix(f.letters, key[end:]) && leftOf(key) > 5 {
			c.label(i, &f.entry)
			return
		}
	}
}

// label adds a label of which a part is lost or misread.
func (c *chart) label(i int, e *entry) {
	c.afterLabel[i+1] = true
	c.add(item{from: i, to: i + 1, kind: kLabel, entry: e, score: c.w.LabelWorn})
}

// monthAlike is the month whose form a word before a day and a year is, but for one letter that looks like the form's: "SEPY. 11, 1844"; where that begins its line, or stands behind another date or a label, for any one letter: "HUG. 23, 1937". It is 0
// where none is, or several are.
func (c *chart) monthAlike(i int) int {
	t := c.text
	w, key := &t.Words[i], t.Key(i)
	if len(key) < 3 || len(key) > 9 || w.Flags&(words.Digits|words.Lost|words.Note) != 0 {
		return 0
	}
	if m := monthBut(key, wideLike); m > 0 || c.infos[i].given != 0 || c.infos[i].starts != 0 || !w.Has(words.FirstInLine) && !t.Words[i-1].Has(words.Digits) && c.spots[i-1].from == c.spots[i-1].to {
		return m
	}
	return monthBut(key, 0)
}

// monthBut is the month that a word is but for one letter, no less like the month's than least; 0 where none is, or several are.
func monthBut(key string, least float64) (found int) {
	for _, m := range monthForms() {
		if name.Misread(key, m.form, least) != 1 {
			continue
		}
		if found != 0 && found != m.month {
			return 0
		}
		found = m.month
	}
	return found
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
