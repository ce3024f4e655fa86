package words

import (
	"unicode"
	"unicode/utf8"

	"musterstone/vocab"
)

// rune takes a character beyond ASCII.
func (s *splitter) rune(text string, i int) int {
	r, n := utf8.DecodeRuneInString(text[i:])
	if plain, ok := vocab.PlainLetters(r); ok {
		for k := range len(plain) {
			s.put(plain[k]&^0x20, i, 'a')
		}
		if vocab.Unclear(r) {
			s.flags |= Unclear
		}
		return n
	}
	switch {
	case r == vocab.DotBelow:
		if s.start >= 0 {
			s.flags |= Unclear
		}
	case r == '’' || r == '‘' || r == 'ʼ':
		s.apostrophe(text, i+n)
	case r == '–' || r == '—' || r == '‒' || r == '−':
		s.after(i, DashAfter)
	case r == '…':
		s.lose(i, 3)
	case r == '†' || r == '✝':
		s.sign(i, i+n, "DIED")
	case r == '\u2028' || r == '\u0085':
		s.close(i)
		s.endLine()
	case unicode.Is(unicode.Mn, r) || r == '\u00ad' || r == '\u200d':
		// an accent that stands by itself, or an invisible sign: no part of the letters
	case unicode.IsLetter(r):
		s.put('%', i, 'a') // a letter outside the Latin alphabet: kept, in no table
	default:
		s.close(i)
	}
	return n
}
