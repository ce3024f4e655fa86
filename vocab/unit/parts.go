package unit

import (
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

// Scanner finds parts in texts. The zero Scanner is ready; not safe for use by several at once.
type Scanner struct {
	hits []words.Hit[Form]
}

// Guess is the score that one guessed letter costs.
const Guess = -0.7

// joined is what a form is worth for every word beyond its first: as much as the part that the word would have made.
const joined = 0.7

// Parts appends to dst what may start at word i. Whole is set where the text is a unit and nothing else, so that a lone letter is a
// company, as in a roster's cell.
func (s *Scanner) Parts(dst []Part, t *words.Text, i int, whole bool) []Part {
	at := int32(0)
	if h := theLexicon().heads.Of(t, i); h != nil {
		at = *h
	}
	return s.parts(dst, t, i, at, whole)
}

// PartsFrom is Parts of a text that is more than a unit, where at is what Heads told of word i, 0 where it told nothing.
func (s *Scanner) PartsFrom(dst []Part, t *words.Text, i int, at int32) []Part {
	return s.parts(dst, t, i, at, false)
}

// Heads tells of every word that may begin a part where PartsFrom starts with it: for those who look the words of a text up in a table of their own.
func Heads(head func(word string, at int32)) {
	for word, at := range theLexicon().heads.All() {
		head(word, *at)
	}
}

func (s *Scanner) parts(dst []Part, t *words.Text, i int, at int32, whole bool) []Part {
	if n, to := numberAt(t, i); to > i {
		dst = number(dst, t, i, to, n)
		dst = s.numbered(dst, t, i, to, n)
	}
	if n := t.Len(i); t.Words[i].Has(words.Lost) && n < 4 && t.Words[i].Flags&(words.LastInLine|words.Note) == 0 {
		score := float32(-9)
		switch key := t.Key(i); {
		case t.Words[i].Has(words.Digits) && n > 1: // "1[.]4": a number, though not which
			score = -0.3
		case key == "?" || key == "??" || key == "???": // "[..] WIS. INF."
			score = -1.2
		}
		if score > -9 {
			dst = append(dst, Part{From: i, To: i + 1, Role: RoleNumber, Score: score})
			if i+1 < len(t.Words) && isRegiment(t, i+1) {
				dst = append(dst, Part{From: i, To: i + 2, Role: RoleNumber, Form: regimentForm, Score: score + 1})
			}
		}
	}
	if t.Words[i].Has(words.Digits) {
		return dst
	}
	if whole && t.Len(i) == 1 && t.Words[i].Flags&words.Lost == 0 {
		if c := t.Key(i)[0]; c >= 'A' && c <= 'M' {
			dst = append(dst, Part{From: i, To: i + 1, Role: RoleCompany, Letter: c, Score: -1})
		}
	}
	s.hits = theLexicon().forms.FindFrom(s.hits[:0], t, i, at)
	for k := range s.hits {
		h := &s.hits[k]
		dst = formParts(dst, t, i, h, whole)
	}
	return dst
}

// number adds a number alone and with REGT after it.
func number(dst []Part, t *words.Text, i, to, n int) []Part {
	score := float32(0)
	if n > 999 {
		score = -4
	} else if n > 400 {
		score = -0.3
	}
	if t.Words[i].Has(words.Ordinal) {
		score += 0.3
	}
	dst = append(dst, Part{From: i, To: to, Role: RoleNumber, Num: n, Score: score})
	if to < len(t.Words) && isRegiment(t, to) {
		dst = append(dst, Part{From: i, To: to + 1, Role: RoleNumber, Form: regimentForm, Num: n, Score: score + 1})
	}
	return dst
}

func isRegiment(t *words.Text, i int) bool { return may(t, i, isRegimentWord) }

// numbered adds what a number makes with the word after it: "37 DIV", "3 CO".
func (s *Scanner) numbered(dst []Part, t *words.Text, i, to, n int) []Part {
	if to >= len(t.Words) || t.Words[to-1].Has(words.LastInLine) {
		return dst
	}
	if may(t, to, isDivision) && n < 110 {
		return append(dst, Part{From: i, To: to + 1, Role: RoleDivision, Num: n, Score: 0.5})
	} else if n < 110 && may(t, to, isDivisionArm) && may(t, to+1, isDivision) { // "96 INF DIV"; the arm is the division's, not the man's
		return append(dst, Part{From: i, To: to + 2, Role: RoleDivision, Num: n, Score: 2})
	}
	if !t.Words[to].Has(words.Digits) {
		dst = s.company(dst, t, i, to, n)
	}
	switch {
	case may(t, to, isBattalion):
		if n < 10 && to+1 < len(t.Words) && t.Words[to+1].Has(words.Digits) { // "1 BATTN. 12 U. S. INF.": a battalion of a regiment
			dst = append(dst, Part{From: i, To: to + 1, Role: RoleFiller, Num: n, Score: 1.5})
		}
	case may(t, to, isCompany):
		if n < 100 && !t.Words[to].Has(words.CommaAfter) && (to+1 >= len(t.Words) || t.Len(to+1) > 1 || t.Words[to+1].Has(words.Digits)) {
			dst = append(dst, Part{From: i, To: to + 1, Role: RoleCompany, Num: n, Score: -1.5})
		}
	}
	return dst
}

// company adds a numbered company that stands before the number of its own unit: "361 AMB CO 316 SAN TN".
func (s *Scanner) company(dst []Part, t *words.Text, i, to, n int) []Part {
	switch {
	case may(t, to, isBrigade): // "3 BRIG. BAND": the the brigade tells only of its band
		score := float32(0.5)
		if may(t, to+1, isBand) || may(t, i-1, isBand) {
			score = 2.5
		}
		return append(dst, Part{From: i, To: to + 1, Role: RoleFiller, Form: brigadeForm, Num: n, Score: score})
	case may(t, to, isBrigadeArm):
		if may(t, to+1, isBrigade) { // "51 ARTY BRIG"
			return append(dst, Part{From: i, To: to + 2, Role: RoleFiller, Form: brigadeForm, Num: n, Score: 2})
		}
		return dst
	case may(t, to, isArmy):
		if n < 30 && may(t, to+1, isCorps) { // "15 A. C."
			return append(dst, Part{From: i, To: to + 2, Role: RoleFiller, Form: corpsForm, Num: n, Score: 1})
		}
		return dst
	case may(t, to, isGroupKind):
		if may(t, to+1, isGroup) { // a squadron's group
			return append(dst, Part{From: i, To: to + 2, Role: RoleFiller, Form: groupForm, Num: n, Score: 2})
		}
		return dst
	case may(t, to, isNumberedCompany):
	default:
		return dst
	}
	at := int32(0)
	if h := theLexicon().heads.Of(t, to); h != nil {
		at = *h
	}
	s.hits = theLexicon().forms.FindFrom(s.hits[:0], t, to, at)
	for k := range s.hits {
		h := &s.hits[k]
		if h.Value.Role == RoleArm && may(t, h.To-1, isCompanyEnd) && h.To < len(t.Words) && t.Words[h.To].Num > 0 {
			dst = append(dst, Part{From: i, To: h.To, Role: RoleCompany, Num: n, Score: 1 + joined*float32(h.To-i-1)})
		}
	}
	return dst
}

func formParts(dst []Part, t *words.Text, i int, h *words.Hit[Form], whole bool) []Part {
	f := h.Value
	score := f.weight + Guess*float32(h.Guessed) + joined*float32(h.To-i-1)
	for k := i; k < h.To-1; k++ {
		if t.Words[k].Has(words.LastInLine) {
			score -= 0.6 // a form seldom breaks over lines
		}
	}
	p := Part{From: i, To: h.To, Role: f.Role, Form: f, Score: score}
	switch f.word {
	case companyWord, batteryWord:
		return lettered(dst, t, p)
	case regimentWord:
		if !whole && i == 0 {
			return dst
		}
		p.Score = -0.5
		if n, to := followingNumber(t, h.To); to > 0 && whole {
			dst = append(dst, Part{From: i, To: to, Role: RoleNumber, Num: n, Score: score})
		}
		return append(dst, p)
	case divisionWord:
		return dst // taken with its number
	case legionWord:
		return dst // taken with the word before it, below
	case shipWord:
		return shipNames(dst, t, p)
	}
	dst = append(dst, p)
	return dst
}

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
		p.Score -= 1
	}
	key := t.Key(p.To)
	switch {
	case len(key) == 1 && (key[0] >= 'A' && key[0] <= 'M' || key[0] == '?'):
		p.To++
		p.Letter = key[0]
		p.Score += 1
		if key[0] == 'J' {
			p.Score -= 0.7
		}
		if comma {
			p.Score -= 2
		}
		dst = append(dst, p)
	case len(key) == 1 && key[0] >= 'N' && key[0] <= 'Z' && !comma && !w.Has(words.DotAfter):
		p.To++
		p.Letter = key[0]
		p.Score -= 2.5
		dst = append(dst, p)
	case key == "*" && w.Has(words.Lost) && !w.Has(words.Note):
		p.To++
		p.Letter = '?'
		dst = append(dst, p)
	case w.Num > 0 && w.Num < 100 && p.Form.word == companyWord && !comma && t.Key(p.From)[0] == 'C':
		p.To++
		p.Num = w.Num
		p.Score -= 2
		dst = append(dst, p)
	}
	return dst
}

// shipNames adds a ship with one, two and three words of its name.
func shipNames(dst []Part, t *words.Text, p Part) []Part {
	from := p.To
	p.NameFrom = from
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
		q.Score += 2.5
		if w.Has(words.LastInLine) {
			q.Score += 0.8
		}
		q.Score -= 0.3 * float32(n-1)
		dst = append(dst, q)
	}
	return dst
}

// Legions adds a unit that is named by the word before its own: words i and i+1 as "DOBBS LEGION", "PARKERS BATTERY".
func Legions(dst []Part, t *words.Text, i int) []Part {
	if i+1 >= len(t.Words) || t.Words[i].Has(words.Digits) || t.Words[i].Has(words.LastInLine) || t.Len(i) < 3 {
		return dst
	}
	key, form := t.Key(i), legionForm
	if may(t, i, isCaptain) && may(t, i+2, isCompany) && t.Len(i+1) > 2 &&
		(i+3 >= len(t.Words) || t.Len(i+3) > 1) {
		return append(dst, Part{From: i, To: i + 3, Role: RoleNamed, Form: captainsCompany, NameFrom: i + 1, Score: 1.5})
	}
	if may(t, i, isColonel) && i+2 < len(t.Words) && isRegiment(t, i+2) && t.Len(i+1) > 2 && !t.Words[i+1].Has(words.Digits) {
		return append(dst, Part{From: i, To: i + 3, Role: RoleKind, Form: colonelsRegiment, NameFrom: i + 1, Score: 2.5}) // "COL. REED'S REGT."
	}
	switch t.Key(i + 1) {
	case "LEGION":
	case "LEG":
		if !t.Words[i+1].Has(words.LastInLine) {
			return dst
		}
	case "BATTERY", "BTRY":
		if key[len(key)-1] != 'S' || len(key) < 5 || i+2 < len(t.Words) && t.Len(i+2) == 1 {
			return dst
		}
		form = namedBattery
	default:
		return dst
	}
	if may(t, i, isNoLegion) {
		return dst
	}
	return append(dst, Part{From: i, To: i + 2, Role: RoleNamed, Form: form, NameFrom: i, Score: -0.5})
}

// The forms of units that are named by a word that no table knows.
var (
	legionForm       = &Form{Role: RoleNamed, Kind: "legion", Name: "Legion", word: legionWord, Source: "memory-sure"}
	brigadeForm      = &Form{Role: RoleFiller, Source: "common-practice"}
	corpsForm        = &Form{Role: RoleFiller, Source: "common-practice"}
	groupForm        = &Form{Role: RoleFiller, Source: "common-practice"}
	regimentForm     = &Form{Role: RoleNumber, word: regimentWord, Source: "memory-sure"}
	captainsCompany  = &Form{Role: RoleNamed, Kind: "designated", Name: "Company", word: legionWord, Source: "common-practice"}
	colonelsRegiment = &Form{Role: RoleKind, Kind: "designated", word: legionWord, Source: "common-practice"}
	namedBattery     = &Form{Role: RoleNamed, Kind: "legion", Name: "Battery", word: legionWord, Source: "memory-sure"}
)
