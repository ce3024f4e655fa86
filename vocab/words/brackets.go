package words

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"musterstone/vocab"
)

// notes are the words that recorders write in brackets about the stone: true for those of which one makes a note of a longer text, for they speak of what is
// lost or of the stone itself. They are the table recorder-notes.
var notes = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, r := range vocab.Rows("recorder-notes") {
		m[strings.ToUpper(r.Get("words"))] = r.Get("stands") == "lost" || r.Get("stands") == "stone"
	}
	return m
})

// noteWords are the words that notes are made of: true for those of which one makes a note of a line without brackets.
var noteWords = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, r := range vocab.Rows("recorder-notes") {
		for w := range strings.FieldsSeq(strings.ToUpper(r.Get("words"))) {
			m[w] = false
		}
	}
	for _, r := range vocab.Rows("recorder-notes") {
		if strings.Contains(r.Get("bare"), "word") {
			m[strings.ToUpper(r.Get("words"))] = true
		}
	}
	return m
})

// bareNotes are those that stand for a note without brackets too, where they fill a line: by their first word, the words as capitals.
var bareNotes = sync.OnceValue(func() map[string][]string {
	m := map[string][]string{}
	for _, r := range vocab.Rows("recorder-notes") {
		if strings.Contains(r.Get("bare"), "line") {
			words := strings.ToUpper(r.Get("words"))
			first, _, _ := strings.Cut(words, " ")
			m[first] = append(m[first], words)
		}
	}
	return m
})

// noteHeads are the words that a note without brackets may begin with.
var noteHeads = sync.OnceValue(func() *Table[bool] {
	var t Table[bool]
	for word := range bareNotes() {
		*t.At(word) = true
	}
	for word := range noteWords() {
		*t.At(word) = true
	}
	return &t
})

// bareNote makes one note of the words of a line, the last of which is word n-1, where they are a recorder's.
func (s *splitter) bareNote(n int) {
	from := n - 1
	for from > 0 && s.t.Words[from-1].Line == s.line {
		from--
	}
	w := s.t.Words[from:n]
	if code := w[0].code; code != 0 && noteHeads().get(code, "") == nil {
		return
	}
	first := s.keys[w[0].at:w[0].end]
	forms := bareNotes()[string(first)]
	known := noteWords()
	if _, ok := known[string(first)]; forms == nil && (len(w) < 2 || len(w) > 6 || !ok) {
		return
	}
	speaks := len(w) > 1 // "TOP LINE WORN": only words of notes, and one that speaks of what is lost
	lost := false
	for i := range w {
		key := s.keys[w[i].at:w[i].end]
		tells, ok := known[string(key)]
		speaks = speaks && w[i].Flags&(Digits|Lost) == 0 && ok
		lost = lost || tells
	}
	if speaks && lost {
		s.makeNote(w)
		s.t.Words = s.t.Words[:from+1]
		return
	}
	var line []byte
	for i := range w {
		if i > 0 {
			line = append(line, ' ')
		}
		line = append(line, s.keys[w[i].at:w[i].end]...)
	}
	for _, form := range forms {
		if form == string(line) {
			s.makeNote(w)
			s.t.Words = s.t.Words[:from+1]
			return
		}
	}
}

// makeNote makes a note of the words that a line ends with, in the first of them.
func (s *splitter) makeNote(w []Word) {
	s.keys = append(s.keys[:w[0].at], '*')
	w[0].To, w[0].Num, w[0].end, w[0].code = w[len(w)-1].To, -1, len(s.keys), packed(s.keys[w[0].at:])
	w[0].Flags = FirstInLine | Lost | Note
}

// isNote reports whether a recorder's words speak of the stone: a row of the table, or several words of which one says that something cannot be read.
func isNote(text string) bool {
	text = strings.ToUpper(strings.TrimRight(text, " .?!"))
	if _, ok := notes()[text]; ok {
		return true
	}
	if !strings.Contains(text, " ") {
		return false
	}
	for w := range strings.FieldsSeq(text) {
		if notes()[strings.Trim(w, ",.;:")] {
			return true
		}
	}
	return false
}

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
	case onlyOf(trimmed, ".·"):
		s.lose(i, utf8.RuneCountInString(trimmed))
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
	if end >= len(text) || !(letter(text[end]) || isDigit(text[end]) || text[end] == '[' || text[end] == '(' || text[end] >= utf8.RuneSelf) {
		s.close(end)
	}
}

// note takes a recorder's word about the stone. One that stands for lost letters is a word '*' of its own.
func (s *splitter) note(from, to int) {
	s.close(from)
	s.put('*', from, 0)
	s.flags |= Lost | Note
	s.close(to)
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
