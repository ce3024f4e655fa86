package name

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"musterstone/vocab"
)

// Fold is what names are compared by: the letters a to z in lower case, accents, apostrophes, hyphens, blanks and points taken off. Of
// the Leiden marks, each lost letter becomes "?" ("W[..]LIAM" is "w??liam"), a loss of unknown length "*" ("[---]SON" is
// "*son"); a letter restored in brackets, expanded in parentheses or marked unclear by a dot below stays its letter, and
// what braces mark as superfluous goes. A figure between two letters is a letter that was misread, and so lost. "?" and "_" count as a lost letter, "*" as a loss of unknown length, and so do
// "[illegible]" and its like. A letter of another script is "?". Fold of a folded name is the same name.
func Fold(s string) string {
	var buf [64]byte
	if len(s) <= len(buf) {
		// Nearly all names are plain.
		n, changed := 0, false
		i := 0
	plain:
		for ; i < len(s); i++ {
			c := s[i]
			switch {
			case c >= 'a' && c <= 'z':
				buf[n] = c
				n++
			case c >= 'A' && c <= 'Z':
				buf[n] = c + ('a' - 'A')
				n++
				changed = true
			case c == ' ' || c == '\'' || c == ',':
				changed = true
			case (c == '.' || c == '-') && (i+1 == len(s) || s[i+1] != c):
				changed = true
			default:
				break plain
			}
		}
		if i == len(s) {
			if !changed {
				return s
			}
			return string(buf[:n])
		}
	}
	return string(appendFold(make([]byte, 0, len(s)), s))
}

func appendFold(dst []byte, s string) []byte {
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case c >= 'a' && c <= 'z':
			dst = append(dst, c)
		case c >= 'A' && c <= 'Z':
			dst = append(dst, c+('a'-'A'))
		case c == '?' || c == '_':
			dst = append(dst, '?')
		case c >= '0' && c <= '9':
			if i > 0 && isLetter(s[i-1]) && i+1 < len(s) && isLetter(s[i+1]) {
				dst = append(dst, '?') // a figure among letters is a letter that was misread
			}
		case c == '*' || c == ']':
			dst = appendLoss(dst)
		case c == '.' || c == '+':
			// Two or more are so many letters, seen but not read; one point ends an abbreviation.
			n := run(s[i:], c)
			if n > 1 {
				dst = appendLost(dst, n)
			}
			i += n
			continue
		case c == '-':
			n := run(s[i:], c)
			if n > 2 {
				dst = appendLoss(dst)
			}
			i += n
			continue
		case c == '[':
			content, n, ok := bracketed(s[i:])
			if !ok {
				dst = appendLoss(dst)
				break
			}
			dst = appendGap(dst, content)
			i += n
			continue
		case c == '{':
			if end := strings.IndexByte(near(s[i:]), '}'); end > 0 {
				i += end
			}
		case c == '(':
			if end := strings.IndexByte(near(s[i:]), ')'); end > 0 && remark(s[i+1:i+end]) {
				i += end
			}
		case c >= utf8.RuneSelf:
			r, n := utf8.DecodeRuneInString(s[i:])
			dst = appendRune(dst, r)
			i += n
			continue
		}
		i++
	}
	return dst
}

func isLetter(c byte) bool { c |= 0x20; return c >= 'a' && c <= 'z' }

// run counts how often the byte stands at the head of s.
func run(s string, c byte) int {
	n := 0
	for n < len(s) && s[n] == c {
		n++
	}
	return n
}

func appendLost(dst []byte, n int) []byte {
	for range min(n, 40) {
		dst = append(dst, '?')
	}
	return dst
}

func appendLoss(dst []byte) []byte {
	if len(dst) > 0 && dst[len(dst)-1] == '*' {
		return dst
	}
	return append(dst, '*')
}

// signLength is how far the closing sign of a bracket is looked for: no gap in a name is described at greater length.
const signLength = 100

// near gives the stretch of s in which the sign that closes its first one is looked for.
func near(s string) string { return s[:min(len(s), signLength)] }

// bracketed gives what stands in the square brackets at the head of s, single or double, and the length of it all.
func bracketed(s string) (content string, n int, ok bool) {
	s = near(s)
	if strings.HasPrefix(s, "[[") {
		if end := strings.Index(s, "]]"); end > 0 {
			return s[2:end], end + 2, true
		}
	}
	end := strings.IndexByte(s, ']')
	if end < 0 || strings.IndexByte(s[1:end], '[') >= 0 {
		return "", 0, false
	}
	return s[1:end], end + 1, true
}

// appendGap folds what stands in square brackets.
func appendGap(dst []byte, content string) []byte {
	t := strings.TrimSpace(content)
	dots, dashes, digits, others := 0, 0, 0, 0
	number := 0
	for _, r := range t {
		switch {
		case r == '.' || r == '+' || r == '?' || r == '_':
			dots++
		case r == '-' || r == '–' || r == '—' || r == '…' || r == '*':
			dashes++
		case r >= '0' && r <= '9':
			digits++
			number = min(number*10+int(r-'0'), 1000)
		case r == ' ':
		default:
			others++
		}
	}
	switch {
	case others == 0 && dashes == 0 && digits == 0 && dots > 0:
		return appendLost(dst, dots)
	case others == 0 && dashes == 0 && dots == 0 && digits > 0 && number > 0 && number <= 20:
		return appendLost(dst, number)
	case others == 0 || digits > 0 || lists().loss[strings.ToLower(strings.Trim(t, "?!. "))]:
		return appendLoss(dst)
	case strings.EqualFold(strings.Trim(t, "!"), "sic"):
		return dst
	}
	// Restored letters; a "?" at their end says that the restorer was not sure.
	return appendFold(dst, strings.TrimRight(t, "?"))
}

// remark reports whether what stands in parentheses is a remark on the writing and no part of it.
func remark(content string) bool {
	content = strings.ToLower(strings.Trim(content, " .!"))
	return content == "" || content == "?" || content == "??" || lists().remark[content]
}

// appendRune folds a letter beyond ASCII.
func appendRune(dst []byte, r rune) []byte {
	if unicode.Is(unicode.Mn, r) {
		return dst
	}
	if r == '…' {
		return appendLoss(dst)
	}
	if s, ok := vocab.PlainLetters(r); ok {
		return append(dst, s...)
	}
	if unicode.IsLetter(r) || r == utf8.RuneError {
		return append(dst, '?')
	}
	return dst
}

// Uncertain reports whether a writing has lost, restored, doubted or unclear letters.
func Uncertain(s string) bool {
	for i, r := range s {
		switch r {
		case '[', ']', '?', '*', '_', '…', vocab.DotBelow:
			return true
		case '.', '+':
			if run(s[i:], byte(r)) > 1 {
				return true
			}
		case '-':
			if run(s[i:], '-') > 2 {
				return true
			}
		}
		if vocab.Unclear(r) {
			return true
		}
	}
	return false
}

// wild reports whether a folded name has lost letters.
func wild(folded string) bool {
	for i := range len(folded) {
		if c := folded[i]; c == '?' || c == '*' {
			return true
		}
	}
	return false
}
