package rdf

import (
	"fmt"
	"strings"
	"unicode/utf8"

	knakk "github.com/knakk/rdf"
)

// isPNBase is the rule PN_CHARS_BASE of Turtle and N-Triples.
func isPNBase(r rune) bool {
	switch {
	case r < 0x80:
		return isLetter(byte(r))
	case r < 0xC0, r == 0xD7, r == 0xF7, r == 0x37E:
		return false
	case r <= 0x2FF, r >= 0x370 && r <= 0x1FFF, r >= 0x200C && r <= 0x200D, r >= 0x2070 && r <= 0x218F, r >= 0x2C00 && r <= 0x2FEF,
		r >= 0x3001 && r <= 0xD7FF, r >= 0xF900 && r <= 0xFDCF, r >= 0xFDF0 && r <= 0xFFFD, r >= 0x10000 && r <= 0xEFFFF:
		return true
	}
	return false
}

// isPNU is the rule PN_CHARS_U: PN_CHARS_BASE or "_".
func isPNU(r rune) bool { return r == '_' || isPNBase(r) }

// isPN is the rule PN_CHARS.
func isPN(r rune) bool {
	return isPNU(r) || r == '-' || r >= '0' && r <= '9' || r == 0xB7 || r >= 0x300 && r <= 0x36F || r == 0x203F || r == 0x2040
}

// blankLabel takes a blank node's label (after "_:") off the front of s, and gives its length; 0 where there is none.
func blankLabel(s string) int {
	end := 0
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError && n <= 1 {
			break
		}
		if i == 0 && !isPNU(r) && (r < '0' || r > '9') {
			break
		}
		if r != '.' && !isPN(r) {
			break
		}
		i += n
		if r != '.' {
			end = i
		}
	}
	return end
}

// langTag takes a language tag (after "@") off the front of s, by the grammar's rule; 0 where there is none.
func langTag(s string) int {
	i := 0
	for i < len(s) && isLetter(s[i]) {
		i++
	}
	if i == 0 {
		return 0
	}
	for i+1 < len(s) && s[i] == '-' && (isLetter(s[i+1]) || isDigit(s[i+1])) {
		i++
		for i < len(s) && (isLetter(s[i]) || isDigit(s[i])) {
			i++
		}
	}
	return i
}

// unescape puts the characters for the escapes of a literal, or of an IRI, where only \u and \U are allowed. A code point that is no
// character (a surrogate, or beyond U+10FFFF) is an error.
func unescape(s string, iri bool) (string, error) {
	i := strings.IndexByte(s, '\\')
	if i < 0 {
		return s, nil
	}
	var b strings.Builder
	b.Grow(len(s))
	for i >= 0 {
		b.WriteString(s[:i])
		s = s[i:]
		if len(s) < 2 {
			return "", fmt.Errorf("the text ends in a backslash")
		}
		n := 2
		switch c := s[1]; c {
		case 'u', 'U':
			n = 6
			if c == 'U' {
				n = 10
			}
			if len(s) < n {
				return "", fmt.Errorf("escape %s has too few digits", shorten(s))
			}
			var r rune
			for _, d := range []byte(s[2:n]) {
				if !isHex(d) {
					return "", fmt.Errorf("escape %s has a digit that is not hexadecimal", shorten(s[:n]))
				}
				if r > 0x10FFFF {
					break
				}
				r = r<<4 | rune(hexValue(d))
			}
			if r > 0x10FFFF || !utf8.ValidRune(r) {
				return "", fmt.Errorf("escape %s is no character", s[:n])
			}
			b.WriteRune(r)
		default:
			j := strings.IndexByte(`tbnrf"'\`, c)
			if j < 0 || iri {
				return "", fmt.Errorf("escape %s is not known here", shorten(s[:2]))
			}
			b.WriteByte("\t\b\n\r\f\"'\\"[j])
		}
		s = s[n:]
		i = strings.IndexByte(s, '\\')
	}
	b.WriteString(s)
	return b.String(), nil
}

func hexValue(c byte) byte {
	if isDigit(c) {
		return c - '0'
	}
	return c | 0x20 - 'a' + 10
}

// readIRIRef checks and unescapes the text between "<" and ">" by the rule IRIREF.
func readIRIRef(raw string) (string, error) {
	s, err := unescape(raw, true)
	if err != nil {
		return "", fmt.Errorf("IRI <%s>: %w", raw, err)
	}
	if !utf8.ValidString(s) {
		return "", fmt.Errorf("IRI %s is not UTF-8", shorten(raw))
	}
	for i := 0; i < len(s); i++ {
		if c := s[i]; c <= 0x20 || strings.IndexByte("<>\"{}|^`\\", c) >= 0 {
			return "", fmt.Errorf("IRI %s: character %q is not allowed", shorten(raw), c)
		}
	}
	return s, nil
}

// foreignIRI makes a term of an IRI that was read: it must be absolute, and is otherwise held to the grammar only.
func foreignIRI(s string) (IRI, error) {
	i := strings.IndexByte(s, ':')
	if i <= 0 || !isScheme(s[:i]) {
		return IRI{}, fmt.Errorf("IRI <%s> is not absolute", s)
	}
	return knakk.NewIRI(s)
}
