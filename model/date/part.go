package date

import (
	"errors"
	"fmt"
	"time"
)

// part is one date of a phrase as far as its own words go: "Aug. 9" in "Aug. 9 or 10, 1864".
type part struct {
	yearLo, yearHi int // both 0 where no year is given
	month, day     int
	season         int
	// bare is a small number that may be a day or the end of a year: the "63" of "1862 or 63".
	bare       int
	bareDigits int
	quoted     bool // "'63": a year, to be sure
	// from and to are set in place of the rest where all was given in figures: "8/9/1864".
	from, to  Day
	uncertain bool
	unknown   bool // figures that stand for "not known": "99/99/9999"
}

func (p part) hasYear() bool { return p.yearHi != 0 }

func (p part) empty() bool { return p == part{uncertain: p.uncertain} }

// span is the first and the last day of the part.
func (p part) span() (from, to Day, err error) {
	switch {
	case !p.from.IsZero():
		return p.from, p.to, nil
	case !p.hasYear() && p.bareDigits != 0:
		return from, to, fmt.Errorf("%d alone may be a day or a year: %w", p.bare, ErrCentury)
	case !p.hasYear():
		return from, to, ErrNoYear
	case p.season != 0:
		from, _ = season(p.season, p.yearLo)
		_, to = season(p.season, p.yearHi)
		return from, to, nil
	case p.month == 0 && p.day != 0:
		return from, to, fmt.Errorf("a day (%d) without a month", p.day)
	case p.month == 0:
		return Day{p.yearLo, 1, 1}, Day{p.yearHi, 12, 31}, nil
	case p.day == 0:
		return Day{p.yearLo, p.month, 1}, Day{p.yearHi, p.month, daysIn(p.yearHi, p.month)}, nil
	}
	from, to = Day{p.yearLo, p.month, p.day}, Day{p.yearHi, p.month, p.day}
	if !from.Valid() && p.yearLo == p.yearHi {
		return from, to, impossible(from)
	}
	for !from.Valid() && from.Year < to.Year {
		from.Year++
	}
	for !to.Valid() && to.Year > from.Year {
		to.Year--
	}
	if !from.Valid() || !to.Valid() {
		return from, to, impossible(from)
	}
	return from, to, nil
}

// resolved takes a bare number that can be no day for a year near the one given; near 0 leaves it.
func (p part) resolved(near int) (part, error) {
	if near == 0 || p.bareDigits != 2 || p.bare <= 31 && !p.quoted || p.hasYear() {
		return p, nil
	}
	y, err := yearOf(token{text: fmt.Sprintf("%02d", p.bare), num: p.bare}, near)
	p.yearLo, p.yearHi, p.bare, p.bareDigits, p.quoted = y, y, 0, 0, false
	return p, err
}

// completed gives a the words that only b says, and b those that only a says: the month and the year of "Aug. 9 or 10, 1864".
func completed(a, b part) (part, part, error) {
	if b.bareDigits != 0 && !b.hasYear() {
		switch {
		case a.hasYear() && a.yearLo == a.yearHi && (a.day == 0 || b.bare > 31 || b.quoted):
			scale := 10
			if b.bareDigits == 2 {
				scale = 100
			}
			y := a.yearLo/scale*scale + b.bare
			if y <= a.yearLo && scale == 100 && y+scale <= a.yearLo+10 { // "1899 or 00"
				y += scale
			}
			if y <= a.yearLo {
				return a, b, fmt.Errorf("%d does not follow %d as a year: write both years out", b.bare, a.yearLo)
			}
			b.yearLo, b.yearHi, b.bare, b.bareDigits, b.quoted = y, y, 0, 0, false
			if b.month == 0 {
				b.month, b.day = a.month, a.day
			}
			if b.season == 0 {
				b.season = a.season
			}
			return a, b, nil
		case a.day != 0 && !b.quoted:
			b.day, b.bare, b.bareDigits = b.bare, 0, 0
		}
	}
	if a.bareDigits != 0 && b.day != 0 && !a.quoted {
		a.day, a.bare, a.bareDigits = a.bare, 0, 0
	}
	if a.season == 24 && b == (part{yearLo: a.yearLo + 1, yearHi: a.yearLo + 1}) {
		b.season = 24
	}
	if !a.hasYear() && a.from.IsZero() {
		a.yearLo, a.yearHi = b.yearLo, b.yearHi
		if !b.from.IsZero() && b.from.Year == b.to.Year {
			a.yearLo, a.yearHi = b.from.Year, b.from.Year
		}
	}
	if !b.hasYear() && b.from.IsZero() {
		b.yearLo, b.yearHi = a.yearLo, a.yearHi
	}
	if a.day != 0 && a.month == 0 {
		a.month = b.month
	}
	if b.day != 0 && b.month == 0 {
		b.month = a.month
	}
	return a, b, nil
}

// figures reads three numbers parted by one kind of mark: US order, or the year first.
func figures(a, b, c token, mark rune, near int) (part, error) {
	var y token
	var m, d int
	var p part
	switch {
	case len(a.text) == 4:
		y, m, d = a, b.num, c.num
	case len(c.text) == 4 || len(c.text) == 2 && len(a.text) <= 2 || c.apostrophe:
		y, m, d = c, a.num, b.num
	default:
		return p, errors.New("want month, day and year, as in 8/9/1864, or 1864-08-09")
	}
	if len(y.text) == 4 && (y.num == 0 || y.num == 9999) {
		p.unknown = true
		return p, nil
	}
	year, err := yearOf(y, near)
	if err != nil {
		return p, err
	}
	if m == 99 {
		m = 0
	}
	if d == 99 {
		d = 0
	}
	if year == 1900 && m <= 1 && d == 0 {
		return p, errors.New("this is how spreadsheets print the number 0: write the day, or leave the cell empty")
	}
	if len(a.text) != 4 && m > 12 && d >= 1 && d <= 12 {
		// Not the order of the country, but there is only one way to read it.
		m, d = d, m
		p.uncertain = true
	} else if mark == '.' && len(a.text) != 4 && m != d && m >= 1 && d >= 1 && d <= 12 && m <= 12 {
		// Full stops are how Germans write the day first.
		from, to := Day{year, m, d}, Day{year, d, m}
		if to.Before(from) {
			from, to = to, from
		}
		return part{from: from, to: to, uncertain: true}, nil
	}
	if m > 12 {
		return p, fmt.Errorf("month %d: want 1 to 12", m)
	}
	if d > 31 {
		return p, fmt.Errorf("day %d: want 1 to 31", d)
	}
	if m == 0 && d != 0 {
		return p, fmt.Errorf("a day (%d) without a month", d)
	}
	p.yearLo, p.yearHi, p.month, p.day = year, year, m, d
	return p, nil
}

// yearOf is the year of a token of two or four digits.
func yearOf(t token, near int) (int, error) {
	switch len(t.text) {
	case 4:
		if t.num < 1000 || t.num > 2999 {
			return 0, fmt.Errorf("year %s is out of reach (1000 to 2999)", t.text)
		}
		return t.num, nil
	case 2:
		if near == 0 {
			return 0, fmt.Errorf("year '%s: %w", t.text, ErrCentury)
		}
		y := near - ((near-t.num)%100+100)%100 // at or before near
		if near-y > y+100-near {
			y += 100
		}
		return y, nil
	}
	return 0, fmt.Errorf("year %q: want four digits", t.text)
}

// interpret makes a part of what stood together: month and season words and numbers, in any order.
func interpret(comps []token, near int) (part, error) {
	var p part
	var small []token
	setYear := func(lo, hi int) error {
		if p.hasYear() {
			return fmt.Errorf("two years, %d and %d", p.yearLo, lo)
		}
		p.yearLo, p.yearHi = lo, hi
		return nil
	}
	for _, c := range comps {
		var err error
		switch {
		case c.kind == 'w' && month(c.text) != 0:
			if p.month != 0 {
				return p, fmt.Errorf("two months, %s and %s", time.Month(p.month), time.Month(month(c.text)))
			}
			p.month = month(c.text)
		case c.kind == 'w':
			p.season = seasonCode(c.text)
		case c.kind == 'X': // "186-": num is the first year, text tells the span
			span := 9
			if c.text == "XX" {
				span = 99
			}
			err = setYear(c.num, c.num+span)
		case len(c.text) <= 2 && (!c.apostrophe || len(comps) == 1):
			small = append(small, c)
		default:
			var y int
			if y, err = yearOf(c, near); err == nil {
				err = setYear(y, y)
			}
		}
		if err != nil {
			return p, err
		}
	}
	if p.season != 0 && p.month != 0 {
		return p, errors.New("a season and a month")
	}
	// A small number that no day can be, or the second of two, is a year of two digits.
	if !p.hasYear() {
		for i, c := range small {
			if (c.num > 31 || i == 1 && small[0].num <= 31) && len(c.text) == 2 && !c.ordinal && (p.month != 0 || p.season != 0 || len(small) == 2) {
				y, err := yearOf(c, near)
				if err != nil {
					return p, err
				}
				p.yearLo, p.yearHi = y, y
				small = append(small[:i:i], small[i+1:]...)
				break
			}
		}
	}
	switch {
	case len(small) == 0:
		return p, nil
	case len(small) > 1:
		return p, fmt.Errorf("too many numbers: %s and %s", small[0].text, small[1].text)
	case p.season != 0:
		y, err := yearOf(small[0], near)
		p.yearLo, p.yearHi = y, y
		return p, err
	case p.month == 0 && !p.hasYear() && !small[0].ordinal:
		p.bare, p.bareDigits, p.quoted = small[0].num, len(small[0].text), small[0].apostrophe
		return p, nil
	case small[0].num == 0 || small[0].num == 99 && p.month != 0:
		return p, nil // the day is not known
	case small[0].num > 31:
		return p, fmt.Errorf("day %d: want 1 to 31", small[0].num)
	}
	p.day = small[0].num
	return p, nil
}
