package name

import (
	"strings"
	"unicode"
)

// ordinary gives a word in ordinary capitals: "MCNEIL" is "McNeil", "O'HARE" is "O'Hare", "SMITH-JONES" is "Smith-Jones", "W[..]LIAM" is
// "W[..]liam". A word that has capitals and small letters already, and anything that is no letter, stays.
func ordinary(word string) string {
	if s, ok := capitals(word); ok {
		return scottish(s)
	}
	upper, lower := 0, 0
	for _, r := range word {
		switch {
		case unicode.IsUpper(r):
			upper++
		case unicode.IsLower(r):
			lower++
		}
	}
	if head := mixed(word); head > 0 && upper > 0 && lower > 0 {
		return word[:head] + capitalised(strings.ToLower(word[head:])) // "McCLURE", "DeWITT"
	}
	if upper > 0 && lower > 0 || upper+lower == 0 || upper == 1 && len(word) == 1 {
		return word
	}
	runes := []rune(word)
	first := true // the next letter begins a word
	for i, r := range runes {
		switch {
		case unicode.IsLetter(r):
			if first {
				runes[i] = unicode.ToUpper(r)
			} else {
				runes[i] = unicode.ToLower(r)
			}
			first = false
		case r == '-':
			first = i+1 < len(runes) && runes[i+1] != '-' && (i == 0 || runes[i-1] != '-') && !within(runes, i)
		case isApostrophe(r):
			// O'Hare and D'Arcy; but Jno's has no second capital.
			first = i == 1 && strings.ContainsRune(elided, unicode.ToLower(runes[0]))
		case unicode.Is(unicode.Mn, r) || unicode.IsDigit(r):
		case r == '.' || r == '?' || r == '_' || r == '*' || r == '+' || r == '…':
			first = false // lost letters begin the word
		}
	}
	return scottish(string(runes))
}

// capitals gives a word of plain capitals alone, which nearly all are, with small letters after the first; ok is false for any other.
func capitals(word string) (s string, ok bool) {
	var buf [32]byte
	if len(word) < 2 || len(word) > len(buf) {
		return word, len(word) == 1 && word[0] >= 'A' && word[0] <= 'Z'
	}
	for i := range len(word) {
		c := word[i]
		if c < 'A' || c > 'Z' {
			return "", false
		}
		buf[i] = c + ('a' - 'A')
	}
	buf[0] = word[0]
	return string(buf[:len(word)]), true
}

// mixed is the length of the head of a word that is all capitals but for the small letters of its prefix, "McCLURE": up to and with those; 0 for none.
func mixed(word string) int {
	head := 0
	for head < len(word) && word[head] >= 'A' && word[head] <= 'Z' {
		head++
	}
	small := head
	for small < len(word) && word[small] >= 'a' && word[small] <= 'z' {
		small++
	}
	if head != 1 || small == head || small > 4 || len(word)-small < 2 {
		return 0
	}
	for i := small; i < len(word); i++ {
		if word[i] < 'A' || word[i] > 'Z' {
			return 0
		}
	}
	return small
}

// within reports whether the rune at i stands in brackets.
func within(runes []rune, i int) bool {
	for j := i; j >= max(0, i-signLength); j-- {
		switch runes[j] {
		case '[':
			return true
		case ']':
			return false
		}
	}
	return false
}

func isApostrophe(r rune) bool { return r == '\'' || r == '’' || r == '‘' || r == '`' }

// scottish gives the second capital of Mc and, where the rest is a well-known stem, of Mac.
func scottish(word string) string {
	if rest, ok := strings.CutPrefix(word, "Mc"); ok && len(rest) > 1 {
		return "Mc" + capitalised(rest)
	}
	if rest, ok := strings.CutPrefix(word, "Mac"); ok {
		if lists().macStem[rest] {
			return "Mac" + capitalised(rest)
		}
	}
	return word
}

func capitalised(s string) string {
	for i, r := range s {
		if unicode.IsLetter(r) {
			return s[:i] + string(unicode.ToUpper(r)) + s[i+len(string(r)):]
		}
		if r != '[' && r != '(' && r != '<' {
			break // a lost letter begins it
		}
	}
	return s
}
