package inscription

import (
	"strings"

	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// ageItems adds the ages that may start at word i: "AE. 67 YRS. 3 MS. 4 DS.", "AGED 67", "67 YS".
func (c *chart) ageItems(i int, label bool, from int) {
	t := c.text
	var a date.Age
	k := i
	if label && k < len(t.Words) && c.infos[k].starts&sCirca != 0 {
		k++
	}
	score := float32(0)
	last := 0 // the spanOrder of the last number: each span stands only once, and in that order
	lost := false
	if label && k+2 < len(t.Words) && c.figureLost(k) && c.spots[k+1].spans[1] > 0 && !c.endsAge(c.spots[k+1].spans[1]) && t.Words[c.spots[k+1].spans[1]].Line == t.Words[k].Line {
		k, last, lost = c.spots[k+1].spans[1], 1, true // "AE. 3[.] Y'RS 5 M'S 21 D'S"
		score += c.w.AgeSpan
	}
	for k < len(t.Words) && t.Words[k].Has(words.Digits) && t.Words[k].Num >= 0 && t.Words[k].Num <= 365 {
		n := t.Words[k].Num
		if d, ok := c.likeFigure(k + 1); ok && last == 0 && n < 13 {
			n, k = n*10+d, k+1 // "AGED 6I YRS."
		}
		if w := &t.Words[k]; last == 2 && n < 32 && w.Has(words.Ordinal) && w.Flags&(words.LastInLine|words.CommaAfter) != 0 && strings.ToUpper(t.Span(k, k+1)) == t.Key(k)+"D" {
			a.Days, a.HasDays = n, true // "61Y 3M 2D": behind months that is no second
			score += c.w.AgeSpan
			k++
			break
		}
		if t.Words[k].Has(words.Ordinal) && n%10 == 2 && strings.HasSuffix(strings.ToUpper(t.Span(k, k+1)), "D") {
			break // "2D" is two days, or a second: left alone
		}
		which, to := 0, 0
		if k+1 < len(t.Words) {
			for o, end := range c.spots[k+1].spans {
				if o > last && end > to {
					which, to = o, end
				}
			}
		}
		if which == 1 && to == k+2 && to < len(t.Words) && t.Len(k+1) == 1 && t.Words[to].Has(words.Lost) && t.Len(to) < 3 && t.Words[to].From <= t.Words[to-1].To+1 {
			to++ // "46 Y'[.]S"
		}
		if which == 0 && (label || last > 0) {
			which, to = c.spanMisread(k, last)
		}
		if label && last == 1 && which == 0 && c.monthsWorn(k) {
			which, to = 2, k+2
		}
		if which == 0 || c.letterOfLine(k, to) {
			break
		}
		switch which {
		case 1:
			if n > 120 {
				return
			}
			a.Years, a.Known = n, true
		case 2:
			a.Months, a.HasMonths, a.Known = n, true, true
		case 3:
			a.Days, a.HasDays, a.Known = n*7, true, true
		case 4:
			a.Days, a.HasDays, a.Known = a.Days+n, true, true
		}
		last = which
		score += c.w.AgeSpan
		if t.Len(to-1) > 1 {
			score += c.w.AgeWord
		}
		k = to
		if k < len(t.Words) && t.Key(k) == "AND" && k+1 < len(t.Words) && t.Words[k+1].Has(words.Digits) {
			k++
		}
	}
	if last == 0 && label && k < len(t.Words) && t.Words[k].Num > 0 && t.Words[k].Num <= 120 && !t.Words[k].Has(words.Ordinal) {
		a.Years, a.Known = t.Words[k].Num, true
		score += c.w.AgeNumber
		k++
	}
	if label && last == 0 && k+1 < len(t.Words) && c.figureLost(k) && c.endsAge(c.spots[k+1].spans[1]) {
		k = c.spots[k+1].spans[1] // "AE. 4[.] Y'RS": how many is not told
		score += c.w.AgeSpan
	} else if label && last == 0 && k < len(t.Words) && c.figureLost(k) && t.Words[k].Has(words.LastInLine) {
		k++ // "AE. 7[.]"
		score += c.w.AgeNumber
	} else if !a.Known {
		return
	}
	if !label && last == 2 && k < len(t.Words) && t.Words[k].Num > 0 && t.Words[k].Num < 32 && t.Words[k].Line == t.Words[from].Line {
		return // "12 MO. 3": a day of Friends, whose year is not told
	}
	if !label && k == from+2 && t.Len(k-1) == 1 && !t.Words[k-1].Has(words.LastInLine) && !t.Words[k].Has(words.Digits) {
		return // "9 M I[.]F"
	}
	if t.Key(k-1) == "AND" {
		k--
	}
	if label {
		score += c.w.AgeLabel
	} else {
		score += c.w.AgeBare
	}
	if t.Words[from].Has(words.FirstInLine) {
		score += c.w.AgeHeadsLine
	}
	if lost || c.yearsLost(from) || label && c.tensLost(i) {
		a = date.Age{}
	}
	a.Written = t.Span(from, k)
	c.add(item{from: from, to: k, kind: kAge, score: score, ref: c.addAge(a)})
}

// spanMisread reads the span behind the number at word k, and the word after it, of which a letter is lost or another, in an age whose last span is given: "34 V. 8 M. 12 D.", "46 Y'[.]S", "8 M'B 19 D'S", "5 M'S 14 [.]'S".
func (c *chart) spanMisread(k, last int) (which, to int) {
	t := c.text
	i := k + 1
	if i >= len(t.Words) || t.Words[i].Flags&(words.FirstInLine|words.Digits|words.Note) != 0 || t.Words[k].Has(words.Ordinal) {
		return 0, 0
	}
	key := t.Key(i)
	to = i + 1
	if to < len(t.Words) && t.Len(i) == 1 && t.Len(to) < 3 && t.Words[to].From <= t.Words[i].To+1 && t.Words[to].Flags&words.Digits == 0 && strings.IndexByte(t.Span(i, to+1), '\'') > 0 { // "[.]'S", "Y'[.]S"
		key = t.Join(i, to+1)
		i, to = to, to+1
	}
	goes := to < len(t.Words) && t.Words[to].Num >= 0 && t.Words[to].Num < 32 && !t.Words[to].Has(words.FirstInLine) // another number follows
	switch {
	case last == 0:
		for _, form := range [...]string{"YRS", "YEARS"} {
			if wrong := name.Misread(key, form, 0); wrong >= 0 && wrong < 2 && key[0] == 'Y' {
				return 1, to
			}
		}
		if key == "V" && goes && to+1 < len(t.Words) && c.spots[to+1].spans[spanOrder("months")] > 0 {
			return 1, to
		}
	case len(key) == 2 && (t.Words[i].Has(words.Lost) || t.Words[k+1].Has(words.Lost) || strings.IndexByte(t.Span(k+1, to), '\'') > 0) && t.Words[k].Num < 32:
		switch {
		case key[0] == 'M' && last < 2 && goes, key[1] == 'S' && last < 2 && goes && t.Words[k].Num < 12:
			return 2, to
		case key[0] == 'D', key[1] == 'S' && !goes:
			return 4, to
		}
	}
	return 0, 0
}

// monthsWorn reports whether the word behind the number at word k, behind an age's years, is what is left of MOS. before its days, or at the worn edge: "56 YRS. 5 [.]O 8 DS.", "62 YRS. 2 MO[---]".
func (c *chart) monthsWorn(k int) bool {
	t := c.text
	if k+1 < len(t.Words) && t.Words[k].Num < 12 && t.Words[k+1].Flags&(words.Lost|words.LastInLine|words.FirstInLine|words.Digits) == words.Lost|words.LastInLine {
		if key := t.Key(k + 1); key[0] == 'M' && strings.HasPrefix("MONTHS", strings.TrimRight(key, "?*")) {
			return true
		}
	}
	if k+3 >= len(t.Words) || t.Words[k].Num > 11 || t.Words[k+1].Flags&(words.Lost|words.FirstInLine|words.Digits) != words.Lost || t.Len(k+1) > 4 || t.Words[k+2].Flags&(words.Digits|words.FirstInLine) != words.Digits {
		return false
	}
	return c.spots[k+3].spans[4] > 0 && wornAs(t.Key(k+1), "MOS") || c.spots[k+3].spans[4] > 0 && wornAs(t.Key(k+1), "MO")
}

// figureLost reports whether word i is a number of which a figure is lost.
func (c *chart) figureLost(i int) bool {
	return c.text.Words[i].Has(words.Digits|words.Lost) && c.text.Len(i) < 4
}

// tensLost reports whether the number at word i stands right behind a gap, which may have its first figures: "AGE[---]8 YRS. 4 MOS."
func (c *chart) tensLost(i int) bool {
	t := c.text
	return i > 0 && i < len(t.Words) && t.Words[i-1].Has(words.Lost) && t.Words[i-1].To == t.Words[i].From
}

// likeFigure is the figure that a letter right behind a number was cut or read for.
func (c *chart) likeFigure(i int) (figure int, ok bool) {
	t := c.text
	if i >= len(t.Words) || !t.Words[i].Has(words.Glued) || t.Len(i) != 1 {
		return 0, false
	}
	switch t.Key(i)[0] {
	case 'I', 'L':
		return 1, true
	case 'O':
		return 0, true
	}
	return 0, false
}

// endsAge reports whether an age can end before word i, 0 for none: no number goes on with it.
func (c *chart) endsAge(i int) bool {
	return i > 0 && (i == len(c.text.Words) || !c.text.Words[i].Has(words.Digits))
}

// letterOfLine reports whether the one letter of a span, right behind the number at word i, belongs to the words behind it instead: of a line that begins with the number and goes on in words,
// "AGED 62 YEARS / 8 W. VA. INF.", "33 M INF". Of an age that goes on the next is a number.
func (c *chart) letterOfLine(i, to int) bool {
	t := c.text
	if to != i+2 || t.Len(i+1) > 1 || to >= len(t.Words) || !t.Words[i].Has(words.FirstInLine) || t.Words[i+1].Has(words.LastInLine) {
		return false
	}
	return !t.Words[to].Has(words.Digits) && c.infos[to].starts&sAnd == 0 && c.units[to] != unit.Word{}
}

// yearsLost reports whether the years of an age stood before word i and are lost: "AGED [.]7 Y. 3 M. 18 D.", "AGED [---]. 4 M. 27 D.". Months and days alone would make a child of him.
func (c *chart) yearsLost(i int) bool {
	t := c.text
	if i == 0 || t.Words[i].Has(words.FirstInLine) {
		return false
	}
	j := i - 1
	if j > 0 && !t.Words[j].Has(words.FirstInLine) && !t.Words[j].Has(words.Lost) && c.spots[j].spans[1] == i {
		j--
	}
	return t.Words[j].Has(words.Lost)
}

// yearOfAge adds "IN THE 67TH YEAR OF HIS AGE": 66 years are past.
func (c *chart) yearOfAge(i int) {
	t := c.text
	if key := t.Key(i); !t.Words[i].Has(words.Ordinal) && key != "IN" && key != "THE" {
		return
	}
	if i > 0 && (t.Key(i-1) == "THE" || t.Key(i-1) == "IN") {
		return // begun before
	}
	k := i
	for k < len(t.Words) && (t.Key(k) == "IN" || t.Key(k) == "THE" || t.Key(k) == "YE") {
		k++
	}
	if k+4 >= len(t.Words) || !t.Words[k].Has(words.Ordinal) || t.Words[k].Num < 1 {
		return
	}
	if t.Key(k+1) == "YEAR" && t.Key(k+2) == "OF" && (t.Key(k+3) == "HIS" || t.Key(k+3) == "HER") && t.Key(k+4) == "AGE" {
		a := date.Age{Years: t.Words[k].Num - 1, Known: true, Written: t.Span(i, k+5)}
		c.add(item{from: i, to: k + 5, kind: kAge, score: c.w.YearOfAge, ref: c.addAge(a)})
	}
}

// spanOrder is the place of a span of time in an age, years first; hours come last and count for nothing.
func spanOrder(code string) int {
	switch code {
	case "years":
		return 1
	case "months":
		return 2
	case "weeks":
		return 3
	case "days":
		return 4
	}
	return 5
}
