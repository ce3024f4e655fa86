package words

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// bracket takes a square bracket: lost, restored or erased letters, or the recorder's note.
func (s *splitter) bracket(text string, i int) int {
	body := text[i+1:]
	end := strings.IndexByte(body, ']')
	if nl := strings.IndexByte(body, '\n'); end < 0 || nl >= 0 && nl < end {
		s.close(i)
		return 1
	}
	whole := end + 2
	if end > 0 && body[0] == '[' { // erased letters stay
		s.letters(text, i+2, i+1+end)
		if end+1 < len(body) && body[end+1] == ']' {
			whole++
		}
		return whole
	}
	body = body[:end]
	trimmed := strings.TrimSpace(body)
	switch {
	case trimmed == "" || trimmed == "?" || onlyOf(trimmed, "- –—") || measured(trimmed):
		s.put('*', i, 0)
		s.flags |= Lost
		s.touch(text, i+whole)
	case onlyOf(trimmed, ".· "):
		s.lose(i, utf8.RuneCountInString(strings.ReplaceAll(trimmed, " ", "")))
		s.touch(text, i+whole)
	case trimmed == "…":
		s.lose(i, 3)
		s.touch(text, i+whole)
	default:
		if isNote(trimmed) {
			s.note(i, i+whole)
			return whole
		}
		to := i + 1 + end
		if first, _, two := strings.Cut(strings.ToLower(body), " or "); two && !strings.Contains(strings.TrimSpace(first), " ") {
			to = i + 1 + len(first) // "[F or E]": the first, and the recorder's doubt
		}
		s.letters(text, i+1, to)
		s.touch(text, i+whole)
	}
	return whole
}

// touch keeps the bracket with the open word, so that the word's bytes hold it.
func (s *splitter) touch(text string, end int) {
	if s.start < 0 {
		return
	}
	if end+1 < len(text) && text[end] == '\'' && letter(text[end+1]) && s.class == 'a' {
		return // "IN[.]'Y", but not "14 [.]'S"
	}
	if end >= len(text) || !(letter(text[end]) || isDigit(text[end]) || text[end] == '[' || text[end] == '(' || text[end] >= utf8.RuneSelf) {
		s.close(end)
	}
}

// letters takes the letters within brackets, bytes from to to-1 of the text, as restored.
func (s *splitter) letters(text string, from, to int) {
	for k := from; k < to; {
		c := text[k]
		switch {
		case c == '.' && k == to-1 && k > from && letter(text[k-1]) && (to+1 >= len(text) || !letter(text[to+1])):
			k++ // "PENN[A.]": the point of an abbreviation
		case c == '.':
			s.put('?', k, 0)
			s.flags |= Lost
			k++
		case c == '?' && k > from && text[k-1] == ' ':
			s.put('?', k, 0)
			s.flags |= Lost
			k++
		case c == '-' && k+1 < to && text[k+1] == '-':
			s.put('*', k, 0)
			s.flags |= Lost
			for k < to && (text[k] == '-' || text[k] == ' ') {
				k++
			}
		case letter(c) || isDigit(c) || c == ' ' || c >= utf8.RuneSelf:
			k += s.step(text, k)
		default:
			k++
		}
		if s.start >= 0 {
			s.flags |= Restored
			if s.start == from && from > s.end {
				s.start = from - 1
			}
		}
	}
}

// round takes "(": the expansion of an abbreviation where it touches a letter, else ordinary brackets.
func (s *splitter) round(text string, i int) int {
	body := text[i+1:]
	end := strings.IndexByte(body, ')')
	if end < 0 || end > 60 {
		s.close(i)
		return 1
	}
	inner := strings.TrimSpace(body[:end])
	if n := len(s.t.Words); n > 0 && s.start < 0 && s.t.Words[n-1].Line == s.line && (onlyOf(inner, "?!") || another(inner) || strings.EqualFold(inner, "sic") || strings.EqualFold(inner, "sic!")) {
		s.t.Words[n-1].To, s.end = i+end+2, i+end+2 // "JAMES (?)": a doubt about the word before
		s.t.Words[n-1].Flags |= Unclear
		return end + 2
	}
	if isNote(inner) || onlyOf(inner, "?!") {
		s.note(i, i+end+2)
		return end + 2
	}
	if s.start >= 0 && s.class == 'a' && onlyLetters(inner) && inner != "" {
		for k := i + 1; k < i+1+end; {
			k += s.step(text, k)
		}
		s.touch(text, i+end+2)
		return end + 2
	}
	if len(inner) > 3 && strings.EqualFold(inner[:3], "or ") && !strings.ContainsAny(strings.TrimSpace(inner[3:]), " /|\n") {
		if n := len(s.t.Words); s.start < 0 && n > 0 && s.t.Words[n-1].Line == s.line {
			s.t.Words[n-1].To = i + end + 2 // "B. (or R.)": the recorder's doubt, kept with the word
			s.end = i + end + 2
			return end + 2
		}
	}
	s.close(i)
	s.paren++
	return 1
}

// another reports whether brackets give one other way to read the word before: "F (E?)", "HALL (HULL?)".
func another(inner string) bool {
	return len(inner) > 1 && strings.HasSuffix(inner, "?") && onlyLetters(inner[:len(inner)-1])
}

// angle takes "<abc>", letters that the cutter left out, and "{abc}", letters that he cut by mistake.
func (s *splitter) angle(text string, i int) int {
	end, closing := -1, byte('>')
	if text[i] == '{' {
		closing = '}'
	}
	if text[i] != closing && text[i] != '>' {
		end = strings.IndexByte(text[i+1:], closing)
	}
	if end < 1 || end > 20 || !onlyLetters(text[i+1:i+1+end]) {
		s.close(i)
		return 1
	}
	if text[i] == '<' {
		for k := i + 1; k < i+1+end; {
			k += s.step(text, k)
		}
		s.flags |= Restored
		s.start = max(min(s.start, i), s.end)
	}
	s.touch(text, i+end+2)
	return end + 2
}

// measured reports whether brackets hold only a count of lost letters: "c. 5", "5-7".
func measured(s string) bool {
	s = strings.TrimPrefix(strings.TrimPrefix(strings.ToLower(s), "ca"), "c")
	return onlyOf(s, ".0123456789-– ") && strings.ContainsAny(s, "0123456789") && len(s) <= 6 &&
		!onlyOf(s, "0123456789") // a number alone is a restored number
}

func onlyOf(s, set string) bool {
	for _, r := range s {
		if !strings.ContainsRune(set, r) {
			return false
		}
	}
	return s != ""
}

func onlyLetters(s string) bool {
	for _, r := range s {
		if !unicode.IsLetter(r) {
			return false
		}
	}
	return true
}
