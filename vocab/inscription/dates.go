package inscription

import (
	"cmp"
	"strconv"
	"strings"

	"musterstone/model/date"
	"musterstone/vocab/words"
)

// month reads the month at word i: 1 to 12 and the word after it, or 0.
func (c *chart) month(i int) (m, to int) {
	if i < len(c.spots) && c.spots[i].month > 0 {
		return c.spots[i].month, i + 1
	}
	return 0, i
}

// numberedMonth reads the month at word i as Friends wrote it, "5TH MO." for May, and the word after it, or 0. Common practice, no source.
func (c *chart) numberedMonth(i int) (m, to int) {
	t := c.text
	if i+1 >= len(t.Words) || t.Words[i].Num < 1 || t.Words[i].Num > 12 || t.Words[i].Has(words.LastInLine) || t.Key(i+1) != "MO" && t.Key(i+1) != "MONTH" {
		return 0, i
	}
	return t.Words[i].Num, i + 2
}

// anno is the word after "A. D." at word i, or i.
func (c *chart) anno(i int) int {
	t := c.text
	switch {
	case i+1 < len(t.Words) && t.Key(i) == "A" && t.Key(i+1) == "D":
		return i + 2
	case i < len(t.Words) && t.Key(i) == "AD":
		return i + 1
	}
	return i
}

// year reads the year at word i: a number of four digits, or of two after an apostrophe; lost digits stay open in the text. ok tells a year.
func (c *chart) year(i int) (text string, year int, ok bool) {
	if i >= len(c.text.Words) {
		return "", 0, false
	}
	w := &c.text.Words[i]
	key := c.text.Key(i)
	if w.Has(words.Digits) && !w.Has(words.Ordinal) {
		switch {
		case w.Num >= firstYear && w.Num < earlyYear && len(key) == 4: // a figure is misread sooner than that a stone is so old
			return key[:1] + "X" + key[2:], 0, true
		case w.Num >= earlyYear && w.Num <= lastYear && len(key) == 4:
			return key, w.Num, true
		case w.Num >= 0 && len(key) == 2 && w.Has(words.Apostrophe):
			return "18" + key, 1800 + w.Num, true
		case w.Has(words.Lost) && len(key) == 4 && strings.IndexByte(key, '*') < 0 && (key[0] == '1' || key[0] == '2' || key[0] == '?'):
			if len(yearsAt(c.births[:0], key)) == 0 {
				break // "255[.]"
			}
			if wornWithin(key) {
				if only := yearsAt(c.births[:0], key); len(only) == 1 {
					return strconv.Itoa(only[0]), only[0], true // "[.]865"
				}
			}
			return strings.ReplaceAll(key, "?", "X"), 0, true
		}
	}
	return "", 0, false
}

// yearOpen is year, or the year at word i of which the last figures are lost in a gap of unknown length: "SEPT. 6, 184[---]".
func (c *chart) yearOpen(i int) (text string, year int, ok bool) {
	if text, year, ok = c.year(i); ok || i >= len(c.text.Words) || c.text.Words[i].Flags&(words.Lost|words.Digits) != words.Lost|words.Digits {
		return text, year, ok
	}
	left := strings.TrimRight(c.text.Key(i), "?*")
	if n := len(left); n < 2 || n > 3 || strings.ContainsAny(left, "?*") || len(yearsAt(c.births[:0], left+"????"[n:])) == 0 {
		return "", 0, false
	}
	return left + "XX"[len(left)-2:], 0, true
}

// day reads the day of a month at word i.
func (c *chart) day(i int) (text string, day int, ok bool) {
	if i >= len(c.text.Words) {
		return "", 0, false
	}
	w := &c.text.Words[i]
	if !w.Has(words.Digits) {
		return "", 0, false
	}
	key := c.text.Key(i)
	switch {
	case w.Num >= 1 && w.Num <= 31:
		return key, w.Num, true
	case w.Has(words.Lost) && len(key) <= 2 && strings.IndexByte(key, '*') < 0:
		return key, 0, true
	case w.Has(words.Lost) && len(key) == 3 && key[2] == '?' && key[1] != '?' && key[0] > '0' && key[0] < '4': // "MAY 16[.] 1863": the comma is lost
		if day = int(key[0]-'0')*10 + int(key[1]-'0'); day < 32 {
			return key[:2], day, true
		}
	}
	return "", 0, false
}

// dateAt reads one date that starts at word i, and the word after it; whole tells that it has more than a year.
func (c *chart) dateAt(i int) (d moment, to int, whole bool) {
	t := c.text
	n := len(t.Words)
	if c.joinedYears(i) {
		return d, i, false
	}
	if i+2 < n && t.Words[i].Flags&(words.Lost|words.Digits|words.LastInLine) == words.Lost && c.spots[i].month == 0 { // "[---] 4, 1891", "O[...] 4, 1891": the month is lost
		if _, _, ok := c.day(i + 1); ok {
			if yt, y, ok := c.year(i + 2); ok {
				return moment{i, i + 3, y, 0, 0, yt, ""}, i + 3, true
			}
		}
	}
	if i >= n || !t.Words[i].Has(words.Digits) && t.Len(i) < 3 && !lostWord(t.Key(i)) {
		return d, i, false
	}
	if m, k := c.month(i); m > 0 { // MAY 4 1891, MAY 1891, MAY THE 4TH A. D. 1891
		if k < n && (t.Key(k) == "THE" || t.Key(k) == "YE") {
			k++
		}
		if dt, dd, ok := c.day(k); ok {
			k := c.anno(k + 1)
			if yt, y, ok := c.yearOpen(k); ok && !brokenTwice(t, i, k+1) {
				return moment{i, k + 1, y, m, dd, yt, dt}, k + 1, true
			}
			if yt, y, ok := c.yearMisread(k); ok && t.Words[k].Line == t.Words[i].Line { // "DEC 20 4944"
				return moment{i, k + 1, y, m, dd, yt, dt}, k + 1, true
			}
		}
		if yt, y, ok := c.yearOpen(k); ok {
			return moment{i, k + 1, y, m, 0, yt, ""}, k + 1, true
		}
		if k+1 < n && t.Words[k].Num > 31 && t.Words[k].Num < 100 { // "JUNE 77, 1841": a figure of the day is misread
			if yt, y, ok := c.year(k + 1); ok && y > 0 && !brokenTwice(t, i, k+2) {
				return moment{i, k + 2, y, m, 0, yt, ""}, k + 2, true
			}
		}
		if k < n && t.Len(k) <= 2 && lostWord(t.Key(k)) { // "MAY [..] 1891"
			if yt, y, ok := c.year(k + 1); ok && !brokenTwice(t, i, k+2) {
				return moment{i, k + 2, y, m, 0, yt, ""}, k + 2, true
			}
		}
		return d, i, false
	}
	if t.Len(i) <= 2 && lostWord(t.Key(i)) && i+2 < n { // "[..] MAY 1891"
		if m, k := c.month(i + 1); m > 0 {
			if yt, y, ok := c.year(k); ok {
				return moment{i, k + 1, y, m, 0, yt, ""}, k + 1, true
			}
		}
	}
	if m, k := c.numberedMonth(i); m > 0 { // 5TH MO. 4 1891; 5 MO. 1891 would be an age and a year
		if dt, dd, ok := c.day(k); ok {
			if yt, y, ok := c.year(k + 1); ok && !brokenTwice(t, i, k+2) {
				return moment{i, k + 2, y, m, dd, yt, dt}, k + 2, true
			}
		}
	}
	if dt, dd, ok := c.day(i); ok { // 4 MAY 1891, 4TH OF MAY 1891, 5/4/1891
		k := i + 1
		if k < n && t.Key(k) == "DAY" {
			k++
		}
		if k < n && t.Key(k) == "OF" {
			k++
		}
		m, k2 := c.month(k)
		if m == 0 && k > i+1 { // 4TH OF 5TH MO. 1891
			m, k2 = c.numberedMonth(k)
		}
		if m > 0 {
			k2 = c.anno(k2)
			if yt, y, ok := c.year(k2); ok {
				return moment{i, k2 + 1, y, m, dd, yt, dt}, k2 + 1, true
			}
		}
		if dd >= 1 && dd <= 12 && (t.Words[i].Has(words.SlashAfter) || t.Words[i].Has(words.DashAfter)) {
			if dt2, dd2, ok := c.day(i + 1); ok && (t.Words[i+1].Has(words.SlashAfter) || t.Words[i+1].Has(words.DashAfter)) {
				if yt, y, ok := c.year(i + 2); ok {
					return moment{i, i + 3, y, dd, dd2, yt, dt2}, i + 3, true
				}
			}
		}
	}
	if yt, y, ok := c.year(i); ok {
		return moment{i, i + 1, y, 0, 0, yt, ""}, i + 1, false
	}
	return d, i, false
}

// joinedYears reports whether a gap at word i has the end of a name and figures of a life's first year, behind which stands a dash: "J[---]25 - 1902" is no day of January.
func (c *chart) joinedYears(i int) bool {
	t := c.text
	return i+1 < len(t.Words) && t.Words[i].Flags&(words.Lost|words.Digits) == words.Lost && t.Words[i+1].Flags&(words.Digits|words.Glued|words.DashAfter) == words.Digits|words.Glued|words.DashAfter
}

// dayAlone reads a day without its year behind BORN or DIED, and the word after it: "D. 12 MO. 3", "DIED MAY 4", "DIED / FEB. 18, [....]". It ends its line, with its year if that is lost, and no digits
// follow, for they could be of its year.
func (c *chart) dayAlone(i int) (d moment, to int) {
	t := c.text
	if !c.afterLabel[i] {
		return d, i
	}
	m, k := c.month(i)
	if m == 0 {
		m, k = c.numberedMonth(i)
	}
	dt, dd, ok := c.day(k)
	if m == 0 || !ok || dd == 0 {
		return d, i
	}
	last := k
	if k+1 < len(t.Words) && !t.Words[k].Has(words.LastInLine) && lostWord(t.Key(k+1)) {
		last = k + 1 // its year is lost
	} else if t.Words[i].Has(words.FirstInLine) {
		return d, i
	}
	if !t.Words[last].Has(words.LastInLine) || t.Words[last].Line != t.Words[i].Line || last+1 < len(t.Words) && t.Words[last+1].Has(words.Digits) {
		return d, i
	}
	return moment{from: i, to: last + 1, month: m, day: dd, dayText: dt}, last + 1
}

// brokenTwice reports whether words i to to-1 stand on more than two lines, as no date does.
func brokenTwice(t *words.Text, i, to int) bool { return t.Words[to-1].Line-t.Words[i].Line > 1 }

// dates are the dates of a when; readings of one text share them.
func (c *chart) dates(w *when) (one, other date.Date) {
	if w.madeOne.IsZero() {
		w.madeOne = c.date(w.one, w.circa)
		if w.other.year > 0 || w.other.yearText != "" {
			w.madeOther = c.date(w.other, false)
		}
		for k, d := range [2]*date.Date{&w.madeOne, &w.madeOther} {
			if w.until[k] > 0 {
				written := d.Written
				*d = someYear(d.From.Year, w.until[k])
				d.Written = written
			}
		}
	}
	return w.madeOne, w.madeOther
}

// date makes the date of a moment. Lost digits widen it.
func (c *chart) date(m moment, circa bool) date.Date {
	var d date.Date
	switch {
	case m.year > 999 && m.month > 0 && m.day > 0 && m.day < 29:
		day := date.Day{Year: m.year, Month: m.month, Day: m.day}
		d = date.Date{EDTF: iso(m.year, m.month, m.day), From: day, To: day} // as date.On makes it
	case m.year > 0 && m.month > 0 && m.day > 0:
		d = date.On(m.year, m.month, m.day)
	case m.year > 0 && m.month > 0 && m.dayText != "":
		d = lostDay(m.year, m.month, m.dayText)
	case m.year > 0 && m.month > 0:
		d, _ = date.ParseEDTF(strconv.Itoa(m.year) + "-" + two(m.month))
	case m.year > 999 && len(m.yearText) == 4:
		d = date.Date{EDTF: m.yearText, From: date.Day{Year: m.year, Month: 1, Day: 1}, To: date.Day{Year: m.year, Month: 12, Day: 31}} // as date.Year makes it
	case m.year > 0:
		d = date.Year(m.year)
	case m.yearText == "": // a day without its year: its words
	default:
		d = lostYear(m.yearText)
	}
	if circa {
		if e, err := date.ParseEDTF(d.EDTF + "~"); err == nil {
			d = e
		}
	}
	d.Written = c.text.Span(m.from, m.to)
	return d
}

// iso is a day as EDTF writes it.
func iso(year, month, day int) string {
	digit := func(n int) byte { return byte('0' + n%10) }
	return string([]byte{digit(year / 1000), digit(year / 100), digit(year / 10), digit(year), '-', digit(month / 10), digit(month), '-', digit(day / 10), digit(day)})
}

// leapYear stands for a year that is not known.
const leapYear = 2000

// possible reports whether the calendar has the day.
func (m moment) possible() bool {
	return m.day < 29 || m.month == 0 || date.Day{Year: cmp.Or(m.year, leapYear), Month: m.month, Day: m.day}.Valid()
}

// two is a month or a day in two figures.
func two(n int) string {
	if n < 10 {
		return "0" + strconv.Itoa(n)
	}
	return strconv.Itoa(n)
}

// lostYear is a year with lost digits, X: the span of the years that it can be.
func lostYear(text string) date.Date {
	if !wornWithin(text) && text[1] != 'X' && strings.IndexByte(text, 'X') > 0 {
		if d, err := date.ParseEDTF(text); err == nil {
			return d
		}
	}
	years := yearsAt(nil, strings.ReplaceAll(text, "X", "?"))
	if len(years) == 0 {
		return date.Between(date.Day{Year: firstYear, Month: 1, Day: 1}, date.Day{Year: lastYear, Month: 12, Day: 31})
	}
	return someYear(years[0], years[len(years)-1])
}

// lostDay is a day with lost digits: the span of the days that it can be.
func lostDay(year, month int, text string) date.Date {
	var first, last date.Day
	for day := 1; day <= 31; day++ {
		t := strconv.Itoa(day)
		if len(t) != len(text) || date.On(year, month, day).IsZero() {
			continue
		}
		fits := true
		for k := range len(t) {
			fits = fits && (text[k] == '?' || text[k] == t[k])
		}
		if fits {
			if first.IsZero() {
				first = date.Day{Year: year, Month: month, Day: day}
			}
			last = date.Day{Year: year, Month: month, Day: day}
		}
	}
	if first.IsZero() {
		d, _ := date.ParseEDTF(strconv.Itoa(year) + "-" + two(month))
		return d
	}
	return date.Between(first, last)
}

// dateItems adds the dates and the pairs of years that may start at word i.
func (c *chart) dateItems(i int) {
	t := c.text
	from, circa, serves := i, false, false
	if !t.Words[i].Has(words.Digits) {
		switch starts := c.infos[i].starts; {
		case starts&sCirca != 0:
			circa = true
			i++
		case starts&sIn != 0:
			if i+1 >= len(t.Words) {
				return
			}
			serves = t.Key(i) == "FROM" // two years, and not a life's
			i++
		default:
			if t.Words[i].Flags&words.Lost == 0 && c.spots[i].month == 0 {
				return
			}
		}
		if i >= len(t.Words) {
			return
		}
	}
	d, to, whole := c.dateAt(i)
	if to == i && !circa && i == from {
		d, to = c.dayAlone(i)
		whole = true
	}
	if to == i && i == from {
		if w := &t.Words[i]; w.Num < 0 || w.Num > 999 || w.Num > 9 && w.Has(words.DashAfter) {
			c.wornYears(i)
		}
		c.wornDate(i)
	}
	if to == i || !d.possible() {
		return
	}
	y := d.year
	d.from = from
	it := item{from: from, to: to, kind: kDate, ref: c.addWhen(when{one: d, circa: circa})}
	it.score = c.w.DateYear
	if whole {
		it.score = c.w.DateWhole + c.w.DateWord*float32(to-i-1)
	} else {
		if t.Words[i].Has(words.FirstInLine) && t.Words[to-1].Has(words.LastInLine) {
			it.score += c.w.YearOwnLine
		} else {
			it.score += c.w.YearInLine
		}
		if circa {
			it.score += c.w.YearAbout
		}
	}
	if !serves {
		c.add(it)
	} else if to+1 < len(t.Words) && (t.Key(to) == "TO" || t.Key(to) == "UNTIL" || t.Key(to) == "TILL") {
		if last, end, _ := c.dateAt(to + 1); whole && end > to+1 && last.possible() && last.year >= y && y > 0 { // "FROM OCT. 1861 TO JULY 1865"
			last.from = to + 1
			c.add(item{from: from, to: end, kind: kYears, score: c.w.TwoYears + c.w.YearsFrom + c.w.DateWord*float32(end-from-3),
				ref: c.addWhen(when{one: d, other: last, serves: true})})
		}
	}
	if whole || circa {
		return
	}
	if w := &t.Words[to-1]; !serves && y > 0 && w.Has(words.DashAfter) && w.Has(words.LastInLine) { // "1838 -": the death was never cut
		c.whens[it.ref].open = true
	}
	// Two years: 1840 - 1912, 1840 1912, 1861 TO 1865, 1861-65.
	k := to
	if k < len(t.Words) && (t.Key(k) == "TO" || t.Key(k) == "BIS") {
		k++
	}
	if k >= len(t.Words) || t.Words[k-1].Has(words.LastInLine) && !t.Words[k-1].Has(words.DashAfter) {
		return
	}
	w := &t.Words[k]
	text2, y2, ok := c.year(k)
	if !ok && t.Words[to-1].Has(words.DashAfter) && w.Has(words.Digits) && y > 0 && w.Num > 0 && w.Num < 100 {
		y2 = y/100*100 + w.Num
		if w.Num < 10 && len(t.Key(k)) == 1 {
			y2 = y/10*10 + w.Num
		}
		ok = true
	}
	if !ok && (y > 0 || d.yearText != "") && t.Words[to-1].Has(words.DashAfter) && w.Flags&words.Note == 0 && (lostWord(t.Key(k)) && y > 0 || t.Len(k) > 1 && t.Key(k)[0] == '1' && lostWord(t.Key(k)[1:])) && w.Has(words.LastInLine) {
		text2, ok = "", true // "1840 - [....]", "1843 - 1[---]"
	}
	if ok && y2 > 0 && y2 < y && !serves && t.Words[to-1].Has(words.DashAfter) && w.Has(words.LastInLine) && (t.Key(k) == "18" || t.Key(k) == "19" || t.Key(k) == "20") {
		c.add(item{from: from, to: k + 1, kind: kDate, score: it.score + c.w.YearsDash, ref: c.addWhen(when{one: d, open: true})}) // "1840 - 19": the death was never cut but for its century
		return
	}
	if !ok || y > 0 && y2 > 0 && y2 < y {
		if i == from && k == to {
			c.wornYears(i)
		}
		return
	}
	p := item{from: from, to: k + 1, kind: kYears, score: c.w.TwoYears,
		ref: c.addWhen(when{one: d, other: moment{from: k, to: k + 1, year: y2, yearText: text2}})}
	if (y == 0 || y2 == 0) && (wornWithin(d.yearText) || wornWithin(text2)) {
		c.narrowYears(&c.whens[p.ref])
	}
	if t.Words[to-1].Has(words.DashAfter) || k > to {
		p.score += c.w.YearsDash
	}
	if t.Words[from].Has(words.FirstInLine) && t.Words[k].Has(words.LastInLine) {
		p.score += c.w.YearsOwnLine
	}
	if serves {
		if y == 0 || y2-y > 30 {
			return
		}
		c.whens[p.ref].serves = true
		p.score += c.w.YearsFrom
	}
	if y > 0 && y2 > 0 && y2-y > 110 {
		p.score += c.w.YearsLong
	}
	c.whens[p.ref].war = c.lex.withinWar(y, y2) && !c.warYears(from, k+1)
	c.add(p)
}

// warYears reports whether words from to to-1 are those of a war's name: "1861-1865".
func (c *chart) warYears(from, to int) bool {
	for _, h := range c.hits[c.spots[from].from:c.spots[from].to] {
		if h.to == to && h.entry.kind == kWarYears {
			return true
		}
	}
	return false
}
