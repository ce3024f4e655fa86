package words

import (
	"strings"
	"unicode/utf8"
)

// splitter walks the text once. A word is open while start >= 0.
type splitter struct {
	t     *Text
	keys  []byte
	start int   // byte of the open word, or -1
	at    int   // its first letter in keys
	class byte  // what its letters are: 'a' letters, '0' digits, '&' a sign that stands for a word, 0 nothing but lost ones so far
	flags Flags // for the open word
	next  Flags // for the next word
	line  int
	paren int
	end   int // byte after the last word
}

// Split splits a text. Lines are parted by line breaks, or by " / " or " | ".
func Split(text string) *Text {
	t := &Text{Words: make([]Word, 0, len(text)/4+2), room: make([]byte, 0, len(text)+8)}
	t.Split(text)
	t.room = nil
	return t
}

// Split splits a text anew, and uses what the Text holds again: words of the text before are no longer good.
func (t *Text) Split(text string) {
	t.Raw, t.Words = text, t.Words[:0]
	s := splitter{t: t, keys: t.room[:0], start: -1, next: FirstInLine}
	for i := 0; i < len(text); {
		switch c := text[i]; {
		case c == ' ':
			s.close(i)
			i++
			continue
		case letter(c) && c != 'I' && c != 'l': // which may be figures
			s.put(c&^0x20, i, 'a')
			i++
		case c >= '1' && c <= '9' && !s.among(text, i):
			s.put(c, i, '0')
			i++
			continue
		default:
			i += s.step(text, i)
		}
		if s.start >= 0 && s.class == 'a' { // the rest of a word of plain letters
			for ; i < len(text) && letter(text[i]); i++ {
				s.keys = append(s.keys, text[i]&^0x20)
			}
		}
	}
	s.close(len(text))
	s.endLine()
	t.keys, t.room = string(s.keys), s.keys
	t.Lines = s.line + 1
}

// step takes what stands at byte i and returns how many bytes that was.
func (s *splitter) step(text string, i int) int {
	c := text[i]
	if c == 'I' || c == 'l' || c == '0' {
		if letter, class := s.alike(text, i); letter != 0 {
			s.put(letter, i, class)
			return 1
		}
	}
	switch {
	case c >= 'A' && c <= 'Z':
		s.put(c, i, 'a')
		return 1
	case c >= 'a' && c <= 'z':
		s.put(c-32, i, 'a')
		return 1
	case c >= '0' && c <= '9':
		if s.among(text, i) {
			s.put('?', i, 0)
			s.flags |= Lost
			return 1
		}
		s.put(c, i, '0')
		return 1
	case c >= utf8.RuneSelf:
		return s.rune(text, i)
	}
	switch c {
	case '\n', '\r':
		s.close(i)
		s.endLine()
	case ' ', '\t', '\v', '\f':
		s.close(i)
	case '/', '|':
		if (i == 0 || text[i-1] == ' ' || text[i-1] == '\n') && (i+1 == len(text) || text[i+1] == ' ' || text[i+1] == '\n' || text[i+1] == '\r') {
			s.close(i)
			s.endLine()
		} else {
			s.after(i, SlashAfter)
			s.next |= Glued
		}
	case '.':
		return s.dots(text, i)
	case ',', ';', ':':
		if c == ',' && s.thousands(text, i) {
			return 1
		}
		s.after(i, CommaAfter)
	case '-', '=', '~':
		if n := s.dashes(text, i); n > 0 {
			return n
		}
		open := s.start >= 0
		s.after(i, DashAfter)
		if open && i+1 < len(text) && letter(text[i+1]) {
			s.next |= Hyphenated
		}
	case '\'', '`':
		s.apostrophe(text, i+1)
	case '&':
		s.sign(i, i+1, "AND")
	case '_', '?', '+':
		return s.lostLetters(text, i)
	case '*':
		if s.start >= 0 || i+1 < len(text) && letter(text[i+1]) {
			s.put('*', i, 0)
			s.flags |= Lost
		} else {
			s.close(i)
		}
	case '[':
		return s.bracket(text, i)
	case '(':
		return s.round(text, i)
	case ')':
		s.close(i)
		s.paren = max(0, s.paren-1)
	case '<', '>', '{', '}':
		return s.angle(text, i)
	default:
		s.close(i)
	}
	return 1
}

func letter(c byte) bool { c &^= 0x20; return c >= 'A' && c <= 'Z' }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// put adds a letter to the open word, or opens one. A change between letters and digits parts two words, but for the ending of an ordinal.
func (s *splitter) put(c byte, i int, class byte) {
	if s.start >= 0 && class != 0 && s.class != 0 && class != s.class {
		s.close(i)
		s.next |= Glued
	}
	if s.start < 0 {
		s.start, s.at, s.flags, s.class = i, len(s.keys), s.next, 0
		s.next = 0
		if s.paren > 0 {
			s.flags |= InBrackets
		}
	}
	if class != 0 {
		s.class = class
	}
	s.keys = append(s.keys, c)
}

// close ends the open word at byte i.
func (s *splitter) close(i int) {
	if s.start < 0 {
		s.next &^= Hyphenated | Glued
		return
	}
	key := s.keys[s.at:]
	w := Word{From: s.start, To: i, Line: s.line, Num: -1, Flags: s.flags, at: s.at, end: len(s.keys), code: packed(key)}
	s.start = -1
	s.end = i
	if s.class == '0' {
		w.Flags |= Digits
		if w.Flags&Lost == 0 && len(key) <= 7 {
			w.Num = 0
			for _, c := range key {
				w.Num = w.Num*10 + int(c-'0')
			}
		}
	} else if w.Flags&Glued != 0 && s.ordinal(w, key) {
		return
	}
	s.t.Words = append(s.t.Words, w)
}

// ordinal joins a word to the number that it is glued to, where it is the ending of an ordinal.
func (s *splitter) ordinal(w Word, key []byte) bool {
	n := len(s.t.Words)
	if n > 0 && len(key) > 3 && (key[0] == 'T' || key[0] == 'N' || key[0] == 'R' || key[0] == 'S') && key[1] == '?' && key[2] == '?' && key[3] == '?' && s.t.Words[n-1].Flags&(Digits|Ordinal|SlashAfter|Lost) == Digits && s.t.Words[n-1].To == w.From {
		s.t.Words[n-1].Flags |= Ordinal // "27T[......] INF.": the rest of the ending is lost, with what stood behind it
		s.t.Words[n-1].To++
		w.From++
		w.at++
		w.code = packed(s.keys[w.at:w.end])
		w.Flags &^= Glued
		s.t.Words = append(s.t.Words, w)
		return true
	}
	if n == 0 || len(key) > 3 {
		return false
	}
	p := &s.t.Words[n-1]
	if p.Flags&Digits == 0 || p.Flags&(Ordinal|SlashAfter) != 0 || p.To != w.From {
		return false
	}
	switch string(key) {
	case "H", "T": // "38[.]H", "41[.]T": a letter of the ending is lost
		last := p.end - 1
		if p.Flags&Lost == 0 || last-p.at < 1 || s.keys[last] != '?' || strings.IndexByte(string(s.keys[p.at:last]), '?') >= 0 || key[0] == 'T' && s.keys[last-1] != '1' {
			return false
		}
		s.mend(p, last)
	case "S?", "N?", "R?", "T?": // "41S[.]"
		w.Flags &^= Lost
		if w.Flags&Unclear == 0 {
			p.Flags |= Unclear
		}
	case "ST", "ND", "RD", "TH", "DE", "TE", "DEN", "TEN": // "4DE MAI", "2TEN MAI"
	case "D":
		last := s.keys[p.end-1]
		if last == '?' && p.end-p.at > 2 && strings.IndexByte(string(s.keys[p.at:p.end-1]), '?') < 0 && (s.keys[p.end-2] == '2' || s.keys[p.end-2] == '3') { // "382[.]D": a letter of the ending is lost
			s.mend(p, p.end-1)
		} else if last != '2' && last != '3' {
			return false
		}
	default:
		return false
	}
	p.To = w.To
	p.Flags |= Ordinal
	if n := len(key); n == 2 && p.Flags&Lost != 0 && p.end-p.at > 1 && s.keys[p.end-1] == '?' && s.keys[p.end-2] != '1' && strings.IndexByte(string(s.keys[p.at:p.end-1]), '?') < 0 {
		if figure := strings.Index("ST ND RD", string(key)); figure >= 0 { // "4[.]ST" is the 41st
			s.keys[p.end-1] = byte('1' + figure/3)
			s.mend(p, p.end)
		}
	}
	s.keys = s.keys[:w.at]
	return true
}

// mend makes a number with a lost figure whole: its figures are those up to place end.
func (s *splitter) mend(p *Word, end int) {
	p.end, p.Num = end, 0
	for _, c := range s.keys[p.at:end] {
		p.Num = p.Num*10 + int(c-'0')
	}
	p.code = packed(s.keys[p.at:end])
	p.Flags = p.Flags&^Lost | Unclear
}

// after ends the open word and notes what follows it.
func (s *splitter) after(i int, f Flags) {
	s.close(i)
	if n := len(s.t.Words); n > 0 && s.t.Words[n-1].Line == s.line {
		s.t.Words[n-1].Flags |= f
	}
}

// endLine ends a line, unless nothing stands on it.
func (s *splitter) endLine() {
	n := len(s.t.Words)
	if n > 0 && s.t.Words[n-1].Line == s.line {
		s.bareNote(n)
		s.t.Words[len(s.t.Words)-1].Flags |= LastInLine
		s.line++
		s.next = FirstInLine
	}
	s.paren = 0
}

// dots takes a run of full stops: three or more stand for letters that cannot be read.
func (s *splitter) dots(text string, i int) int {
	n := 1
	for i+n < len(text) && text[i+n] == '.' {
		n++
	}
	if n < 3 || n > 40 {
		s.after(i, DotAfter)
		return n
	}
	if n == 3 && s.start < 0 && (i == 0 || strings.IndexByte(" \n", text[i-1]) >= 0) && (i+n == len(text) || strings.IndexByte(" \n", text[i+n]) >= 0) {
		s.put('*', i, 0) // "WILLIAM ...": words are gone, and nobody counted their letters
		s.flags |= Lost
		return n
	}
	s.lose(i, n)
	return n
}

// thousands reports whether the comma at byte i only parts the thousands of a number: "GRAVE 8,411".
func (s *splitter) thousands(text string, i int) bool {
	if s.start < 0 || s.class != '0' || len(s.keys)-s.at > 3 || len(text) < i+4 || !isDigit(text[i+1]) || !isDigit(text[i+2]) || !isDigit(text[i+3]) {
		return false
	}
	return len(text) == i+4 || !isDigit(text[i+4]) && strings.IndexByte("[?_*+", text[i+4]) < 0 // but "MAY 9,186[.]"
}

// lose adds n letters that cannot be read.
func (s *splitter) lose(i, n int) {
	for range n {
		s.put('?', i, 0)
	}
	s.flags |= Lost
}

// sign takes a sign, bytes from to to-1, that stands for a word.
func (s *splitter) sign(from, to int, word string) {
	s.close(from)
	for k := range len(word) {
		s.put(word[k], from, '&')
	}
	s.close(to)
}

// apostrophe takes an apostrophe; next is the byte after it.
func (s *splitter) apostrophe(text string, next int) {
	if next < len(text) && (letter(text[next]) || isDigit(text[next])) {
		if s.start < 0 {
			s.next |= Apostrophe
		}
		return // within or before a word: no part of it
	}
	s.close(next)
}

// dashes takes three hyphens or more behind letters, at a word's end, as the loss of the rest: "H--- / CO. B".
func (s *splitter) dashes(text string, i int) int {
	if s.start < 0 || s.class != 'a' {
		return 0
	}
	n := 0
	for i+n < len(text) && text[i+n] == '-' {
		n++
	}
	if n < 3 || i+n < len(text) && strings.IndexByte(" \t\n\r", text[i+n]) < 0 {
		return 0
	}
	s.put('*', i, 0)
	s.flags |= Lost
	s.close(i + n)
	return n
}

// alike is the letter that a slip of the typing hand has put for the other: an I or l before digits for 1, a 0 that ends letters for O: "I2 WIS.", "C0. F".
func (s *splitter) alike(text string, i int) (letter byte, class byte) {
	switch c := text[i]; {
	case c == 'I' || c == 'l':
		if s.start < 0 && i+1 < len(text) && isDigit(text[i+1]) && (i == 0 || text[i-1] == ' ' || text[i-1] == '\n') {
			return '1', '0'
		}
	case c == '0':
		if s.start >= 0 && s.class == 'a' && len(s.keys)-s.at == 1 && i+1 < len(text) && (text[i+1] == '.' || text[i+1] == ' ') && (s.keys[s.at] == 'C' || s.keys[s.at] == 'N') {
			return 'O', 'a'
		}
	}
	return 0, 0
}

// among reports whether the figure at byte i stands among letters, and so for a letter that was misread: "H4NS", "W1LLIAM"; but not in "S1C", a rate, in "L6TH" or in "B3WIS", a company and its regiment.
func (s *splitter) among(text string, i int) bool {
	if s.start < 0 || s.class != 'a' || i+1 >= len(text) || !letter(text[i+1]) {
		return false
	}
	to := i + 1
	for to < len(text) && letter(text[to]) {
		to++
	}
	before, after := s.keys[s.at:], text[i+1:to]
	if len(before)+len(after) < 3 || len(before) == 1 && before[0] <= 'M' && strings.IndexByte("0145", text[i]) < 0 {
		return false
	}
	switch after := strings.ToUpper(after); after {
	case "ST", "ND", "RD":
		return len(before) > 2 && text[i] != "123"[strings.Index("STNDRD", after)/2] // "EDW4RD"
	case "TH", "D", "C", "CL":
		return false
	}
	return true
}

// doubts reports whether a "?" before byte next is the recorder's doubt about the open word, and no lost letter: "SMITH?", "CO. E?", "1902?", but not "SM?TH", nor behind two letters, "JN? FOX", nor "190?".
func (s *splitter) doubts(text string, next int) bool {
	n := len(s.keys) - s.at
	if s.start < 0 || s.flags&Lost != 0 || s.class == 'a' && n == 2 || s.class != 'a' && (n != 4 || s.keys[s.at] != '1') {
		return false
	}
	return next == len(text) || strings.IndexByte(" \t\n\r.,;:)", text[next]) >= 0
}

// lostLetters takes "?", "_" and "+++" as letters that cannot be read, where they touch a word or stand for one.
func (s *splitter) lostLetters(text string, i int) int {
	n := 1
	for i+n < len(text) && text[i+n] == text[i] {
		n++
	}
	if text[i] == '?' && n == 1 && s.doubts(text, i+1) {
		s.flags |= Unclear
		s.close(i)
		return 1
	}
	touches := s.start >= 0 || i+n < len(text) && (letter(text[i+n]) || isDigit(text[i+n]))
	alone := text[i] == '?' && (i == 0 || text[i-1] == ' ' || text[i-1] == '\n')
	if n > 40 || !touches && !alone && (text[i] == '?' || n < 2) || text[i] == '+' && n < 2 {
		s.close(i)
		return n
	}
	s.lose(i, n)
	return n
}
