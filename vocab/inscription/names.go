package inscription

import (
	"musterstone/vocab/words"
)

// wordScore is what a word is worth within a name.
type wordScore struct {
	given, surname float32
	known          bool // in a table of names
	givenName      bool // in the table of given names, or an abbreviation or short form of one
	initial        bool
	ok             bool
}

// nameWord scores word i as a part of a name.
func (c *chart) nameWord(i int) wordScore {
	w := &c.text.Words[i]
	if w.Flags&(words.Digits|words.Note) != 0 {
		return wordScore{}
	}
	key := c.text.Key(i)
	n := c.infos[i]
	if n.never {
		return wordScore{}
	}
	if len(key) == 1 {
		if key == "*" {
			return wordScore{given: -0.3, surname: -0.3, ok: true}
		}
		return wordScore{given: 0.7, surname: -2.5, initial: true, ok: true}
	}
	s := wordScore{ok: true, given: -0.4, surname: 0.3}
	known := n.named
	s.known = known
	if n.given != 0 || n.abbreviation || n.diminutive {
		s.givenName = true
		s.given = 0.8
		switch {
		case n.given > -6, n.abbreviation:
			s.given = 1.1
		}
	}
	switch {
	case n.surname != 0:
		s.surname = 0.6 + 0.06*(n.surname+10)
	case n.abbreviation && n.given == 0:
		s.surname = -1.2
	case n.given > -6 && n.given != 0:
		s.surname = 0
	}
	if w.Flags&words.Lost != 0 {
		s.given, s.surname = max(s.given, 0.1), max(s.surname, 0.2)
		if len(key) > 3 {
			s.given = max(s.given, 0.3)
		}
	}
	if len(key) == 2 && !known && key[0] != '?' {
		s.surname -= 0.8
	}
	if n.common {
		if known && n.surname != 0 {
			s.surname -= 0.7
		} else {
			s.surname -= 2
		}
		if n.given == 0 {
			s.given -= 1.8
		} else {
			s.given -= 0.3
		}
	}
	if sense := c.sense[i]; sense != 0 {
		cost := sense
		if known && (n.given != 0 || n.surname != 0) {
			cost = sense * 0.25
		} else if n.abbreviation {
			cost = sense * 0.5
		}
		s.surname -= cost
		s.given -= cost
	}
	return s
}

// maxName is how many words a name may have.
const maxName = 6

// nameItems adds the names that may start at word i.
func (c *chart) nameItems(i int) {
	t := c.text
	if !c.mayBegin(i) {
		return
	}
	var given float32
	breaks := 0
	allGiven, known, initials := true, false, true
	prefix := -1 // first word of a surname's prefix
	first := &t.Words[i]
	for n := 1; n <= maxName && i+n <= len(t.Words); n++ {
		k := i + n - 1
		w := &t.Words[k]
		s := c.nameScore[k]
		if !s.ok {
			break
		}
		if n == 1 && c.infos[k].prefix && !s.known && (k+1 >= len(t.Words) || w.Has(words.LastInLine) || !c.nameScore[k+1].ok) {
			break // "ST.", with no name after it
		}
		if n > 1 && t.Words[k-1].Has(words.LastInLine) {
			breaks++
			if t.Key(k) == "*" && w.Has(words.LastInLine) || breaks > 1 || t.Words[k-1].Has(words.CommaAfter) {
				break
			}
			given -= 1
			if initials {
				given -= 2 // initials do not stand on a line of their own
			}
			if !allGiven {
				given -= 2 // the first line was a whole name
			} else if n > 2 {
				given -= 0.4
			}
		}
		key := t.Key(k)
		known = known || s.known
		it := item{from: i, to: k + 1, kind: kName, name: nameSpan{suffix: -1, surname: int16(k), and: -1, oneWord: n == 1, breaks: breaks > 0}}
		// The name with this word as its surname.
		it.score = given + s.surname
		if prefix >= 0 {
			it.name.surname = int16(prefix)
			it.score += 0.4
		}
		if n > 1 && t.Words[i].Has(words.CommaAfter) {
			switch {
			case s.initial:
				it.score += 2.7
			case n == 2 && c.spots[k].fullState > 0:
				it.score -= 2 // "BLUFF, IOWA"
			}
		}
		switch {
		case n == 1:
			it.score -= 1.2
		case n == 2, n == 3:
			it.score += 1.2
		default:
			it.score += 0.9 - 0.4*float32(n-4)
		}
		if w.Has(words.Hyphenated) && int(it.name.surname) == k && n > 1 {
			it.name.surname = int16(k - 1)
		}
		if first.Has(words.FirstInLine) {
			it.score += 0.4
		}
		it.name.known = known
		it.name.ownLine = first.Has(words.FirstInLine) && w.Has(words.LastInLine)
		if s.initial && n > 1 && !first.Has(words.CommaAfter) {
			it.name.surname = int16(k + 1) // given names and initials only
		}
		c.addName(it, w)
		if allGiven && (s.givenName || s.initial) && !first.Has(words.CommaAfter) && s.given > 0 && c.nameScore[i].givenName {
			g := it
			g.name.givenOnly, g.name.surname = true, int16(k+1)
			g.score = given + s.given - 0.6
			if first.Has(words.FirstInLine) {
				g.score += 0.4
			}
			c.addName(g, w)
			if first.Has(words.FirstInLine) && i > 0 {
				if before := c.namedBefore(i, n); before >= 0 {
					c.add(item{from: i, to: k + 1, kind: kAgain, ref: int32(before), score: g.score + 1.2})
				}
			}
		}
		if c.infos[k].prefix && n > 1 && prefix < 0 && k+1 < len(t.Words) && !w.Has(words.LastInLine) && t.Len(k+1) > 2 {
			prefix = k
			given += 0.1
			allGiven = false
			continue
		}
		if c.infos[k].prefix && n == 1 && len(key) > 1 && !s.givenName {
			prefix = k
			given -= 0.3
			allGiven = false
			continue
		}
		if prefix >= 0 && prefix != k {
			if !c.infos[k].prefix {
				break
			}
			continue
		}
		given += s.given
		if w.Has(words.CommaAfter) {
			if n > 1 {
				break
			}
			if s.known && !s.givenName || !s.givenName {
				given += 0.9 // "HOLDEN, JOHN": the surname first
			} else {
				given -= 0.5
			}
		}
		if !s.givenName && !s.initial {
			allGiven = false
		}
		initials = initials && s.initial
	}
	c.pairItems(i)
}

// namedBefore is the word where the same n given names stood on a line before, in a pair or after it; -1 for nowhere.
func (c *chart) namedBefore(i, n int) int {
	t := c.text
	for j := 0; j+n < i; j++ {
		if !t.Words[j].Has(words.FirstInLine) && (j == 0 || t.Key(j-1) != "AND") || t.Words[j].Line == t.Words[i].Line {
			continue
		}
		same := true
		for k := 0; k < n && same; k++ {
			same = t.Key(j+k) == t.Key(i+k)
		}
		if same && (t.Key(j+n) == "AND" || j > 0 && t.Key(j-1) == "AND") {
			return j
		}
	}
	return -1
}

// addName adds a name, and the same with the suffix that follows it.
func (c *chart) addName(it item, last *words.Word) {
	t := c.text
	plain := it
	if last.Has(words.LastInLine) {
		plain.score += 0.5
	}
	c.add(plain)
	if it.to < len(t.Words) && !(it.name.oneWord && !it.name.givenOnly && !last.Has(words.LastInLine) && !c.nameScore[it.from].known) {
		next := &t.Words[it.to]
		if c.infos[it.to].suffix || next.Has(words.Ordinal) && (next.Num == 2 || next.Num == 3) && next.Has(words.LastInLine) && !last.Has(words.LastInLine) {
			it.name.suffix = int16(it.to)
			it.to++
			it.score += 0.9
			if next.Has(words.LastInLine) {
				it.score += 0.5
				it.name.ownLine = t.Words[it.from].Has(words.FirstInLine)
			}
			c.add(it)
		}
	}
}

// pairItems adds two people of one surname: "A. & B. DOE", "GEO. W. AND SARAH DOE".
func (c *chart) pairItems(i int) {
	t := c.text
	and := -1
	score := float32(0)
	for n := 0; n < 8 && i+n < len(t.Words); n++ {
		k := i + n
		key := t.Key(k)
		if n > 0 && t.Words[k-1].Has(words.LastInLine) && (and < 0 || t.Words[k-1].Line != t.Words[i].Line) {
			score -= 1
			if n > 5 {
				return
			}
		}
		if key == "AND" {
			if and >= 0 || n == 0 {
				return
			}
			and = k
			continue
		}
		s := c.nameScore[k]
		if !s.ok {
			return
		}
		if and >= 0 && s.givenName && t.Words[i].Has(words.FirstInLine) && t.Words[k].Has(words.LastInLine) && t.Words[k].Line == t.Words[i].Line {
			c.add(item{from: i, to: k + 1, kind: kPair, score: score + s.given*0.7 - 0.4, name: nameSpan{suffix: -1, surname: int16(k + 1), and: int16(and), givenOnly: true}})
		}
		if and >= 0 && k > and+1 && !s.initial {
			it := item{from: i, to: k + 1, kind: kPair, score: score + s.surname + 0.6, name: nameSpan{suffix: -1, surname: int16(k), and: int16(and)}}
			if t.Words[k].Has(words.LastInLine) {
				it.score += 0.6
			}
			if t.Words[i].Has(words.FirstInLine) {
				it.score += 0.3
			}
			c.add(it)
		}
		if !s.givenName && !s.initial {
			return
		}
		score += s.given * 0.7
	}
}

// familyItems adds the surname alone on its line that may head a family's stone.
func (c *chart) familyItems(i int) {
	t := c.text
	w := &t.Words[i]
	if !w.Has(words.FirstInLine) {
		return
	}
	k := i // "PEASE", "PEASE FAMILY", "THE PEASE FAMILY"
	if t.Key(i) == "THE" && !w.Has(words.LastInLine) {
		k++
	}
	to := k + 1
	if to < len(t.Words) && t.Key(to) == "FAMILY" && !t.Words[k].Has(words.LastInLine) {
		to++
	} else if k > i {
		return
	}
	if !t.Words[to-1].Has(words.LastInLine) || t.Len(k) < 3 || to >= len(t.Words) {
		return
	}
	s := c.nameScore[k]
	if !s.ok || s.initial {
		return
	}
	it := item{from: i, to: to, kind: kFamily, score: s.surname + 0.2, name: nameSpan{suffix: -1, surname: int16(k), and: -1, ownLine: true, oneWord: true}}
	if to > k+1 {
		it.score += 2
	}
	if s.givenName {
		it.score -= 0.5
	}
	c.add(it)
}

// mayBegin reports whether a name or a place may begin at word i: at the beginning of a line, or after a word that is hardly a name's.
func (c *chart) mayBegin(i int) bool {
	if i == 0 || c.text.Words[i].Has(words.FirstInLine) || c.spots[i].preposition > 0 {
		return true
	}
	return !c.nameScore[i-1].ok || c.sense[i-1] > 0.5 || c.text.Len(i-1) == 1 && !c.nameScore[i].initial && c.sense[i] == 0 && !c.nameScore[max(i-2, 0)].ok || c.text.Words[i-1].Has(words.CommaAfter)
}
