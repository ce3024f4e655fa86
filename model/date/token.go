package date

import (
	"strings"
	"unicode"
)

// token is a number, a word in lower case without its apostrophes, or one mark.
type token struct {
	kind rune // 'n' number, 'w' word, else the mark itself
	text string
	num  int // -1 where it has more than eight digits
	// tight is set where no blank parts it from the token before.
	tight bool
	// ordinal is set for "9th"; d where it was "2d", which beside an age is two days; apostrophe for "'62".
	ordinal, d, apostrophe bool
}

// plainMarks folds the many dashes and quotes of print into one each, and sets brackets aside.
var plainMarks = strings.NewReplacer(
	"\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-", "\u2014", "-", "\u2015", "-", "\u2212", "-", "_", "-",
	"\u2018", "'", "\u2019", "'", "\u02bc", "'", "\u2032", "'", "`", "'", "\u00b4", "'",
	"\u00a0", " ", "\u2009", " ", "\u202f", " ",
	"(", " ", ")", " ", "[", " ", "]", " ", "{", " ", "}", " ", "\"", " ", "\u201c", " ", "\u201d", " ", ";", ",",
)

func isDigit(c rune) bool { return c >= '0' && c <= '9' }

// tokens cuts text into tokens. Full stops and commas stay, for they part "8.9.1864".
func tokens(s string) []token {
	r := []rune(strings.ToLower(plainMarks.Replace(s)))
	out := make([]token, 0, 8)
	tight := false
	for i := 0; i < len(r); {
		start := i
		switch c := r[i]; {
		case unicode.IsSpace(c):
			tight = false
			i++
			continue
		case isDigit(c):
			for i < len(r) && isDigit(r[i]) {
				i++
			}
			t := token{kind: 'n', text: string(r[start:i]), num: -1, tight: tight}
			if i-start <= 8 {
				t.num = 0
				for _, d := range r[start:i] {
					t.num = t.num*10 + int(d-'0')
				}
			}
			if n := len(out); n > 0 && out[n-1].kind == '\'' && tight {
				t.apostrophe, t.tight = true, out[n-1].tight
				out = out[:n-1]
			}
			end := i
			for end < len(r) && unicode.IsLetter(r[end]) {
				end++
			}
			switch suffix := string(r[i:end]); suffix {
			case "st", "nd", "rd", "th", "d":
				t.ordinal, t.d = true, suffix == "d"
				i = end
			case "ber", "br", "bre": // "7ber"
				if m := month(t.text + suffix); m != 0 {
					t = token{kind: 'w', text: t.text + suffix, tight: tight}
					i = end
				}
			}
			out = append(out, t)
		case unicode.IsLetter(c):
			var word []rune
			for i < len(r) && (unicode.IsLetter(r[i]) || r[i] == '\'' && i+1 < len(r) && unicode.IsLetter(r[i+1])) {
				if r[i] != '\'' {
					word = append(word, r[i])
				}
				i++
			}
			out = append(out, token{kind: 'w', text: string(word), tight: tight})
		default:
			i++
			if n := len(out); c == '-' && n > 0 && out[n-1].kind == '-' {
				out[n-1].text += "-"
				break
			}
			out = append(out, token{kind: c, text: string(c), tight: tight})
		}
		tight = true
	}
	return out
}
