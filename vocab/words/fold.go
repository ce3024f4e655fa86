package words

import (
	"unicode"
	"unicode/utf8"
)

// plain has the letters with marks that occur on American stones and rosters, and what they fold to.
var plain = map[rune]string{
	'À': "A", 'Á': "A", 'Â': "A", 'Ã': "A", 'Ä': "A", 'Å': "A", 'Æ': "AE", 'Ç': "C", 'È': "E", 'É': "E", 'Ê': "E", 'Ë': "E", 'Ì': "I", 'Í': "I",
	'Î': "I", 'Ï': "I", 'Ð': "D", 'Ñ': "N", 'Ò': "O", 'Ó': "O", 'Ô': "O", 'Õ': "O", 'Ö': "O", 'Ø': "O", 'Ù': "U", 'Ú': "U", 'Û': "U", 'Ü': "U",
	'Ý': "Y", 'Þ': "TH", 'Ā': "A", 'Ą': "A", 'Ć': "C", 'Č': "C", 'Ď': "D", 'Ę': "E", 'Ě': "E", 'Ē': "E", 'Ğ': "G", 'Ī': "I", 'Ł': "L", 'Ń': "N",
	'Ň': "N", 'Ō': "O", 'Ő': "O", 'Œ': "OE", 'Ř': "R", 'Ś': "S", 'Š': "S", 'Ş': "S", 'Ť': "T", 'Ū': "U", 'Ů': "U", 'Ű': "U", 'Ź': "Z", 'Ż': "Z",
	'Ž': "Z", 'ẞ': "SS", 'ß': "SS", 'ſ': "S",
}

// unclear has the letters that Unicode holds ready with a dot below, the Leiden mark of an unclear letter.
var unclear = map[rune]byte{
	'Ạ': 'A', 'Ḅ': 'B', 'Ḍ': 'D', 'Ẹ': 'E', 'Ḥ': 'H', 'Ị': 'I', 'Ḳ': 'K', 'Ḷ': 'L', 'Ṃ': 'M', 'Ṇ': 'N', 'Ọ': 'O', 'Ṛ': 'R', 'Ṣ': 'S', 'Ṭ': 'T',
	'Ụ': 'U', 'Ṿ': 'V', 'Ẉ': 'W', 'Ỵ': 'Y', 'Ẓ': 'Z',
}

const dotBelow = '\u0323'

// rune takes a character beyond ASCII.
func (s *splitter) rune(text string, i int) int {
	r, n := utf8.DecodeRuneInString(text[i:])
	up := unicode.ToUpper(r)
	if c, ok := unclear[up]; ok {
		s.put(c, i, 'a')
		s.flags |= Unclear
		return n
	}
	if f, ok := plain[up]; ok {
		for k := range len(f) {
			s.put(f[k], i, 'a')
		}
		return n
	}
	switch {
	case r == dotBelow:
		if s.start >= 0 {
			s.flags |= Unclear
		}
	case r == '’' || r == '‘' || r == 'ʼ':
		s.apostrophe(text, i+n)
	case r == '–' || r == '—' || r == '‒' || r == '−':
		s.after(i, DashAfter)
	case r == '…':
		for range 3 {
			s.put('?', i, 0)
		}
		s.flags |= Lost
	case r == '†' || r == '✝':
		s.close(i)
		for _, b := range []byte("DIED") {
			s.put(b, i, '&')
		}
		s.close(i + n)
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
