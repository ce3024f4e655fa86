package weigh

import (
	"strings"

	"musterstone/model"
	"musterstone/vocab/name"
)

// secondView is a stone's middle name as far as it is compared: its first letter.
//
// That a man has a middle name at all is his, as his name is: of men of one name, the one of whom stone and roster give a middle name is likelier the stone's than one of whom the roster gives none. How many of its men
// a roster gives one for differs from book to book, so that what it is worth is counted by file. (In print, of the men of six regiments who lie at Andersonville and whose rosters say so, 9 of the 9 whose
// grave has a middle initial in the list of 1881 have one in the roster, and 4 of the 10 others; the six rosters give one for 33 to 70 in a hundred.)
//
// It is, for a record's middle name, the place of the line among those of a file.
type secondView [middleCodes]uint8

// middleCode is what of a record's middle name is compared: the number of its letter, 0 for none, and what else there is to know of it.
type middleCode = uint8

const (
	letterRoom = 32 // above the numbers of letters

	middleGiven   middleCode = 32  // there is anything of it
	noGiven       middleCode = 64  // the record gives no given name
	middleSwapped middleCode = 128 // the stone's middle name is the record's given one
	middleDealt   middleCode = 255 // it has been weighed already
	middleCodes              = 256
)

func (m *middleName) code() (code middleCode) {
	if m.letter != 0 {
		code = letterNumber(m.letter)
	}
	if m.given {
		code |= middleGiven
	}
	return code
}

// secondKey are the middle names of stones that records' agree with alike.
type secondKey struct {
	letter uint8 // its number, from 1 on; 0 for none
	none   bool  // the stone gives a name and no middle name
	named  bool
}

// secondView makes that of a stone's middle name, once a key.
func (w *Weigher) secondView(n *model.Name) *secondView {
	var k secondKey
	k.named = n.Given != ""
	k.none = k.named && n.Middle == "" && !strings.Contains(name.Fold(n.Given), "*") // a gap may hide one
	if i := initials(n.Middle); i != "" {
		k.letter = letterNumber(i[0])
	}
	if v, ok := w.secondViews.Load(k); ok {
		return v.(*secondView)
	}
	v := new(secondView)
	for code := range v {
		v[code] = k.line(middleCode(code))
	}
	w.secondViews.Store(k, v)
	return v
}

// letters is above the numbers of letters: 0 stands for none, the last one for any that is none of the alphabet's.
const letters = 28

func letterNumber(b byte) uint8 {
	if b >= 'a' && b <= 'z' {
		return b - 'a' + 1
	}
	return letters - 1
}

// secondLines are what middle names are worth in one file; in the first place there is no line.
type secondLines [secondRoom]line

// The places of secondLines: of letters, add their number.
const (
	secondSame       = 0
	secondDifferent  = secondSame + letters - 1
	secondStoneOnly  = secondDifferent + letters
	secondRecordOnly = secondStoneOnly + 1
	secondNeither    = secondStoneOnly + 2
	secondRoom       = 64
)

// fewSeconds is the share of men with a middle name below which a roster is taken to give none as a rule: that one is not there says nothing then. House judgement.
const fewSeconds = 0.02

// countSeconds makes the lines of all files, under "" those of one that was not counted.
func countSeconds(c *Counts) map[string]*secondLines {
	m := map[string]*secondLines{"": newSecondLines(c, 0)}
	for _, file := range c.named.values {
		second, named := float64(c.second.n[file]), float64(c.named.n[file])
		if second < fewSeconds*named {
			m[file] = m[""]
			continue
		}
		m[file] = newSecondLines(c, chance("middle", "any", 0, second, named))
	}
	return m
}

// newSecondLines makes the lines of a file that gives a middle name for such a share of its men, 0 where it gives none as a rule.
func newSecondLines(c *Counts, share float64) *secondLines {
	l := &secondLines{}
	same, different := start("middle", "same").m, start("middle", "different").m
	if share == 0 {
		same, different, share = same/(same+different), different/(same+different), 1
	} else {
		l[secondStoneOnly] = lineOf("middle", "stone only", start("middle", "stone only").m, 1-share)
		l[secondRecordOnly] = lineOf("middle", "record only", start("middle", "record only").m, share)
		l[secondNeither] = lineOf("middle", "neither", start("middle", "neither").m, 1-share)
	}
	var men [letters]int
	for _, v := range c.middles.values {
		men[letterNumber(v[0])] += c.middles.n[v]
	}
	for k := 1; k < letters; k++ {
		u := chance("middle", "same", 0, float64(men[k]), float64(c.middle))
		l[secondSame+k] = lineOf("middle", "same", same, share*u)
		l[secondDifferent+k] = lineOf("middle", "different", different, share*(1-u))
	}
	return l
}

// secondsOf are the lines of a file.
func (w *Weigher) secondsOf(file string) *secondLines {
	m := w.seconds()
	if l, ok := m[file]; ok {
		return l
	}
	return m[""]
}

// line is the place of the line of a record's middle name.
func (k *secondKey) line(code middleCode) uint8 {
	letter, given := code%letterRoom, code&middleGiven != 0
	switch {
	case letter >= letters || code&middleSwapped != 0 && !given:
		return 0
	case k.letter > 0 && letter > 0 && letter == k.letter:
		return secondSame + letter
	case k.letter > 0 && letter > 0:
		return secondDifferent + k.letter
	case code&noGiven != 0 || !k.named:
		return 0
	case k.letter > 0 && !given:
		return secondStoneOnly
	case k.none && letter > 0:
		return secondRecordOnly
	case k.none && !given:
		return secondNeither
	}
	return 0
}

// initials are the first letters of the words of a middle name, folded.
func initials(middle string) string {
	var b strings.Builder
	for _, w := range strings.Fields(middle) {
		if f := name.Fold(w); f != "" && f[0] != '?' && f[0] != '*' {
			b.WriteByte(f[0])
		}
	}
	return b.String()
}
