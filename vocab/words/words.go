// Package words splits period text into words and finds the forms of a table in them.
//
// A word is a run of letters or a run of digits, in capitals without accents, points and apostrophes; "47ILLS." is two words, "U.S.C.I."
// four. What damage left of a word stays in it by the Leiden conventions: '?' is one lost letter and '*' an unknown number
// of them, so that "W[..]LIAM" is the word W??LIAM. A figure among letters is a letter that was misread, and so lost: "H4NS" is H?NS. A "?" behind a whole word is the recorder's doubt and leaves the word as it is, and a line that is
// a recorder's note ("see photo", "top line worn") is one, brackets or not. Every word knows the bytes of the text that it came from.
//
//	t := words.Split("CORPL / JNO. T. HOLDEN")
//	t.Key(1) // "JNO"
//
// The only table that the package knows is that of the notes of recorders; it takes nothing for granted about what a word means.
package words

import (
	"slices"
	"strings"
)

// Flags say what stood round a word, and what was done to it.
type Flags uint32

// The flags of a word.
const (
	FirstInLine Flags = 1 << iota
	LastInLine
	Digits     // a number
	Ordinal    // a number written with ST, ND, RD, TH or D, or with the DE, TE, DEN, TEN of German and Norwegian
	Lost       // has lost letters
	Unclear    // has an unclear letter (dot below)
	Restored   // has letters that the recorder restored
	Glued      // no blank before it: "ILLS" in "47ILLS"
	DotAfter   // a full stop follows
	CommaAfter // a comma, semicolon or colon follows
	DashAfter  // a hyphen, dash or equals sign follows
	SlashAfter // a slash within the line follows
	Apostrophe // an apostrophe stands before it: '62
	InBrackets // within round brackets
	Note       // the recorder's own word about the stone, "[illegible]": no part of the text
	Hyphenated // joined to the word before by a hyphen without blanks
	Short      // has lost one letter without a mark: set by whoever found that out, who knows of the word what is told of it with that letter
	Long       // has one letter too many: likewise
)

// Word is one word of a Text.
type Word struct {
	// From and To are its bytes in the text, brackets of damage included.
	From, To int
	// Line is the number of its line, from 0.
	Line int
	// Num is the value of a word of digits without damage; -1 for any other.
	Num   int
	Flags Flags

	at, end int    // its letters in keys
	code    uint64 // its letters, packed
}

// Has reports whether the word carries all of the flags.
func (w *Word) Has(f Flags) bool { return w.Flags&f == f }

// Text is a text split into words.
type Text struct {
	Raw   string
	Words []Word
	Lines int

	keys string
	room []byte // used again for the letters of the next text
}

// Key is the word's letters: "JNO", "31", "W??LIAM".
func (t *Text) Key(i int) string { return t.keys[t.Words[i].at:t.Words[i].end] }

// Join is the letters of words i to j-1 without anything between them.
func (t *Text) Join(i, j int) string { return t.keys[t.Words[i].at:t.Words[j-1].end] }

// Span is the text from word i to word j-1, as written.
func (t *Text) Span(i, j int) string { return t.Raw[t.Words[i].From:t.Words[j-1].To] }

// Fuse joins word i to the word behind it, which it touches; whichever of the two is a figure becomes a lost letter of the whole.
func (t *Text) Fuse(i int) {
	w, next := &t.Words[i], &t.Words[i+1]
	lost := w.at
	if next.Has(Digits) {
		lost = next.at
	}
	t.keys = t.keys[:lost] + "?" + t.keys[lost+1:]
	w.Flags = (w.Flags|next.Flags)&^Digits&^(Glued|LastInLine|DotAfter|CommaAfter|DashAfter|SlashAfter) | w.Flags&Glued | next.Flags&(LastInLine|DotAfter|CommaAfter|DashAfter|SlashAfter) | Lost
	w.To, w.end, w.Num = next.To, next.end, -1
	w.code = packed([]byte(t.keys[w.at:w.end]))
	t.Words = slices.Delete(t.Words, i+1, i+2)
}

// End makes the word behind the number at word i, which it touches, the ending of an ordinal.
func (t *Text) End(i int) {
	w, next := &t.Words[i], &t.Words[i+1]
	w.To = next.To
	w.Flags |= Ordinal | Unclear | next.Flags&(LastInLine|DotAfter|CommaAfter|DashAfter|SlashAfter)
	t.Words = slices.Delete(t.Words, i+1, i+2)
}

// Count makes the letter behind the number at word i, which it touches, the last figure of it.
func (t *Text) Count(i int, figure byte) {
	w, next := &t.Words[i], &t.Words[i+1]
	t.keys = t.keys[:next.at] + string(rune(figure)) + t.keys[next.end:]
	w.Flags |= Unclear | next.Flags&(LastInLine|DotAfter|CommaAfter|DashAfter|SlashAfter)
	w.To, w.end, w.Num = next.To, next.end, w.Num*10+int(figure-'0')
	w.code = packed([]byte(t.keys[w.at:w.end]))
	t.Words = slices.Delete(t.Words, i+1, i+2)
}

// Restore gives word i the letters key in place of those that damage left, however many.
func (t *Text) Restore(i int, key string) {
	w := &t.Words[i]
	off := w.end - w.at - len(key)
	t.keys = t.keys[:w.at] + key + t.keys[w.end:]
	for k := i; k < len(t.Words); k++ {
		if k > i {
			t.Words[k].at -= off
		}
		t.Words[k].end -= off
	}
	w.Num, w.Flags, w.code = -1, w.Flags&^(Lost|Digits)|Unclear, packed([]byte(key))
}

// Len is the number of letters of word i.
func (t *Text) Len(i int) int { return t.Words[i].end - t.Words[i].at }

// Letters is the letters of all words without anything between them.
func (t *Text) Letters() string { return t.keys }

// Letters is a text's letters A to Z and digits alone, in capitals, without regard to words: forms that differ in blanks and points have the same.
func Letters(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, strings.ToUpper(s))
}

// LeastGap is how many letters a gap of known extent must have lost at least to hide more than letters: a number, or the end of one word, a space and the beginning of the next. House judgement.
const LeastGap = 3

// Parted parts a damaged word into what stands before its only gap of LeastGap letters or more, or of unknown length, and what stands behind it. Both are empty where nothing else is left, and where there is no such gap.
func Parted(key string) (front, rest string) {
	from := strings.IndexAny(key, "?*")
	to := strings.LastIndexAny(key, "?*") + 1
	if from < 0 || strings.Trim(key[from:to], "?*") != "" || key[from] != '*' && to-from < LeastGap {
		return "", ""
	}
	return key[:from], key[to:]
}
