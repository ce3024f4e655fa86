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

// month gives the number of a month by any of the names and abbreviations that rosters and stones print; 0 if it is none.
// Common practice, no source; the forms with a number ("7ber" is September, the seventh month of the Roman year) likewise.
func month(w string) int {
	switch w {
	case "jan", "jany", "janry", "janu", "january":
		return 1
	case "feb", "feby", "febr", "febry", "febuary", "feburary", "february":
		return 2
	case "mar", "mch", "mrch", "march":
		return 3
	case "apr", "apl", "aprl", "april":
		return 4
	case "may":
		return 5
	case "jun", "jne", "june":
		return 6
	case "jul", "jly", "july":
		return 7
	case "aug", "augt", "augst", "agust", "august":
		return 8
	case "sep", "sept", "sepr", "septr", "septbr", "septmber", "september", "7ber", "7br", "7bre":
		return 9
	case "oct", "octr", "octo", "octbr", "october", "8ber", "8br", "8bre":
		return 10
	case "nov", "novr", "novbr", "november", "9ber", "9br", "9bre":
		return 11
	case "dec", "decr", "decbr", "december", "10ber", "10br", "10bre", "xber", "xbr":
		return 12
	}
	return 0
}

// seasonCode gives the EDTF code of a season's name; 0 if it is none.
func seasonCode(w string) int {
	switch w {
	case "spring":
		return 21
	case "summer":
		return 22
	case "autumn", "fall":
		return 23
	case "winter":
		return 24
	}
	return 0
}

// sense is what a word says of the date beside it.
type sense int

const (
	noSense sense = iota
	filler
	approximately
	uncertainly
	before
	after
	notAfter
	notBefore
	inBetween
	and
)

func senseOf(w string) sense {
	switch w {
	case "about", "abt", "abot", "circa", "ca", "c", "cir", "circ", "approx", "approximately", "around", "near", "nearly", "say", "est", "estimated":
		return approximately
	case "probably", "prob", "perhaps", "possibly", "poss", "maybe", "supposed", "supposedly", "presumably", "uncertain":
		return uncertainly
	case "before", "bef", "befr", "prior", "ante":
		return before
	case "after", "aft", "post", "since", "past":
		return after
	case "by":
		return notAfter
	case "from":
		return notBefore
	case "between", "betw", "btw", "bet", "betwn":
		return inBetween
	case "and", "or", "to", "thru", "through", "until", "till", "til":
		return and
	case "the", "of", "in", "on", "at", "a", "d", "ad", "day", "year", "yr", "anno", "domini", "died", "decd", "born", "b", "s",
		"early", "mid", "middle", "late", "latter", "part", "beginning", "end",
		"mon", "monday", "tue", "tues", "tuesday", "wed", "weds", "wednesday", "thu", "thur", "thurs", "thursday", "fri", "friday",
		"sat", "saturday", "sun", "sunday":
		return filler
	}
	return noSense
}
