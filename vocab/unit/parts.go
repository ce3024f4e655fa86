package unit

import (
	"strings"

	"musterstone/model"
	"musterstone/vocab/words"
)

// Part is what a stretch of words may tell of a unit: words From to To-1 of a text.
type Part struct {
	From, To int
	Role     Role
	// Form is the row it rests on; nil for a bare number or letter.
	Form *Form
	// Num is a number or a division; Letter a company's letter, or 0.
	Num    int
	Letter byte
	// Score is the natural logarithm of how well the words stand for this alone.
	Score float32
	// NameFrom is where the words of a name begin, of a ship or a legion.
	NameFrom int
}

// Source is the key of the table row's source.
func (p *Part) Source() string {
	if p.Form == nil {
		return ""
	}
	return p.Form.Source
}

// Tells is a hash of what the part tells of its unit; those of "VOL." and "INF." sum to that of "VOL. INF.".
func (p *Part) Tells() uint64 {
	if p.Role == RoleFiller {
		return 0
	}
	sum := uint64(0)
	if p.Num > 0 || p.Letter > 0 || p.Role == RoleShip || p.Role == RoleNamed {
		sum = uint64(p.Num)<<24 | uint64(p.Letter)<<16 | uint64(p.Role)<<8
		if p.NameFrom > 0 {
			sum += uint64(p.NameFrom)<<40 | uint64(p.To)<<50
		}
	}
	if p.Form != nil {
		sum += p.Form.tells
	}
	return sum
}

// Word is what the tables know of one word: where the forms that begin with it start, and what it may do beside a number or a name. It holds no pointers.
type Word struct {
	forms int32
	small smallWord
}

// Words tells of every word that the tables know: for those who look the words of a text up in a table of their own.
func Words(f func(word string, w Word)) {
	for word, w := range theLexicon().words.All() {
		f(word, *w)
	}
}

// Scanner finds parts in texts. Not safe for use by several at once.
type Scanner struct {
	lex   *lexicon
	text  *words.Text
	known []Word // by word of the text
	whole bool
	hits  []words.Found
}

// Begin makes the scanner ready for a text that is more than a unit; known is what Words told of each of its words, the zero Word where it told nothing.
func (s *Scanner) Begin(t *words.Text, known []Word) {
	s.lex, s.text, s.known, s.whole = theLexicon(), t, known, false
}

// beginWhole makes the scanner ready for a text that is a unit and nothing else, so that a lone letter is a company, as in a roster's cell.
func (s *Scanner) beginWhole(t *words.Text) {
	s.Begin(t, make([]Word, len(t.Words)))
	s.whole = true
	for i := range t.Words {
		if w := s.lex.words.Of(t, i); w != nil {
			s.known[i] = *w
		}
	}
}

// may reports whether word i may do any of that; a word outside the text does nothing.
func (s *Scanner) may(i int, what smallWord) bool {
	return uint(i) < uint(len(s.known)) && s.known[i].small&what != 0
}

// lastVRC is the highest number of a regiment of the Veteran Reserve Corps.
const lastVRC = 24

// Guess is the score that one guessed letter costs.
const Guess = -0.7

// Begins reports whether anything may start at word i: where it does not, Parts finds nothing.
func (s *Scanner) Begins(i int) bool {
	w := &s.text.Words[i]
	return w.Num > 0 || s.known[i] != Word{} || w.Has(words.Lost) || s.whole || s.names(i) || s.letterFirst(i) || s.text.Len(i) == 2 && s.coMisread(i) || s.shortLine(i) || s.armSpot(i) || w.Line > 0 && s.text.Len(i) < 4 && s.tailSpot(i)
}

// shortLine reports whether word i may be a company's, glued or broken, that begins a line, or the letter that is left of an arm at a line's end.
func (s *Scanner) shortLine(i int) bool {
	w, key := &s.text.Words[i], s.text.Key(i)
	return len(key) < 4 && i > 0 && (w.Has(words.FirstInLine) && (key[0] == 'C' || len(key) == 1) || w.Has(words.LastInLine) && len(key) == 1)
}

// Parts appends to dst what may start at word i.
func (s *Scanner) Parts(dst []Part, i int) []Part {
	t := s.text
	w := &t.Words[i]
	n, to := 0, i
	if w.Num > 0 || s.may(i, isCount) {
		n, to = numberAt(t, i)
	}
	if to > i {
		dst = s.number(dst, i, to, n)
		dst = s.numbered(dst, i, to, n)
	}
	if n := t.Len(i); w.Has(words.Lost) && (n < 4 || numberLeft(t.Key(i)) != "") && w.Flags&words.Note == 0 && (!w.Has(words.LastInLine) || s.behindCompany(i)) {
		score := float32(-9)
		switch key := t.Key(i); {
		case w.Has(words.Digits) && n > 1: // "1[.]4", "12[.....] INF.": a number, though not which
			score = worth.NumberDamaged
		case key == "?" || key == "??" || key == "???": // "[..] WIS. INF."
			score = worth.NumberLost
		}
		if score > -9 {
			p := Part{From: i, To: i + 1, Role: RoleNumber, Score: score}
			if w.Has(words.LastInLine) {
				p.Form = wornNumber // "CO. C 13[---]"
			}
			dst = append(dst, p)
			if s.may(i+1, isRegimentWord) {
				dst = append(dst, Part{From: i, To: i + 2, Role: RoleNumber, Form: regimentForm, Score: score + worth.NumberRegiment})
			}
		}
	}
	if w.Flags&(words.Digits|words.Lost|words.LastInLine) == words.Digits|words.Lost && t.Len(i) < 4 && (s.may(i+1, isDivision) || i+1 < len(t.Words) && divisionWorn(t, i+1)) {
		dst = append(dst, Part{From: i, To: i + 2, Role: RoleFiller, Form: brigadeForm, Score: worth.Division}) // "4[.] DIV.": which is not told
	}
	if w.Has(words.Digits) {
		return s.numberArm(s.numberBehindGap(dst, i), i)
	}
	if w.Flags&(words.Lost|words.FirstInLine) == words.Lost && i > 0 && !t.Words[i-1].Has(words.Digits) && infantryLost(t.Key(i)) { // "6 WIS. I[---]"
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleArm, Form: &s.lex.infantry, Score: worth.ArmLost})
	}
	if w.Flags&(words.Lost|words.FirstInLine) == words.Lost && i > 1 && !t.Words[i-1].Has(words.FirstInLine) && s.state(i-1) == i && cavalryLost(t.Key(i)) { // "11 KY. C[..]"
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleArm, Form: &s.lex.cavalry, Score: worth.ArmLost})
	}
	if i > 1 && w.Flags&(words.LastInLine|words.FirstInLine) == words.LastInLine {
		dst = s.gunsWorn(s.armEnds(dst, i), i)
		if s.armSpot(i) {
			dst = s.armMisread(dst, i)
		}
	}
	if w.Has(words.Lost) {
		dst = s.endingLeft(s.companyInGap(dst, i), i)
		dst = s.lineWorn(s.stateBehindGap(s.worn(dst, i), i), i)
		dst = s.armWorn(s.coloredWorn(dst, i), i)
	}
	if w.Line > 0 && t.Len(i) < 4 && s.known[i] == (Word{}) && s.tailSpot(i) {
		dst = s.stateTail(dst, i)
	}
	if w.Has(words.FirstInLine) && t.Len(i) == 1 && s.letterAlone(i) {
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleCompany, Letter: t.Key(i)[0], Score: worth.CompanyLine})
	}
	if w.Has(words.FirstInLine) && i > 0 && (t.Key(i)[0] == 'C' || t.Key(i) == "O" || w.Has(words.Lost)) || t.Len(i) == 2 && s.coMisread(i) {
		dst = s.companyLine(dst, i)
	}
	if w.Has(words.Lost) && companyLost(t.Key(i)) && i+1 < len(t.Words) && t.Words[i+1].Flags&(words.FirstInLine|words.Lost) == 0 && (t.Words[i+1].Has(words.LastInLine) || i+2 < len(t.Words) && t.Words[i+2].Num > 0 && t.Words[i+2].Num < 400) {
		if key := t.Key(i + 1); len(key) == 1 && key[0] >= 'A' && key[0] <= 'M' { // "C[...] E": points are not always as many as the letters
			p := Part{From: i, To: i + 2, Role: RoleCompany, Letter: key[0], Score: worth.CompanyLost}
			if w.Has(words.FirstInLine) && i > 0 && i+2 < len(t.Words) && (t.Words[i+2].Num > 0 && t.Words[i+2].Num < 400 && !t.Words[i+2].Has(words.LastInLine) || t.Words[i+1].Has(words.LastInLine) && t.Key(i+2) == "*" && t.Words[i+2].Has(words.LastInLine)) {
				p.Score += worth.CompanyAboveNumber
			}
			dst = append(dst, p)
		}
	}
	if s.letterFirst(i) {
		letter := t.Key(i)[0]
		if s.may(i+1, isCompany|isLettered) {
			dst = append(dst, Part{From: i, To: i + 2, Role: RoleCompany, Letter: letter, Score: worth.LetterCompany})
		} else if to := s.state(i + 2); to > i+2 && (w.Has(words.FirstInLine) || w.Has(words.DashAfter)) && !s.goesOnInNumber(to) { // but "D. 12 MO. 3": a day of Friends
			dst = append(dst, Part{From: i, To: i + 1, Role: RoleCompany, Letter: letter, Score: worth.LetterBare})
		}
	}
	if s.whole && t.Len(i) == 1 && w.Flags&words.Lost == 0 {
		if c := t.Key(i)[0]; c >= 'A' && c <= 'M' && !(c == 'F' && i+2 < len(t.Words) && t.Key(i+1) == "AND" && t.Key(i+2) == "S") { // field and staff
			dst = append(dst, Part{From: i, To: i + 1, Role: RoleCompany, Letter: c, Score: worth.LetterOnly})
		}
	}
	if at := s.known[i].forms; at != 0 || w.Has(words.Lost) {
		s.hits = s.lex.forms.Find(s.hits[:0], t, i, at)
		from := len(dst)
		for k := range s.hits {
			dst = s.formParts(dst, i, &s.hits[k])
		}
		if w.Has(words.Lost) {
			dst = s.statesBegun(dst, from, i)
		}
	}
	if s.names(i) {
		return s.legions(dst, i)
	}
	return dst
}

// names reports whether a unit that is named by a word that no table knows may begin at word i.
func (s *Scanner) names(i int) bool {
	if s.may(i, isCaptain|isColonel|isCommander) || s.may(i+1, isLegion|isLegionEnd|isNamedBattery) {
		return true
	}
	key := s.text.Key(i)
	return len(key) > 3 && key[len(key)-1] == 'S' // "BRACKETT'S"
}

// letterFirst reports whether a company's letter may stand at word i before CO. or before the regiment's number: "B CO. 12 WIS.", "B 12 WIS.".
func (s *Scanner) letterFirst(i int) bool {
	t := s.text
	if t.Len(i) != 1 || i+2 >= len(t.Words) || t.Words[i].Flags&(words.Lost|words.LastInLine|words.Digits) != 0 {
		return false
	}
	if c := t.Key(i)[0]; c < 'A' || c > 'M' {
		return false
	}
	next := &t.Words[i+1]
	if s.may(i+1, isCompany|isLettered) {
		return next.Has(words.LastInLine) || t.Words[i+2].Has(words.Digits)
	}
	return next.Num > 0 && next.Num < 400 && next.Flags&words.LastInLine == 0
}

// goesOnInNumber reports whether the line goes on at word i with a number.
func (s *Scanner) goesOnInNumber(i int) bool {
	return i < len(s.text.Words) && s.text.Words[i].Num > 0 && !s.text.Words[i].Has(words.FirstInLine)
}

// infantryLost reports whether a word may be what is left of INF. behind its first letter, or its first two.
func infantryLost(key string) bool {
	return len(key) > 1 && key[0] == 'I' && strings.Trim(strings.TrimPrefix(key[1:], "N"), "?*") == ""
}

// armEnds adds the arm of which one letter is left, or the end, at the end of a line right behind the state: "12 MICH. [..]F.", "8 MICH. [..]V.", "10 MICH I", "5 MICH. IN.F".
func (s *Scanner) armEnds(dst []Part, i int) []Part {
	t := s.text
	key, from := t.Key(i), i
	if key == "F" && i > 2 && t.Key(i-1) == "IN" && !t.Words[i-1].Has(words.FirstInLine) {
		from--
	}
	if s.whole && len(key) == 1 && from == i {
		return dst // "31 Wis. F": in a roster's cell a letter is the company
	}
	lost := len(key) > 1 && len(key) < 4 && strings.Trim(key[:len(key)-1], "?") == ""
	if !lost && key != "F" && key != "I" || t.Words[from-1].Has(words.FirstInLine) || s.state(from-1) != from {
		return dst
	}
	p := Part{From: from, To: i + 1, Role: RoleArm, Score: worth.ArmLost}
	switch key[len(key)-1] {
	case 'F', 'I':
		p.Form = &s.lex.infantry
	case 'V':
		p.Form = &s.lex.cavalry
	default:
		return dst
	}
	return append(dst, p)
}

// cavalryLost reports whether a word behind a state may be what is left of CAV. behind its first letter.
func cavalryLost(key string) bool {
	return len(key) > 1 && key[0] == 'C' && strings.Trim(key[1:], "?*") == ""
}

// companyLost reports whether a word may be what is left of CO.
func companyLost(key string) bool {
	for k := range len(key) {
		if c := key[k]; c != '?' && c != '*' && !(k == 0 && c == 'C') && !(k == 1 && c == 'O') {
			return false
		}
	}
	return len(key) < 5
}

// number adds a number alone and with REGT after it.
func (s *Scanner) number(dst []Part, i, to, n int) []Part {
	score := float32(0)
	if n > 999 {
		score = worth.NumberOver999
	} else if n > 400 {
		score = worth.NumberOver400
	}
	if s.text.Words[i].Has(words.Ordinal) {
		score += worth.NumberOrdinal
	} else if n > 1774 && n < 2030 && s.text.Words[i].Has(words.FirstInLine) && s.text.Words[i].Has(words.LastInLine) {
		score += worth.NumberYear // "DENTAL CORPS / 1918"
	}
	p := Part{From: i, To: to, Role: RoleNumber, Num: n, Score: score}
	if s.belowCompany(i) {
		p.Form = wornNumber
	} else if s.behindCompanyGap(i) {
		p.Num, p.Form = 0, numberFrontLost
	}
	dst = append(dst, p)
	if s.may(to, isRegimentWord) {
		dst = append(dst, Part{From: i, To: to + 1, Role: RoleNumber, Form: regimentForm, Num: n, Score: score + worth.NumberRegiment})
	}
	return dst
}

// divisionWorn reports whether a word that ends its line is DIV. with one of its letters lost.
func divisionWorn(t *words.Text, i int) bool {
	const form = "DIV"
	key := t.Key(i)
	if t.Words[i].Flags&(words.Lost|words.LastInLine) != words.Lost|words.LastInLine || len(key) != len(form) || strings.Count(key, "?") != 1 {
		return false
	}
	for k := range form {
		if key[k] != form[k] && key[k] != '?' {
			return false
		}
	}
	return true
}

// numbered adds what a number makes with the word after it: "37 DIV", "3 CO".
func (s *Scanner) numbered(dst []Part, i, to, n int) []Part {
	t := s.text
	if to >= len(t.Words) || t.Words[to-1].Has(words.LastInLine) {
		return dst
	}
	if (s.may(to, isDivision) || divisionWorn(t, to)) && n < 110 {
		return append(dst, Part{From: i, To: to + 1, Role: RoleDivision, Num: n, Score: worth.Division})
	} else if n < 110 && s.may(to, isDivisionArm) && s.may(to+1, isDivision) { // "96 INF DIV"; the arm is the division's, not the man's
		return append(dst, Part{From: i, To: to + 2, Role: RoleDivision, Num: n, Score: worth.DivisionOfArm})
	}
	if !t.Words[to].Has(words.Digits) {
		dst = s.company(dst, i, to, n)
	}
	switch {
	case s.may(to, isBattalion):
		if n < 10 && to+1 < len(t.Words) && t.Words[to+1].Has(words.Digits) { // "1 BATTN. 12 U. S. INF.": a battalion of a regiment
			dst = append(dst, Part{From: i, To: to + 1, Role: RoleFiller, Num: n, Score: worth.BattalionOfRegiment})
		}
	case s.may(to, isCompany):
		if n < 250 && to+1 < len(t.Words) && t.Words[to+1].Num > 0 && t.Words[to].Flags&words.LastInLine == 0 {
			dst = append(dst, Part{From: i, To: to + 1, Role: RoleCompany, Num: n, Score: worth.CompanyOfNumber}) // "76 CO. 6 REGT.", "104 CO. 2 BN."
		} else if n < 300 && s.whole && t.Words[to].Has(words.CommaAfter) && s.armEndsLine(to+1) { // "54th Co., C. A. C.", which is no Colorado
			dst = append(dst, Part{From: i, To: to + 1, Role: RoleCompany, Num: n, Score: worth.CompanyOfNumber})
		} else if n < 100 && !t.Words[to].Has(words.CommaAfter) && (to+1 >= len(t.Words) || t.Len(to+1) > 1 || t.Words[to+1].Has(words.Digits) || to+2 < len(t.Words) && t.Len(to+2) == 1 && t.Words[to+1].Flags&words.LastInLine == 0) { // "35 CO. C. A. C."
			dst = append(dst, Part{From: i, To: to + 1, Role: RoleCompany, Num: n, Score: worth.CompanyNumber})
		}
	}
	return dst
}

// company adds a numbered company that stands before the number of its own unit: "361 AMB CO 316 SAN TN".
func (s *Scanner) company(dst []Part, i, to, n int) []Part {
	t := s.text
	switch {
	case s.may(to, isBrigade): // "3 BRIG. BAND": the brigade tells only of its band
		score := worth.Brigade
		if s.may(to+1, isBand) || s.may(i-1, isBand) {
			score = worth.BandOfBrigade
		}
		return append(dst, Part{From: i, To: to + 1, Role: RoleFiller, Form: brigadeForm, Num: n, Score: score})
	case s.may(to, isBrigadeArm):
		if s.may(to+1, isBrigade) { // "51 ARTY BRIG"
			return append(dst, Part{From: i, To: to + 2, Role: RoleFiller, Form: brigadeForm, Num: n, Score: worth.ArmBrigade})
		}
		return dst
	case s.may(to, isArmy):
		if n < 30 && s.may(to+1, isCorps) { // "15 A. C."
			return append(dst, Part{From: i, To: to + 2, Role: RoleFiller, Form: corpsForm, Num: n, Score: worth.ArmyCorps})
		}
		return dst
	case s.may(to, isGroupKind):
		if s.may(to+1, isGroup) { // a squadron's group
			return append(dst, Part{From: i, To: to + 2, Role: RoleFiller, Form: groupForm, Num: n, Score: worth.AirGroup})
		}
		return dst
	case s.may(to, isNumberedCompany):
	default:
		return dst
	}
	s.hits = s.lex.forms.Find(s.hits[:0], t, to, s.known[to].forms)
	for k := range s.hits {
		h := &s.hits[k]
		end := int(h.To)
		if s.lex.forms.Value(h).Role == RoleArm && s.may(end-1, isCompanyEnd) && end < len(t.Words) && t.Words[end].Num > 0 {
			dst = append(dst, Part{From: i, To: end, Role: RoleCompany, Num: n, Score: worth.SpecialCompany + worth.FurtherWord*float32(end-i-1)})
		}
	}
	return dst
}

// formParts adds what a form of the tables found at word i may be.
func (s *Scanner) formParts(dst []Part, i int, h *words.Found) []Part {
	t, end := s.text, int(h.To)
	f := s.lex.forms.Value(h)
	score := f.weight + Guess*float32(h.Guessed) + worth.FurtherWord*float32(end-i-1)
	for k := i; k < end-1; k++ {
		if t.Words[k].Has(words.LastInLine) {
			score += worth.FormBreaks // a form seldom breaks over lines
		}
	}
	if t.Words[i].Has(words.Lost) && (f.Role == RoleBody && strings.IndexByte(t.Key(i), '*') >= 0 || end == i+1 && h.Guessed > 1 && (t.Key(i)[0] == '*' || (f.Role == RoleState || t.Len(i) < 4) && strings.IndexByte(t.Key(i), '*') >= 0)) {
		score += worth.BodyWorn // "IND[---]" is Indiana sooner than the Indian Home Guard, and "[---]INF" infantry
	}
	if (f.postal || f.apart) && h.Guessed > 0 && end == i+1 {
		score += worth.PostalWorn // "1 M[.] CAV." is no Montana, "3 N. J. CA[.]." no coast artillery
	}
	if f.Role == RoleArm && end == i+1 && t.Len(i) == 2 && i > 0 && t.Words[i].Has(words.LastInLine) && !t.Words[i].Has(words.FirstInLine) && t.Key(i-1) == "*" && f.Arm != "" && s.state(i) == end {
		score += worth.ArmBehindGap // "BATT. D [---] LA": the state is lost, and it is no Louisiana
	}
	if f.Body == model.BodyVRC && h.Guessed > 0 && i > 0 && t.Words[i-1].Num > lastVRC {
		return dst // "143 IN[..]" is no Invalid Corps
	}
	if f.Role == RoleArm && f.several && end == i+1 && !s.whole && t.Words[i].Line == 0 && t.Words[i].Flags&(words.FirstInLine|words.LastInLine|words.Lost) == words.LastInLine && i > 0 && t.Words[i-1].Num < 1 && s.known[i-1] == (Word{}) {
		return dst // "JOHN HART / 13 IND.": behind a word of no unit the H and the ART. are not one word
	}
	p := Part{From: i, To: end, Role: f.Role, Form: f, Score: score}
	switch f.word {
	case companyWord, batteryWord:
		return lettered(dst, t, p)
	case regimentWord:
		if !s.whole && i == 0 {
			return dst
		}
		p.Score = worth.RegimentWord
		if n, to := followingNumber(t, end); to > 0 && s.whole {
			dst = append(dst, Part{From: i, To: to, Role: RoleNumber, Num: n, Score: score})
		}
		return append(dst, p)
	case divisionWord:
		return dst // taken with its number
	case legionWord:
		return dst // taken with the word before it, below
	case shipWord:
		return s.shipNames(dst, p)
	}
	dst = append(dst, p)
	return dst
}

// followingNumber is the number of a regiment at word i, and the word after it; 0 where none stands there.
func followingNumber(t *words.Text, i int) (n, to int) {
	if i < len(t.Words) && t.Words[i].Num > 0 && t.Words[i].Num < 1000 {
		return t.Words[i].Num, i + 1
	}
	return 0, 0
}

// lettered adds a company or battery with the letter, or number, that follows its word.
func lettered(dst []Part, t *words.Text, p Part) []Part {
	if p.To >= len(t.Words) {
		return dst
	}
	w := &t.Words[p.To]
	comma := t.Words[p.To-1].Has(words.CommaAfter)
	if t.Words[p.To-1].Has(words.LastInLine) {
		p.Score += worth.CompanyBreaks
	}
	key := t.Key(p.To)
	switch {
	case len(key) == 1 && (key[0] >= 'A' && key[0] <= 'M' || key[0] == '?'):
		p.To++
		p.Letter = key[0]
		p.Score += worth.CompanyLetter
		if key[0] == 'J' {
			p.Score += worth.CompanyJ
		}
		if comma {
			p.Score += worth.CompanyComma
		}
		dst = append(dst, p)
	case len(key) == 1 && key[0] >= 'N' && key[0] <= 'Z' && !comma && !w.Has(words.DotAfter):
		p.To++
		p.Letter = key[0]
		p.Score += worth.CompanyBeyondM
		dst = append(dst, p)
	case len(key) == 2 && key[1] == '?' && key[0] >= 'A' && key[0] <= 'M' && w.Has(words.Lost) && !w.Has(words.Note):
		p.To++
		p.Letter = key[0] // "CO. D[.]": the point is lost
		p.Score += worth.CompanyLetter
		dst = append(dst, p)
	case w.Flags&(words.Lost|words.Digits|words.Note|words.FirstInLine) == words.Lost|words.Digits && p.Form.word == companyWord && gapBefore(key) > 0: // "CO. [..]43D IND."
		p.Letter = '?'
		dst = append(dst, p)
	case (key == "*" || strings.HasPrefix(key, "??") && strings.Trim(key, "?") == "") && w.Has(words.Lost) && !w.Has(words.Note):
		p.To++
		p.Letter = '?'
		if (key == "*" || len(key) > 2) && p.Form.word == companyWord && p.To < len(t.Words) && !w.Has(words.LastInLine) && t.Words[p.To].Flags&(words.Digits|words.Lost) == 0 {
			p.Form = companyWorn // "CO. [---] INF."
		}
		dst = append(dst, p)
	case len(key) == 1 && w.Num >= 0 && w.Num < len(companyFigures) && companyFigures[w.Num] != 0 && p.Form.word == companyWord && !comma && p.To+1 < len(t.Words) && t.Words[p.To+1].Num > 0 && t.Words[p.To+1].Num < 400: // "CO. 4 / 129 OHIO INF."
		p.Letter = companyFigures[w.Num]
		p.To++
		p.Score += worth.CompanyFigure
		dst = append(dst, p)
	case w.Flags&(words.Lost|words.Digits|words.Note|words.FirstInLine) != words.Lost || p.Form.word != companyWord || t.Words[p.From].Line == 0:
	case key[0] == '*' || strings.HasPrefix(key, "???"): // "CO. [......]D. CAV.": its letter is lost, and the number
		p.Letter = '?'
		dst = append(dst, p)
	case key[0] >= 'A' && key[0] <= 'M' && (key[1] == '*' || strings.HasPrefix(key[1:], "???")): // "CO. D[---]. INF.", "CO. H[---]INF."
		p.To++
		p.Letter, p.Form = key[0], companyWorn
		switch rest := strings.TrimLeft(key[1:], "?*"); {
		case rest == "":
			if w.Has(words.LastInLine) {
				p.Form = companyWornLine
			}
			dst = append(dst, p)
		case w.Has(words.LastInLine):
			if arm := armBehindGap(rest); arm != nil {
				p.Form = arm.company
				dst = append(dst, p)
			}
		}
	}
	return dst
}

// companyFigures are the letters of companies that are taken for figures.
var companyFigures = [...]byte{0: 'D', 1: 'I', 4: 'A', 6: 'G', 8: 'B'}

// shipNames adds a ship with one, two and three words of its name.
func (s *Scanner) shipNames(dst []Part, p Part) []Part {
	t := s.text
	from := p.To
	p.NameFrom = from
	if s.may(from, isNoShip) { // "REVENUE CUTTER SERVICE"
		return dst
	}
	for n := 1; n <= 3 && from+n <= len(t.Words); n++ {
		w := &t.Words[from+n-1]
		if w.Has(words.Digits) || t.Len(from+n-1) < 2 || w.Flags&words.Note != 0 {
			break
		}
		if n > 1 && t.Words[from+n-2].Has(words.LastInLine) {
			break // a ship's name keeps to its line
		}
		q := p
		q.To = from + n
		q.Score += worth.Ship
		if w.Has(words.LastInLine) {
			q.Score += worth.ShipEndsLine
		}
		q.Score += worth.ShipWord * float32(n-1)
		dst = append(dst, q)
	}
	return dst
}
