// This file tells the recorder's words about the stone from the stone's own.

package words

import (
	"strings"
	"sync"

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

// note takes a recorder's word about the stone. One that stands for lost letters is a word '*' of its own.
func (s *splitter) note(from, to int) {
	s.close(from)
	s.put('*', from, 0)
	s.flags |= Lost | Note
	s.close(to)
}
