// This file settles the years of a life of which figures are lost or misread.

package inscription

import (
	"strings"

	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// firstYear and lastYear are the years that a stone may give.
const firstYear, lastYear = 1680, 2035

// earlyYear is a year before which hardly a stone is dated.
const earlyYear = 1700

// How many years a life may have, and those of most who grew up. House judgement.
const (
	longestLife        = 110
	grownFrom, grownTo = 16, 95
)

// likeFigure is how alike two figures must look for one to be read for the other.
const likeFigure = 0.3

// yearsAt appends to dst the years that the figures of a key may stand for: one where all are there; all that fit where some are lost; those that have one other figure where it is no year that a stone gives.
func yearsAt(dst []int, key string) []int {
	left := strings.Trim(key, "?*")
	switch n := len(left); {
	case len(key) == 4 && strings.IndexByte(key, '*') < 0:
	case n > 1 && n < 4 && len(key) > n && strings.HasPrefix(key, left): // "19[---]", "19[.....]", "19[.]"
		key = left + "????"[n:]
	case n == 4 && strings.HasSuffix(key, left): // "[..]1909"
		key = left
	case n == 3 && strings.HasSuffix(key, left) && len(key) > n: // "[---]874"
		key = "?" + left
	case n == 2 && len(key) > 4 && strings.HasSuffix(key, left) && n < len(strings.TrimLeft(key, "?*"))+1: // "[....]82"
		key = "??" + left
	default:
		return dst
	}
	if left == "" {
		return dst
	}
	if strings.IndexByte(key, '?') >= 0 {
		for y := firstYear; y <= lastYear; y++ {
			if fitsYear(key, y) {
				dst = append(dst, y)
			}
		}
		return dst
	}
	y := 0
	for k := range len(key) {
		if key[k] < '0' || key[k] > '9' {
			return dst
		}
		y = y*10 + int(key[k]-'0')
	}
	if y >= firstYear && y <= lastYear {
		return append(dst, y)
	}
	for place := 1; place < 10_000; place *= 10 { // a figure of it is wrong
		for f := range 10 {
			if m := y + (f-y/place%10)*place; m != y && m >= firstYear && m <= lastYear {
				dst = append(dst, m)
			}
		}
	}
	return dst
}

// fitsYear reports whether a year has all figures of a key that are there.
func fitsYear(key string, y int) bool {
	for k := 3; k >= 0; k-- {
		if key[k] != '?' && int(key[k]-'0') != y%10 {
			return false
		}
		y /= 10
	}
	return true
}

// misread appends to dst the years that differ from a number in one figure, which looks like theirs.
func misread(dst []int, n int) []int {
	for place := 1; place < 10_000; place *= 10 {
		figure := n / place % 10
		for f := range 10 {
			if y := n + (f-figure)*place; f != figure && y >= firstYear && y <= lastYear && name.Worn(byte('0'+f), byte('0'+figure)) >= likeFigure {
				dst = append(dst, y)
			}
		}
	}
	return dst
}

// earlyDeath is a year before which few stones tell a death.
const earlyDeath = 1750

// otherFigure appends to dst the years that differ from a number in one figure.
func otherFigure(dst []int, n int) []int {
	for place := 1; place < 10_000; place *= 10 {
		for f := range 10 {
			if y := n + (f-n/place%10)*place; y != n && y >= firstYear && y <= lastYear {
				dst = append(dst, y)
			}
		}
	}
	return dst
}

// together narrows the years in which one may have been born, and those in which he may have died, to those that go together: to the lives of those who grew up, where any are.
func together(births, deaths []int) (born, died [2]int, ok bool) {
	for _, span := range [...][2]int{{grownFrom, grownTo}, {0, longestLife}} {
		for _, b := range births {
			for _, d := range deaths {
				if age := d - b; age < span[0] || age > span[1] {
					continue
				}
				if !ok {
					born, died, ok = [2]int{b, b}, [2]int{d, d}, true
				}
				born[0], born[1] = min(born[0], b), max(born[1], b)
				died[0], died[1] = min(died[0], d), max(died[1], d)
			}
		}
		if ok {
			break
		}
	}
	return born, died, ok
}

// likelier leaves of the years of a death those that many births go with: of "18[---]84" 1884, with which most years from 1800 on do, and not 1984.
func likelier(births, deaths []int) []int {
	const fewer = 4 // times
	with := func(d int) (n int) {
		for _, b := range births {
			if d-b >= grownFrom && d-b <= grownTo {
				n++
			}
		}
		return n
	}
	most := 0
	for _, d := range deaths {
		most = max(most, with(d))
	}
	kept := deaths[:0]
	for _, d := range deaths {
		if with(d)*fewer >= most {
			kept = append(kept, d)
		}
	}
	return kept
}

// set makes the birth, or the death, some year from years[0] to years[1].
func (p *when) set(which int, years [2]int) {
	m := &p.one
	if which == 1 {
		m = &p.other
	}
	m.year, m.yearText, p.until[which] = years[0], "", 0
	if years[1] > years[0] {
		p.until[which] = years[1]
	}
}

// wornWithin reports whether a figure is lost before one that is there, as EDTF cannot tell it: 1X95.
func wornWithin(key string) bool {
	gap := strings.IndexAny(key, "?*X")
	return gap >= 0 && strings.Trim(key[gap:], "?*X") != ""
}

// wornYears adds two years of a life, on one line, of which one or both have figures that are lost or misread, or that do not go together as they stand: "1838 - 19[---]", "7827 - 1898", "1815 - 1804",
// "1819[.]1877".
func (c *chart) wornYears(i int) {
	t := c.text
	w := &t.Words[i]
	one, other, k := t.Key(i), "", i+1
	if gap := strings.IndexAny(one, "?*"); gap > 0 && gap < 5 && wornWithin(one) { // the dash is lost, and perhaps figures beside it
		end := strings.LastIndexAny(one, "?*") + 1
		if rest := one[end:]; len(rest) > 1 && len(rest) < 5 && (gap+len(rest) > 5 || gap+len(rest) > 3 && (one[gap] == '*' || end-gap >= words.LeastGap)) && strings.Trim(one[gap:end], "?*") == "" {
			one, other, k = one[:gap]+"????"[gap:], "????"[len(rest):]+rest, i
		}
	}
	if len(one) == 5 && one[0] == '*' && w.Has(words.LastInLine) && !w.Has(words.FirstInLine) { // "GEORGE [---]1891": the first of two years is lost
		if c.deaths = yearsAt(c.deaths[:0], one[1:]); len(c.deaths) == 1 {
			c.add(item{from: i, to: k, kind: kYears, score: c.w.TwoYears + c.w.YearsWorn, ref: c.addWhen(when{one: moment{from: i, to: k}, other: moment{from: i, to: k, year: c.deaths[0], yearText: one[1:]}})})
			return
		}
	}
	if len(one) == 8 && !w.Has(words.Lost) { // "18401895": the dash is lost without a mark
		one, other, k = one[:4], one[4:], i
	}
	if k > i {
		if k+1 < len(t.Words) && w.Num > 0 && t.Words[k].Flags&(words.Lost|words.FirstInLine|words.LastInLine) == words.Lost && t.Len(k) < 5 && lostWord(t.Key(k)) && t.Key(k) != "*" {
			k++ // "1847 [.] 1919"; of a war they are another's: "A SOLDIER OF 1861 [.] 1865"
		}
		if w.Flags&(words.LastInLine|words.Ordinal) != 0 || k >= len(t.Words) || t.Words[k].Flags&(words.Digits|words.Ordinal|words.Note) != words.Digits {
			return
		}
		other = t.Key(k)
		if len(other) == 3 && t.Words[k].Has(words.LastInLine) && t.Words[k].Num > 0 {
			other += "?" // "1828 - 187"
		}
		if len(one) == 2 && one[0] == '*' && w.Has(words.DashAfter) { // "[---]4 - 1899"
			one = "???" + one[1:]
		}
		if len(one) < 4 && w.Num > 0 { // "825 - 1877": its first figures are lost, and the gap was not marked
			one = "????"[len(one):] + one
		} else if w.Has(words.DashAfter|words.Lost) && lostWord(one) && t.Words[k].Has(words.LastInLine) {
			if text, y, ok := c.year(k); ok && y > 0 { // "[---] - 1868"
				c.add(item{from: i, to: k + 1, kind: kYears, score: c.w.TwoYears + c.w.YearsWorn + c.w.YearsDash, ref: c.addWhen(when{one: moment{from: i, to: i + 1}, other: moment{from: k, to: k + 1, year: y, yearText: text}})})
			}
			return
		}
	}
	c.births, c.deaths = yearsAt(c.births[:0], one), yearsAt(c.deaths[:0], other)
	if k == i {
		c.deaths = likelier(c.births, c.deaths)
	}
	born, died, ok := together(c.births, c.deaths)
	if !ok && len(c.births) == 1 && len(c.deaths) == 1 && w.Num == c.births[0] && t.Words[k].Num == c.deaths[0] && w.Has(words.DashAfter) { // one of the two is misread
		c.births, c.deaths = misread(c.births, c.births[0]), misread(c.deaths, c.deaths[0])
		if born, died, ok = together(c.births[:1], c.deaths[1:]); !ok || died[1]-born[0] < grownFrom {
			if b, d, fits := together(c.births[1:], c.deaths[:1]); fits {
				born, died, ok = b, d, true
			}
		}
		if one, other := w.Num, t.Words[k].Num; !ok || died[0] < earlyDeath { // "1833 - 1683": by a figure that does not look like the other
			c.deaths = otherFigure(c.deaths[:0], other)
			if b, d, fits := together(append(c.births[:0], one), c.deaths); fits && d[0] >= earlyDeath && d[0]-b[0] >= grownFrom {
				born, died, ok = b, d, true
			}
		}
	}
	war := k > i+1 && c.lex.withinWar(born[0], died[0])
	if !ok || war && (w.Has(words.FirstInLine) || i == 0 || !c.joins(i-1)) {
		return
	}
	p := when{war: war, one: moment{from: i, to: i + 1}, other: moment{from: k, to: k + 1}}
	p.set(0, born)
	p.set(1, died)
	it := item{from: i, to: k + 1, kind: kYears, score: c.w.TwoYears + c.w.YearsWorn, ref: c.addWhen(p)}
	if w.Has(words.DashAfter) {
		it.score += c.w.YearsDash
	}
	if w.Has(words.FirstInLine) && t.Words[k].Has(words.LastInLine) {
		it.score += c.w.YearsOwnLine
	}
	c.add(it)
}

// narrowYears narrows two years of a life of which one has a figure lost before others: "1[.]52 - 1930".
func (c *chart) narrowYears(p *when) {
	c.births, c.deaths = yearsAt(c.births[:0], strings.ReplaceAll(p.one.yearText, "X", "?")), yearsAt(c.deaths[:0], strings.ReplaceAll(p.other.yearText, "X", "?"))
	born, died, ok := together(c.births, c.deaths)
	if !ok {
		return
	}
	if wornWithin(p.one.yearText) {
		p.set(0, born)
	}
	if wornWithin(p.other.yearText) {
		p.set(1, died)
	}
}

// narrow narrows a birth and a death of which one has a figure lost before others, to what goes with the other one: "BORN AUG. 4, 1[.]27 / DIED 1918".
func narrow(born, died *date.Date) {
	if born.IsZero() || died.IsZero() || yearStands(born) && yearStands(died) {
		return
	}
	births, deaths := yearsOf(born), yearsOf(died)
	if len(births) < 2 && len(deaths) < 2 || len(births) == 0 || len(deaths) == 0 {
		return
	}
	b, d, ok := together(births, deaths)
	if !ok {
		return
	}
	for _, to := range []struct {
		d     *date.Date
		many  int
		years [2]int
	}{{born, len(births), b}, {died, len(deaths), d}} {
		if to.many > 1 && !(to.d.From.Year == to.d.To.Year && to.years == [2]int{to.d.From.Year, to.d.From.Year}) {
			written := to.d.Written
			*to.d = someYear(to.years[0], to.years[1])
			to.d.Written = written
		}
	}
}

// yearStands reports whether a date is of one year, and that is the one written.
func yearStands(d *date.Date) bool {
	if d.From.Year != d.To.Year || len(d.EDTF) < 4 {
		return false
	}
	n := len(d.Written)
	for n > 0 && !isFigure(d.Written[n-1]) {
		n--
	}
	return n < 4 || !isFigure(d.Written[n-4]) || d.Written[n-4:n] == d.EDTF[:4] || !isFigure(d.Written[n-3]) || !isFigure(d.Written[n-2])
}

func isFigure(c byte) bool { return c >= '0' && c <= '9' }

// yearsOf are the years that a date may be of: one, or those that what is left of its last word allows.
func yearsOf(d *date.Date) []int {
	if yearStands(d) {
		return []int{d.From.Year}
	}
	t := words.Split(d.Written)
	if n := len(t.Words); n > 0 && (wornWithin(t.Key(n-1)) || t.Len(n-1) == 4 && t.Words[n-1].Num > 999) {
		key := t.Key(n - 1)
		if front, rest := words.Parted(key); front != "" && len(rest) == 2 && n > 1 {
			key = "??" + rest // "NOV. 15[....]82"
		} else if y := t.Words[n-1].Num; y >= firstYear && y < earlyYear {
			key = key[:1] + "?" + key[2:] // "1684"
		}
		return yearsAt(nil, key)
	}
	return nil
}

// someYear is one of the years from first to last.
func someYear(first, last int) date.Date {
	return date.Between(date.Day{Year: first, Month: 1, Day: 1}, date.Day{Year: last, Month: 12, Day: 31})
}
