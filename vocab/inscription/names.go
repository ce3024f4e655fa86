package inscription

import (
	"strings"

	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// wordScore is what a word is worth within a name.
type wordScore struct {
	given, surname float32
	known          bool // in a table of names
	common         bool // a word of epitaphs, or one with a sense of its own
	givenName      bool // in the table of given names, or an abbreviation or short form of one
	initial        bool
	ok             bool
}

// nameWord scores word i as a part of a name.
func (c *chart) nameWord(i int) wordScore {
	w := &c.text.Words[i]
	if w.Flags&words.Digits != 0 || w.Flags&words.Note != 0 && !c.lostWithin(i) {
		return wordScore{}
	}
	key := c.text.Key(i)
	n := c.infos[i]
	if n.never && !((n.starts&sCirca != 0 || n.surname != 0) && (w.Has(words.LastInLine) || i+1 < len(c.text.Words) && c.text.Words[i+1].Has(words.Digits) && n.starts&sCirca == 0) && i > 0 && !w.Has(words.FirstInLine) && (c.nameScore[i-1].givenName || c.nameScore[i-1].initial)) && !(i == 0 && n.surname != 0 && w.Has(words.LastInLine) && len(c.text.Words) > 1 && (c.infos[1].given != 0 || c.text.Len(1) == 1)) && !c.belowGiven(i) {
		if n.borne && c.aboveUnit(i) {
			return wordScore{ok: true, given: c.w.UnknownGiven, surname: c.w.UnknownSurname} // "HENRY SOLDIER / CO. F"
		}
		return wordScore{} // but for "HENRY ABT", where no year follows, "HENRY CHURCH", and "HENRY G. / CHURCH / CO. F"
	}
	if len(key) == 1 {
		if key == "*" {
			return wordScore{given: c.w.LostGiven, surname: c.w.LostSurname, ok: true}
		}
		return wordScore{given: c.w.InitialGiven, surname: c.w.InitialSurname, initial: true, ok: true}
	}
	s := wordScore{ok: true, given: c.w.UnknownGiven, surname: c.w.UnknownSurname}
	known := n.named
	s.known, s.common = known, n.common || c.sense[i] > 0
	if n.given != 0 || n.abbreviation || n.diminutive {
		s.givenName = true
		s.given = c.w.KnownGiven
		switch {
		case n.given > -6, n.abbreviation:
			s.given = c.w.CommonGiven
		}
	} else if w.Has(words.Lost) && knownNames().fits(key) {
		s.givenName, s.given = true, c.w.KnownGiven // "J[.]MES"
	}
	switch {
	case n.surname != 0:
		s.surname = c.w.KnownSurname + c.w.SurnameShare*(n.surname+10)
	case n.abbreviation && n.given == 0:
		s.surname = c.w.AbbreviationSurname
	case n.given > -6 && n.given != 0:
		s.surname = c.w.GivenSurname
	}
	if w.Flags&words.Lost != 0 {
		s.given, s.surname = max(s.given, c.w.DamagedGiven), max(s.surname, c.w.DamagedSurname)
		if len(key) > 3 {
			s.given = max(s.given, c.w.DamagedLong)
		}
	}
	if len(key) == 2 && !known && key[0] != '?' {
		s.surname += c.w.TwoLetterSurname
	}
	if n.common {
		if known && n.surname != 0 {
			s.surname += c.w.EpitaphSurname
		} else {
			s.surname += c.w.EpitaphNoSurname
		}
		if n.given == 0 {
			s.given += c.w.EpitaphNoGiven
		} else {
			s.given += c.w.EpitaphGiven
		}
	}
	if sense := c.sense[i]; sense != 0 {
		cost := sense
		if known && (n.given != 0 || n.surname != 0) {
			cost = sense * c.w.SenseOfName
		} else if n.abbreviation {
			cost = sense * c.w.SenseOfAbbreviation
		}
		s.surname -= cost
		s.given -= cost
	}
	return s
}

// belowGiven reports whether word i is a surname alone on the second line of a soldier's government stone, below a given name and an initial.
func (c *chart) belowGiven(i int) bool {
	t := c.text
	w := &t.Words[i]
	return c.context.government() && i > 1 && w.Line == 1 && w.Has(words.FirstInLine|words.LastInLine) && c.infos[i].surname != 0 && c.nameScore[i-1].initial && c.nameScore[i-2].givenName
}

// aboveUnit reports whether word i is what is left for a surname: the last word of the first line, behind a given name or two initials and perhaps a rank, above a company, a regiment or a year.
func (c *chart) aboveUnit(i int) bool {
	t := c.text
	if w := &t.Words[i]; w.Line != 0 || !w.Has(words.LastInLine) || i+1 == len(t.Words) || t.Words[i+1].Num == 0 && (c.infos[i+1].unit == (unit.Word{}) || t.Len(i+1) == 1) {
		return false
	}
	k, given := i, 0
	for ; k > 0 && (c.nameScore[k-1].givenName || c.nameScore[k-1].initial); k-- {
		given++
		if c.nameScore[k-1].givenName {
			given++
		}
	}
	return given > 1 && (k == 0 || c.infos[k-1].form != 0)
}

// maxName is how many words a name may have.
const maxName = 6

// nameItems adds the names that may start at word i, where one may begin.
func (c *chart) nameItems(i int) {
	t := c.text
	var given float32
	breaks := 0
	allGiven, known, initials := true, false, true
	prefix := -1 // first word of a surname's prefix
	first := &t.Words[i]
	may, must := c.initialBehind(i)
	for n := 1; n <= maxName && i+n <= len(t.Words); n++ {
		k := i + n - 1
		w := &t.Words[k]
		s := c.nameScore[k]
		if !s.ok {
			break
		}
		if n == 1 && c.infos[k].prefix && !s.known && !s.initial && (k+1 >= len(t.Words) || w.Has(words.LastInLine) || !c.nameScore[k+1].ok) {
			break // "ST.", with no name after it
		}
		if n > 1 && t.Words[k-1].Has(words.LastInLine) {
			if w.Has(words.FirstInLine|words.LastInLine) && c.infos[k].surname == 0 && c.warAlone(k) {
				break // "NOAH WARD / KOREA / 1928 - 1961"
			}
			breaks++
			if t.Key(k) == "*" && w.Has(words.LastInLine) || w.Flags&(words.Lost|words.LastInLine) == words.Lost && t.Words[k+1].Num > 0 && t.Words[k+1].Num < 400 || breaks > 1 || t.Words[k-1].Has(words.CommaAfter) {
				break
			}
			given += c.w.NameBreaks
			if c.context.government() && c.nameBelow(k) && (k == i+1 && first.Has(words.Lost) && !c.givenRather(i) && !c.givenWorn(i) || initials) {
				given += c.w.WholeNameBelow // "[...]DS. / WILBUR S. / HART"
			}
			if initials {
				given += c.w.InitialsBreak // initials do not stand on a line of their own
			}
			if !allGiven && !c.surnameBelow(k, n) {
				given += c.w.WholeNameBreaks // the first line was a whole name
				if n > 2 && prefix < 0 {
					given += c.w.WholeNameGoesOn
				}
			} else if n > 2 {
				given += c.w.GivenNamesBreak
			}
		}
		key := t.Key(k)
		known = known || s.known
		it := item{from: i, to: k + 1, kind: kName, name: nameSpan{suffix: -1, surname: int16(k), and: -1, oneWord: n == 1, breaks: breaks > 0}}
		// The name with this word as its surname.
		it.score = given + s.surname
		if prefix >= 0 {
			it.name.surname = int16(prefix)
			it.score += c.w.SurnamePrefix
		}
		if n > 1 && t.Words[i].Has(words.CommaAfter) {
			switch {
			case s.initial:
				it.score += c.w.CommaInitial
			case n == 2 && c.spots[k].fullState > 0:
				it.score += c.w.CommaState // "BLUFF, IOWA"
			}
		}
		var state float32
		if n == 1 && c.spots[k].fullState == k+1 && w.Has(words.LastInLine) && first.Has(words.FirstInLine) && c.context.government() {
			state = c.w.StateAsName // "OREGON / SGT. 162 INF.": the name is lost
		}
		it.score += state
		if n == 1 && !s.known && !w.Has(words.LastInLine) && c.relationAt(k+1) {
			it.score += c.w.BeforeRelation // "ALMIRA HIS WIFE"
		}
		if n > 1 && c.relationAt(k) {
			it.score += c.w.SurnameOfRelation // "ELLA [.]IS WIFE"
		}
		if own := &c.infos[0]; breaks > 0 && i == 0 && t.Words[0].Has(words.LastInLine) && (own.surname != 0 || t.Words[0].Has(words.Lost) && c.givenRather(1)) {
			if own.surname != 0 && n > 2 && breaks == 1 && w.Has(words.LastInLine) && t.Words[1].Has(words.FirstInLine) && c.nameScore[1].givenName && !c.nameScore[0].initial && !c.context.government() && (own.given == 0 || own.surname > own.given) {
				it.score += c.w.NameBreaksAtYears // "McDONALD / JAMES GIBSON / 1842 - 1909"
			} else if k+1 < len(t.Words) && t.Words[k+1].Flags&(words.FirstInLine|words.Digits|words.Ordinal) == words.Digits {
				it.score += c.w.NameBreaksAtYears // "LEWIS / JOHN 1839 - 1916": the surname heads the stone
			} else if n == 2 && own.surname != 0 && w.Has(words.LastInLine) && (s.givenName || c.givenWorn(k)) && (own.given == 0 || own.surname-own.given > oftenGiven) {
				it.score += c.w.NameBreaksAtGiven // "RYAN / BERNARD / 1844 - 1913"
			} else if of := own.surname - own.given; own.given != 0 && of > 0 {
				it.score -= min(of, 2) * c.w.NameBreaksAtSurname
			}
		}
		switch {
		case n == 1:
			it.score += c.w.NameOneWord
		case n == 2, n == 3:
			it.score += c.w.NameTwoWords
		default:
			it.score += c.w.NameFourWords + c.w.NameFurtherWord*float32(n-4)
		}
		if n > 1 && t.Key(i) == "A" && !first.Has(words.DotAfter) && !c.nameScore[i+1].known && !c.nameScore[i+1].initial {
			it.score += c.w.ArticleFirst // "A DEFENDER OF THE UNION"
		}
		if n == 2 && lostWord(key) && c.nameScore[i].initial && first.Has(words.FirstInLine) && w.Has(words.LastInLine) {
			it.score += c.w.InitialAndLost // "B. ??"
		}
		if n > 1 && c.formSpans(i, k+1) {
			it.score += c.w.FormAsName // "AIR SERVICE"
		}
		if w.Has(words.Hyphenated) && int(it.name.surname) == k && n > 1 {
			it.name.surname = int16(k - 1)
		}
		if first.Has(words.FirstInLine) {
			it.score += c.w.NameHeadsLine
		}
		it.name.known = known
		it.name.ownLine = first.Has(words.FirstInLine) && w.Has(words.LastInLine)
		if s.initial && n > 1 && !first.Has(words.CommaAfter) {
			it.name.surname = int16(k + 1) // given names and initials only
		}
		if n > 1 && !first.Has(words.CommaAfter) {
			if may && int(it.name.surname) == i+1 && it.to == i+2 {
				v := it
				v.name.part, c.parts = int16(i+1), true
				v.score += c.w.InitialParted
				c.addName(v, w)
				if must {
					it.score += c.w.InitialParted * 3
				}
			}
			if w.Has(words.Lost) && int(it.name.surname) == k && prefix < 0 && c.initialBefore(k) {
				v := it
				v.name.part, c.parts = int16(k+1), true
				v.score += c.w.InitialParted
				c.addName(v, w)
			} else if w.Has(words.Lost) && int(it.name.surname) == k && prefix < 0 && strings.HasPrefix(key, wide) && !lostWord(key) { // "AUGUST [......]FENBERGER"
				v := it
				v.name.part, c.parts = int16(k+1), true
				v.score += c.w.WideGap
				c.addName(v, w)
			}
		}
		c.addName(it, w)
		if c.heading && i > 0 && n < 3 && breaks == 0 && first.Has(words.FirstInLine) && w.Has(words.LastInLine) && !c.nameScore[i].givenName && !c.nameScore[i].initial && (n == 1 || s.initial) &&
			c.sense[i] == 0 && !c.nameScore[i].common && k+1 < len(t.Words) && t.Words[k+1].Has(words.Digits) && i > 1 && t.Len(i) > 2 && !t.Words[0].Has(words.Lost) && (c.infos[0].surname != 0 || !c.nameScore[0].givenName) && !c.context.government() {
			// "CONNER / JOHN R. / 1840 - 1912 / LAVINA R. / 1842 - 1890": between the years of two of a family stands a given name, in a table or not
			g := it
			g.name.givenOnly, g.name.oneWord, g.name.surname = true, false, int16(k+1)
			g.score = given + s.given + c.w.GivenOnly + c.w.NameHeadsLine
			if t.Words[k+1].Num > firstYear {
				g.score += c.w.FamilyDated
			}
			c.addName(g, w)
		}
		if allGiven && (s.givenName || s.initial) && !first.Has(words.CommaAfter) && s.given > 0 && (c.nameScore[i].givenName && !c.behindLost(i) || c.beforeLost(k)) && (n > 1 || c.heading || !w.Has(words.Lost)) {
			g := it
			g.name.givenOnly, g.name.surname = true, int16(k+1)
			g.score = given + s.given + c.w.GivenOnly + state
			if first.Has(words.FirstInLine) {
				g.score += c.w.NameHeadsLine
			}
			c.addName(g, w)
			if first.Has(words.FirstInLine) && i > 0 {
				if before := c.namedBefore(i, n); before >= 0 {
					c.add(item{from: i, to: k + 1, kind: kAgain, ref: int32(before), score: g.score + c.w.NamedAgain})
				}
			}
		}
		years := k+1 < len(t.Words) && t.Words[k+1].Has(words.Digits) && !w.Has(words.LastInLine)
		article := n == 1 && key == "A" && w.Flags&(words.DotAfter|words.LastInLine) == 0 && k+1 < len(t.Words) && !t.Words[k+1].Has(words.Digits) // "A SOLDIER OF THE LATE WAR"
		surname := t.Words[0].Has(words.Lost) && (c.infos[k].surname != 0 || w.Has(words.LastInLine) && c.givenWorn(0))                            // "WIL[...] / HOLDEN": what is damaged may as well be the given name
		if c.heading && i > 0 && first.Has(words.FirstInLine) && breaks == 0 && !article &&
			(c.nameScore[i].initial && allGiven && (s.initial || s.givenName) || n == 1 && !s.givenName && !s.initial && !surname && (!w.Has(words.Lost) || years || c.surnameHeads()) && k+1 < len(t.Words) && (t.Words[k+1].Has(words.Digits) || w.Has(words.Lost|words.LastInLine) && c.givenWorn(k) && c.spots[k+1].month > 0) ||
				n > 1 && s.initial && !c.nameScore[i].initial && !c.nameScore[i].givenName && prefix < 0 && !first.Has(words.CommaAfter) && c.surnameHeads()) {
			// "HAYES / W. D. 1842 - 1896", "OLSON / TORSTEIN 1840 - 1907", "OLSON / PED[.]R 1840 - 1907", "OLSON / TORSTIEN J.": below a surname that heads the stone these are no surnames.
			g := it
			g.name.givenOnly, g.name.oneWord, g.name.below, g.name.dated, g.name.surname = true, false, true, years, int16(k+1)
			g.score = given + s.given + c.w.GivenOnly + c.w.NameHeadsLine
			c.addName(g, w)
		}
		if c.heading && i > 0 && first.Has(words.FirstInLine) && n > 1 && breaks == 0 && prefix < 0 && (!lostWord(t.Key(0)) || w.Has(words.Lost) || c.givenRather(k)) && (c.nameScore[i].givenName || s.givenName || first.Has(words.Lost) || n == 2 && (c.infos[k].surname != 0 && c.infos[i].surname == 0 || c.nameScore[i].initial) && years) && (c.sense[0] == 0 || c.infos[0].surname != 0 || t.Words[0].Has(words.Lost) && years) && (!c.nameScore[0].givenName || t.Words[0].Has(words.Lost) && years || c.infos[0].surname != 0 && (years || c.infos[0].surname >= c.infos[0].given)) && !s.initial && !c.context.government() {
			// "PEASE / JACOB MOORE 1851 - 1910 / JULIA M. 1860 - 1937": the second name is a family's, mostly his mother's. "GATES / ELBRIDGE GEORGE".
			g := it
			g.name.givenOnly, g.name.below, g.name.dated, g.name.surname = true, true, years, int16(k+1)
			g.score += c.w.FamilySecond
			c.addName(g, w)
		}
		if c.infos[k].prefix && n > 1 && prefix < 0 && k+1 < len(t.Words) && !w.Has(words.LastInLine) && t.Len(k+1) > 2 {
			prefix = k
			given += c.w.PrefixWithin
			allGiven = false
			continue
		}
		if c.infos[k].prefix && n == 1 && len(key) > 1 && !s.givenName {
			prefix = k
			given += c.w.PrefixFirst
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
		if n == 2 && key == "S" && t.Key(i) == "U" && (i > 0 || k+1 < len(t.Words) && t.Len(k+1) == 1) { // "U. S. C. T."
			given += c.w.UnitedStates
		}
		if w.Has(words.CommaAfter) {
			if n > 1 {
				break
			}
			if s.known && !s.givenName || !s.givenName {
				given += c.w.SurnameFirst // "HOLDEN, JOHN": the surname first
			} else {
				given += c.w.GivenComma
			}
		}
		if !s.givenName && !s.initial {
			allGiven = false
		}
		initials = initials && s.initial
	}
}

// lostWithin reports whether the recorder's word about what is lost stands within a name: "A. [illegible] LORBERG".
func (c *chart) lostWithin(i int) bool {
	t := c.text
	return i > 0 && i+1 < len(t.Words) && t.Words[i].Flags&(words.FirstInLine|words.LastInLine) == 0 && (c.nameScore[i-1].givenName || c.nameScore[i-1].initial) && t.Words[i-1].Flags&words.Note == 0 &&
		t.Words[i+1].Flags&(words.Digits|words.Note|words.LastInLine) == words.LastInLine && t.Len(i+1) > 2
}

// beforeLost reports whether what is gone behind word k, in its line, is the surname: "T. [illegible]".
func (c *chart) beforeLost(k int) bool {
	t := c.text
	return c.nameScore[k].initial && k+1 < len(t.Words) && t.Words[k+1].Flags&(words.Note|words.FirstInLine|words.LastInLine) == words.Note|words.LastInLine
}

// behindLost reports whether what is gone before word i, in its line, is the given name, so that the last word of the line is a surname: "[illegible] SCOTT".
func (c *chart) behindLost(i int) bool {
	t := c.text
	return i > 0 && c.infos[i].surname != 0 && t.Words[i-1].Flags&(words.Note|words.LastInLine|words.FirstInLine) == words.Note|words.FirstInLine && (t.Words[i].Has(words.LastInLine) || t.Words[i+1].Has(words.Note|words.LastInLine))
}

// companyWords begin the line of a company.
var companyWords = map[string]bool{"CO": true, "COMPANY": true, "BATT": true, "BATTY": true, "BTRY": true, "BATTERY": true, "TROOP": true}

// companyWorn reports whether a damaged word begins as one of those does: "BAT[....]".
func companyWorn(key string) bool {
	front, rest := words.Parted(key)
	for word := range companyWords {
		if rest == "" && len(front) > 1 && strings.HasPrefix(word, front) {
			return true
		}
	}
	return false
}

// surnameBelow reports whether word k, alone on its line between the two or three words of a name and the lines of a unit, is the surname of a soldier's government stone whose line had no room for
// it: "AMOS SMITH / SHELGRAV / CO. B".
func (c *chart) surnameBelow(k, n int) bool {
	t := c.text
	w := &t.Words[k]
	if !c.context.government() && (k+1 >= len(t.Words) || !companyWords[t.Key(k+1)]) || n > 4 || n < 3 || !w.Has(words.LastInLine) || w.Has(words.Lost) && (leftOf(t.Key(k)) < 3 || companyWorn(t.Key(k))) || k+1 >= len(t.Words) || t.Len(k) < 4 || c.sense[k] > 0 && c.infos[k].surname == 0 {
		return false
	}
	return t.Words[k+1].Flags&(words.Digits|words.Lost) != 0 || c.units[k+1] != unit.Word{}
}

// warAlone reports whether word k is a war's name.
func (c *chart) warAlone(k int) bool {
	for h := c.spots[k].from; h < c.spots[k].to; h++ {
		if hit := &c.hits[h]; hit.to == k+1 && hit.guessed == 0 && hit.entry.kind == kConflict {
			return true
		}
	}
	return false
}

// ownLine reports whether an item fills its line.
func (c *chart) ownLine(it *item) bool {
	return c.text.Words[it.from].Has(words.FirstInLine) && c.text.Words[it.to-1].Has(words.LastInLine)
}

// formSpans reports whether words i to to-1 are as a whole an arm or a body of troops, a branch, a side or a war.
func (c *chart) formSpans(i, to int) bool {
	for k := c.first[i]; k >= 0; k = c.items[k].next {
		it := &c.items[k]
		if it.to != to {
			continue
		}
		switch it.kind {
		case kBranch, kSide, kConflict, kSociety:
			return true
		case kUnit:
			switch c.unitParts[it.ref].Role {
			case unit.RoleArm, unit.RoleBody, unit.RoleKind:
				return true
			}
		}
	}
	return false
}

// oftenGiven is by how many e-folds a word may be a given name oftener than a surname, and still head a stone as one.
const oftenGiven = -2.5

// surnameHeads reports whether the word that heads the stone is whole and no given name.
func (c *chart) surnameHeads() bool {
	return !c.text.Words[0].Has(words.Lost) && !c.nameScore[0].givenName
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
		plain.score += c.w.NameEndsLine
	}
	c.add(plain)
	if c.orName(it.to) && int(it.name.surname) == it.to-1 && t.Key(it.to - 1)[0] == t.Key(it.to + 1)[0] { // "J. M. COE or COX"
		o := it
		o.name.or = int16(it.to)
		o.to += 2
		o.score += c.w.OtherSurname
		if t.Words[o.to-1].Has(words.LastInLine) {
			o.score += c.w.NameEndsLine
		}
		c.add(o)
	}
	if it.to < len(t.Words) && !(it.name.oneWord && !it.name.givenOnly && !last.Has(words.LastInLine) && !c.nameScore[it.from].known) {
		next := &t.Words[it.to]
		if c.infos[it.to].suffix || next.Has(words.Ordinal) && (next.Num == 2 || next.Num == 3) && next.Has(words.LastInLine) && !last.Has(words.LastInLine) {
			it.name.suffix = int16(it.to)
			it.to++
			it.score += c.w.NameSuffix
			if next.Has(words.LastInLine) {
				it.score += c.w.NameEndsLine
				it.name.ownLine = t.Words[it.from].Has(words.FirstInLine)
			}
			c.add(it)
		}
	}
}

// relationAt reports whether "HIS WIFE" or the like stands at word i.
func (c *chart) relationAt(i int) bool {
	if i >= len(c.spots) {
		return false
	}
	for k := c.spots[i].from; k < c.spots[i].to; k++ {
		if h := &c.hits[k]; h.entry.kind == kRelation && h.to > i+1 {
			return true
		}
	}
	return false
}

// orName reports whether OR and a word that may be a name stand at word i, in one line with what is before.
func (c *chart) orName(i int) bool {
	t := c.text
	return i+1 < len(t.Words) && t.Key(i) == "OR" && t.Words[i].Flags&(words.FirstInLine|words.LastInLine) == 0 && t.Len(i+1) > 2 && t.Words[i+1].Flags&(words.Digits|words.Note) == 0
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
			score += c.w.PairBreaks
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
		if and >= 0 && (s.givenName || s.initial && k > and+1) && t.Words[i].Has(words.FirstInLine) && t.Words[k].Has(words.LastInLine) && t.Words[k].Line == t.Words[i].Line {
			c.add(item{from: i, to: k + 1, kind: kPair, score: score + s.given*c.w.PairGiven + c.w.PairGivenOnly, name: nameSpan{suffix: -1, surname: int16(k + 1), and: int16(and), givenOnly: true}})
		}
		if and >= 0 && k > and+1 && !s.initial {
			it := item{from: i, to: k + 1, kind: kPair, score: score + s.surname + c.w.PairSurname, name: nameSpan{suffix: -1, surname: int16(k), and: int16(and)}}
			if t.Words[k].Has(words.LastInLine) {
				it.score += c.w.PairEndsLine
			}
			if t.Words[i].Has(words.FirstInLine) {
				it.score += c.w.PairHeadsLine
			}
			c.add(it)
		}
		if !s.givenName && !s.initial {
			// "LARS & GURO AMUNDSON": a name that no table has, right before AND or right behind it
			if s.common || c.infos[k].surname != 0 || k != and+1 && (k != i || k+1 >= len(t.Words) || t.Key(k+1) != "AND") {
				return
			}
			score += c.w.PairUnknown
		}
		score += s.given * c.w.PairGiven
	}
}

// familyItems adds the surname alone on its line that may head a family's stone; word i begins a line.
func (c *chart) familyItems(i int) {
	t := c.text
	w := &t.Words[i]
	k := i // "PEASE", "PEASE FAMILY", "THE PEASE FAMILY"
	if t.Key(i) == "THE" && (!w.Has(words.LastInLine) || i+2 < len(t.Words) && t.Key(i+2) == "FAMILY") {
		k++
	}
	to := k + 1
	for to < len(t.Words) && to < k+3 && c.infos[to-1].prefix && t.Len(to-1) > 1 && !t.Words[to-1].Has(words.LastInLine) {
		to++ // "VAN HEIDE", "VAN DER MEER"
	}
	last := to - 1
	if to < len(t.Words) && (t.Key(to) == "FAMILY" || t.Key(to) == "BROTHERS") && (!t.Words[k].Has(words.LastInLine) || t.Words[to].Has(words.FirstInLine|words.LastInLine)) {
		to++
	} else if k > i {
		return
	}
	if !t.Words[to-1].Has(words.LastInLine) || to >= len(t.Words) || t.Len(last) < 3 && !(i == 0 && t.Words[0].Has(words.Lost) && c.yearsBelow(to) && !c.context.government()) {
		return
	}
	s := c.nameScore[last]
	if !s.ok || s.initial {
		return
	}
	it := item{from: i, to: to, kind: kFamily, score: s.surname + c.w.FamilyHeading, name: nameSpan{suffix: -1, surname: int16(k), and: -1, ownLine: true, oneWord: true}}
	if last > k {
		it.score += c.w.SurnamePrefix
	}
	if c.context.government() {
		it.score += c.w.HeadingOfSoldier
	}
	if to > last+1 {
		it.score += c.w.FamilyWord
	}
	if s.givenName {
		it.score += c.w.FamilyGivenName
	}
	c.heading = c.heading || i == 0
	c.add(it)
}

// givenRather reports whether word i is a given name oftener than a surname.
func (c *chart) givenRather(i int) bool {
	return c.nameScore[i].givenName && (c.infos[i].surname == 0 || c.infos[i].given != 0 && c.infos[i].given > c.infos[i].surname)
}

// yearsBelow reports whether the line that begins at word i has one to three words and then a year: a name below the surname that heads a family's stone, as it mostly is.
func (c *chart) yearsBelow(i int) bool {
	t := c.text
	for k := i; k < len(t.Words) && k < i+4; k++ {
		w := &t.Words[k]
		if w.Has(words.Digits) {
			return k > i && (w.Num > firstYear || w.Has(words.DashAfter) || w.Has(words.Lost|words.LastInLine))
		}
		if w.Has(words.LastInLine) {
			return false
		}
	}
	return false
}

// mayBegin reports whether a name or a place may begin at word i: at the beginning of a line, or after a word that is hardly a name's.
func (c *chart) mayBegin(i int) bool {
	if i == 0 || c.text.Words[i].Has(words.FirstInLine) || c.spots[i].preposition > 0 || c.afterLabel[i] || c.afterClass[i] {
		return true
	}
	if !c.nameScore[i-1].ok || c.sense[i-1] > 0.5 || c.text.Len(i-1) == 1 && !c.nameScore[i].initial && c.sense[i] == 0 && !c.nameScore[max(i-2, 0)].ok || c.text.Words[i-1].Has(words.CommaAfter) {
		return true
	}
	if i > 1 && c.text.Len(i-2) == 3 && (c.text.Key(i-2) == "HIS" || c.text.Key(i-2) == "HER") {
		for _, h := range c.hits[c.spots[i-2].from:c.spots[i-2].to] {
			if h.to == i && h.entry.kind == kRelation { // "HIS WIFF LOUISA S."
				return true
			}
		}
	}
	return false
}
