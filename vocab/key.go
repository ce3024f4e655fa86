package vocab

import "strings"

// Key is how forms of words are compared: lower case, letters and digits only, ordinals as bare numbers, "&" as "and".
// "1ST. SERG'T", "1 Sergt." and "First Sergt" have one key, "1sergt"; "N. Y." and "ny" have one, "ny".
func Key(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	word := make([]byte, 0, 16)
	flush := func() {
		if o, ok := ordinals[string(word)]; ok {
			b.WriteString(o)
		} else {
			b.Write(word)
		}
		word = word[:0]
	}
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			word = append(word, byte(r))
		case r >= 'A' && r <= 'Z':
			word = append(word, byte(r-'A'+'a'))
		case r == '\'' || r == '’' || r == '‘' || r == '`':
		case r == '&':
			flush()
			b.WriteString("and")
		case r > 0x7f:
			if t, ok := PlainLetters(r); ok {
				word = append(word, t...)
			} else {
				word = append(word, string(r)...)
			}
		default:
			flush()
		}
	}
	flush()
	return b.String()
}

var ordinals = map[string]string{
	"1st": "1", "first": "1", "2d": "2", "2nd": "2", "second": "2", "3d": "3", "3rd": "3", "third": "3",
	"4th": "4", "fourth": "4", "5th": "5", "fifth": "5", "6th": "6", "sixth": "6", "7th": "7", "seventh": "7",
}
