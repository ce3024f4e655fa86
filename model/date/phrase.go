package date

import (
	"errors"
	"fmt"
)

// phrase reads tokens into a date.
type phrase struct {
	toks []token
	i    int
	near int

	approximate, uncertain bool
	side                   sense // what the words say of the way in which the date bounds
}

func (p *phrase) at(k int) token {
	if p.i+k < len(p.toks) {
		return p.toks[p.i+k]
	}
	return token{}
}

// sense is what the token here says as a word.
func (p *phrase) sense() sense {
	if t := p.at(0); t.kind == 'w' {
		return senseOf(t.text)
	}
	return noSense
}

// aside takes a token that stands beside a date, before or behind it: a stop, a word that tells nothing, or what makes the date doubtful.
func (p *phrase) aside() bool {
	switch t, s := p.at(0), p.sense(); {
	case t.kind == '.' || t.kind == ',' || s == filler:
	case t.kind == '~' || s == approximately:
		p.approximate = true
	case t.kind == '?' || s == uncertainly:
		p.uncertain = true
	case t.kind == '%':
		p.approximate, p.uncertain = true, true
	default:
		return false
	}
	p.i++
	return true
}

// leading takes what stands before a date.
func (p *phrase) leading() {
	for p.i < len(p.toks) {
		if p.aside() {
			continue
		}
		t := p.at(0)
		switch s := p.sense(); {
		case s == before || s == after || s == notAfter || s == notBefore || s == inBetween:
			p.side = s
		case t.text == "to" && p.side == before: // "prior to"
		case t.text == "until" || t.text == "till":
			p.side = notAfter
		case t.text == "or" && senseOf(p.at(1).text) == before: // "on or before"
			p.side = notAfter
			p.i++
		case t.text == "or" && senseOf(p.at(1).text) == after: // "in or after"
			p.side = notBefore
			p.i++
		default:
			return
		}
		p.i++
	}
}

func (p *phrase) read() (Date, error) {
	p.leading()
	a, err := p.part()
	if err != nil {
		return Date{}, err
	}
	if a.unknown && p.i == len(p.toks) {
		return Date{}, nil
	}
	var b part
	two := false
	for p.i < len(p.toks) {
		if p.aside() {
			continue
		}
		t := p.at(0)
		switch {
		case t.text == "or" && !two && (p.at(1).text == "before" || p.at(1).text == "earlier"):
			p.side = notAfter
			p.i += 2
		case t.text == "or" && !two && (p.at(1).text == "after" || p.at(1).text == "later"):
			p.side = notBefore
			p.i += 2
		case !two && (t.kind == '-' || t.kind == '/' || t.kind == '&' || p.sense() == and):
			p.i++
			was := p.side
			p.side = noSense
			p.leading()
			if p.side != noSense {
				return Date{}, fmt.Errorf("%q after another date", t.text)
			}
			p.side = was
			if b, err = p.part(); err != nil {
				return Date{}, err
			}
			if b.empty() {
				return Date{}, fmt.Errorf("nothing that is a date follows %q", t.text)
			}
			two = true
		default:
			return Date{}, fmt.Errorf("cannot place %q", t.text)
		}
	}
	if a.empty() {
		return Date{}, errors.New("there is no date in it (want a form such as Aug. 9, 1864, or 1864-08-09)")
	}
	if p.side == inBetween && !two {
		return Date{}, errors.New("\"between\" wants two dates")
	}
	p.uncertain = p.uncertain || a.uncertain || b.uncertain
	if a, err = a.resolved(p.near); err != nil {
		return Date{}, err
	}
	if two {
		return p.both(a, b)
	}
	return p.one(a)
}

// one is the date of a single part.
func (p *phrase) one(a part) (Date, error) {
	from, to, err := a.span()
	if err != nil {
		return Date{}, err
	}
	if a.season != 0 && a.yearLo == a.yearHi && p.side == noSense {
		return Date{
			EDTF: fmt.Sprintf("%s-%d%s", yearText(a.yearLo), a.season, mark(p.approximate, p.uncertain)), From: from, To: to,
			Approximate: p.approximate, Uncertain: p.uncertain,
		}, nil
	}
	if p.side == notBefore {
		to = Day{}
	}
	return p.bounded(from, to), nil
}

// both is the date from the first part to the second.
func (p *phrase) both(a, b part) (Date, error) {
	a, b, err := completed(a, b)
	if err != nil {
		return Date{}, err
	}
	if b, err = b.resolved(p.near); err != nil {
		return Date{}, err
	}
	from, end, err := a.span()
	if err != nil {
		return Date{}, err
	}
	start, to, err := b.span()
	if err != nil {
		return Date{}, err
	}
	if start.Before(from) || to.Before(end) {
		return Date{}, fmt.Errorf("it ends (%s) before it begins (%s)", to, from)
	}
	if a.season == 24 && b.season == 24 && b.yearLo == a.yearLo+1 { // the winter of 1862-63
		from, to = Day{a.yearLo, 12, 1}, Day{b.yearLo, 3, 20}
	}
	return p.bounded(from, to), nil
}

// bounded is the date on the side of the days that the words say.
func (p *phrase) bounded(from, to Day) Date {
	switch p.side {
	case before:
		from, to = Day{}, from.AddDays(-1)
	case notAfter:
		from = Day{}
	case after:
		from, to = to.AddDays(1), Day{}
	}
	return between(from, to, p.approximate, p.uncertain)
}

// part reads the tokens of one date, up to a word or a mark that begins another.
func (p *phrase) part() (part, error) {
	var comps []token
	sawMonth, sawYear := false, false
	for p.i < len(p.toks) {
		t := p.at(0)
		switch {
		case t.kind == 'n':
			if t.num < 0 || len(t.text) == 3 && !p.unspecified() || len(t.text) > 4 && len(t.text) != 8 {
				return part{}, fmt.Errorf("number %s is neither a day nor a year (years want four digits)", t.text)
			}
			if len(comps) == 0 {
				if q, n, err := p.group(); n > 0 || err != nil {
					p.i += n
					return q, err
				}
			}
			if n := p.dashed(); n > 0 { // "9-Aug-1864"
				comps = append(comps, p.toks[p.i], p.toks[p.i+2], p.toks[p.i+4])
				sawMonth, sawYear = true, true
				p.i += n
				continue
			}
			if p.unspecified() {
				x := token{kind: 'X', text: "X", num: t.num * 10}
				if len(t.text) == 2 {
					x = token{kind: 'X', text: "XX", num: t.num * 100}
				}
				if p.at(1).kind == '?' {
					p.uncertain = true
				}
				comps = append(comps, x)
				sawYear = true
				p.i += 2
				continue
			}
			if len(t.text) == 4 && p.at(1).kind == 'w' && p.at(1).text == "s" && p.at(1).tight ||
				len(t.text) == 4 && p.at(1).kind == '\'' && p.at(2).text == "s" { // "1860s", "1860's"
				x := token{kind: 'X', text: "X", num: t.num / 10 * 10}
				if t.num%100 == 0 {
					x.text = "XX"
				} else if t.num%10 != 0 {
					return part{}, fmt.Errorf("%ss is no decade", t.text)
				}
				comps = append(comps, x)
				sawYear = true
				p.i += 2
				if p.at(0).text == "s" {
					p.i++
				}
				continue
			}
			if len(t.text) == 8 {
				return part{}, errors.New("eight digits that are no date")
			}
			sawYear = sawYear || len(t.text) == 4 || t.apostrophe
			comps = append(comps, t)
			p.i++
		case t.kind == 'w' && (month(t.text) != 0 || seasonCode(t.text) != 0):
			if n := p.dashed(); n > 0 { // "Aug-9-1864"
				comps = append(comps, p.toks[p.i], p.toks[p.i+2], p.toks[p.i+4])
				sawMonth, sawYear = true, true
				p.i += n
				continue
			}
			sawMonth = true
			comps = append(comps, t)
			p.i++
		case t.kind == '.' || t.kind == ',' || t.kind == 'w' && senseOf(t.text) == filler:
			p.i++
		case t.kind == '?' && sawMonth && !sawYear && p.at(1).kind != 0: // "Aug. ?, 1864"
			p.i++
		case t.kind == '-' && !p.joins(comps, sawMonth, sawYear):
			if p.i+1 == len(p.toks) && sawYear {
				return part{}, errors.New("nothing follows the dash")
			}
			p.i++
		default:
			return interpret(comps, p.near)
		}
	}
	return interpret(comps, p.near)
}

// unspecified reports whether the number is a year that lacks digits: "186-", "18--", "186?".
func (p *phrase) unspecified() bool {
	t, m := p.at(0), p.at(1)
	if t.kind != 'n' || t.apostrophe || !m.tight || m.kind != '-' && m.kind != '?' && m.kind != '*' {
		return false
	}
	if next := p.at(2); next.kind == 'n' && next.tight || next.kind == 'w' && next.tight {
		return false
	}
	switch len(t.text) {
	case 3:
		return t.num >= 100 && t.num < 300
	case 2:
		return m.kind == '-' && t.num >= 15 && t.num <= 20 && (len(m.text) > 1 || p.i+2 >= len(p.toks)) && p.i == p.first()
	}
	return false
}

// first is the place of the first number.
func (p *phrase) first() int {
	for i, t := range p.toks {
		if t.kind == 'n' {
			return i
		}
	}
	return -1
}

// dashed reports how many tokens a day, a month's name and a year take that dashes join: five, or none.
func (p *phrase) dashed() int {
	a, b, c := p.at(0), p.at(2), p.at(4)
	if p.at(1).kind != '-' || p.at(3).kind != '-' || !b.tight || !c.tight || c.kind != 'n' {
		return 0
	}
	if a.kind == 'n' && b.kind == 'w' && month(b.text) != 0 || a.kind == 'w' && month(a.text) != 0 && b.kind == 'n' {
		return 5
	}
	return 0
}

// joins reports whether the dash joins two dates, rather than standing for a day or parting a month from its year.
func (p *phrase) joins(comps []token, sawMonth, sawYear bool) bool {
	next := p.at(1)
	switch {
	case next.kind == 0:
		return false
	case len(comps) == 0:
		return false
	case sawMonth && !sawYear && comps[len(comps)-1].kind == 'w':
		// "May -, 1864", "Aug-1864", against "May - June 1864".
		return next.kind == 'w' && month(next.text) != 0
	case next.kind == ',' || next.kind == '.':
		return false
	case comps[len(comps)-1].kind == 'n' && !sawMonth && !sawYear && next.kind == 'w' && next.tight && month(next.text) != 0:
		return false // "9-Aug 1864"
	}
	return true
}

// group reads figures parted by marks, "8/9/1864", "02/1835", "18640809", and says how many tokens they took. A pair of years is left
// to be read as two dates.
func (p *phrase) group() (part, int, error) {
	t := p.at(0)
	if len(t.text) == 8 {
		y, m, d := t.num/10000, t.num/100%100, t.num%100
		if y < 1300 { // month, day, year
			m, d, y = t.num/1000000, t.num/10000%100, t.num%10000
		}
		day := Day{y, m, d}
		if m < 1 || m > 12 || d < 1 || d > 31 || y < 1300 || y > 2999 {
			return part{}, 0, fmt.Errorf("eight digits %s are no date", t.text)
		}
		if !day.Valid() {
			return part{}, 0, impossible(day)
		}
		return part{from: day, to: day}, 1, nil
	}
	sep, second := p.at(1), p.at(2)
	if sep.kind != '/' && sep.kind != '-' && sep.kind != '.' || len(sep.text) > 1 || second.kind != 'n' || sep.kind == '.' && !second.tight || second.num < 0 {
		return part{}, 0, nil
	}
	if third := p.at(4); p.at(3).kind == sep.kind && third.kind == 'n' && (sep.kind != '.' || third.tight) {
		q, err := figures(t, second, third, sep.kind, p.near)
		return q, 5, err
	}
	switch {
	case len(t.text) <= 2 && len(second.text) == 4 && !t.apostrophe && t.num <= 12:
		// "02/1835". With a month's name about, a number before a dash is a day.
		if sep.kind == '-' && !second.tight {
			return part{}, 0, nil
		}
		y, err := yearOf(second, p.near)
		return part{yearLo: y, yearHi: y, month: t.num}, 3, err
	case len(t.text) == 4 && len(second.text) <= 2 && second.num <= 12 && second.num >= 1 && second.num <= t.num%pow10(len(second.text)):
		y, err := yearOf(t, p.near)
		return part{yearLo: y, yearHi: y, month: second.num}, 3, err
	case len(t.text) <= 2 && len(second.text) <= 2 && sep.kind == '/':
		return part{}, 0, ErrNoYear
	}
	return part{}, 0, nil
}

func pow10(n int) int {
	if n == 1 {
		return 10
	}
	return 100
}
