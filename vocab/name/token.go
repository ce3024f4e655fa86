package name

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// token is a word of a name, Leiden marks and all, without the point that ends it.
type token struct {
	text    string
	fold    string // its Fold
	pointed bool   // a point ended it
}

// initial reports whether the token is one letter that stands for a name.
func (t token) initial() bool { return len(t.fold) == 1 && t.fold != "*" }

// key is what the lists of suffixes, titles and the like know a word by: its Fold, or with figures ("2d") its letters and figures.
func (t token) key() string {
	if len(t.text) > 0 && t.text[0] >= '0' && t.text[0] <= '9' {
		return letters(t.text)
	}
	return t.fold
}

// tokens parts a name into its words at blanks, and at single points between letters ("J.W."), but never within brackets.
func tokens(s string) []token {
	list := make([]token, 0, 4)
	start := -1
	add := func(end int, pointed bool) {
		if start >= 0 && end > start {
			w := s[start:end]
			if !plain(w) {
				w = clean(strings.Trim(w, ",;:\"“”"))
			}
			// A word without a letter, a figure or a mark of loss is none.
			if t := (token{w, Fold(w), pointed}); t.fold != "" || strings.ContainsAny(w, "0123456789") {
				list = append(list, t)
			}
		}
		start = -1
	}
	for i := 0; i < len(s); {
		c := s[i]
		if n := closing(s[i:]); n > 0 {
			if start < 0 {
				start = i
			}
			i += n
			continue
		}
		switch {
		case c <= ' ' || c == 0x7f || c == '/' || c == '|':
			add(i, false)
			i++
			continue
		case c == '.':
			n := run(s[i:], '.')
			if n == 1 {
				add(i, true)
			} else if start < 0 {
				start = i
			}
			i += n
			continue
		case c >= utf8.RuneSelf:
			r, n := utf8.DecodeRuneInString(s[i:])
			if unicode.IsSpace(r) {
				add(i, false)
			} else if start < 0 {
				start = i
			}
			i += n
			continue
		}
		if start < 0 {
			start = i
		}
		i++
	}
	add(len(s), false)
	return list
}

// plain reports whether a word is all letters a to z.
func plain(w string) bool {
	for i := range len(w) {
		if c := w[i] | 0x20; c < 'a' || c > 'z' {
			return false
		}
	}
	return true
}

// clean writes out what the signs of a word leave plain: "A(nthony)" is "Anthony", "SMI<T>H" is "SMITH", "SMIT{T}H" is "SMITH", and a doubt in
// parentheses goes. What is lost, restored or unclear stays marked.
func clean(w string) string {
	if strings.ContainsAny(w, "({<") {
		var b strings.Builder
		for i := 0; i < len(w); {
			n := 0
			if w[i] != '[' {
				n = closing(w[i:])
			}
			switch {
			case n == 0:
				b.WriteByte(w[i])
				n = 1
			case w[i] == '{' || w[i] == '(' && remark(w[i+1:i+n-1]):
			default:
				b.WriteString(w[i+1 : i+n-1])
			}
			i += n
		}
		w = b.String()
	}
	if strings.ContainsFunc(w, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }) {
		// Blanks within brackets: one each, and none at the ends.
		w = strings.Join(strings.FieldsFunc(w, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }), " ")
	}
	return w
}

// closing gives the length of the bracketed stretch at the head of s, or 0 where none begins there or it is not closed.
func closing(s string) int {
	switch s[0] {
	case '[':
		if _, n, ok := bracketed(s); ok {
			return n
		}
	case '(':
		return strings.IndexByte(near(s), ')') + 1
	case '{':
		return strings.IndexByte(near(s), '}') + 1
	case '<':
		return strings.IndexByte(near(s), '>') + 1
	}
	return 0
}

// commas parts a name at its commas, brackets left whole.
func commas(s string) []string {
	parts := make([]string, 0, 3)
	start := 0
	for i := 0; i < len(s); {
		if n := closing(s[i:]); n > 0 {
			i += n
			continue
		}
		if s[i] == ',' || s[i] == ';' {
			parts = append(parts, strings.TrimSpace(s[start:i]))
			start = i + 1
		}
		i++
	}
	return append(parts, strings.TrimSpace(s[start:]))
}

// letters gives the key of a short word: its letters and figures in lower case.
func letters(s string) string {
	var b strings.Builder
	for _, r := range s {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}
