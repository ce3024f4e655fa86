package name

import (
	"unicode/utf8"

	"musterstone/vocab"
)

// leastWorn is how alike two letters must look when worn for an unclear one to be the other. House judgement.
const leastWorn = 0.3

// Fits reports whether a folded name may be what a damaged writing once said: its lost letters are any letters, as with Match, and each of its
// unclear ones (a dot below) is a set, the letter that was read and those that wear like it (see Worn). The other letters must be the same.
func Fits(written, folded string) bool { return NewWritten(written).Fits(folded) }

// Written is a writing made ready to be held to many names.
type Written struct {
	pattern string
	unclear []bool // its letters that are; nil where none is
}

// NewWritten makes a writing ready for Fits.
func NewWritten(written string) *Written {
	w := &Written{pattern: Fold(written)}
	w.unclear = unclearIn(written, w.pattern)
	return w
}

// Fits is the function Fits for the writing.
func (w *Written) Fits(folded string) bool {
	if len(w.unclear) == 0 || wild(folded) {
		return Match(w.pattern, folded)
	}
	return along(w.pattern, folded, func(p, t int) bool { return w.unclear[p] && Worn(w.pattern[p], folded[t]) >= leastWorn })
}

// Unclear reports whether a writing has a letter that is unclear (a dot below it).
func Unclear(written string) bool {
	for _, r := range written {
		if r == vocab.DotBelow || vocab.Unclear(r) {
			return true
		}
	}
	return false
}

// unclearIn tells which letters of a writing's Fold are unclear; nil where none is.
func unclearIn(written, folded string) []bool {
	var mask []bool
	whole := ""
	from, last := 0, 0 // of the stretch without unclear letters, and the rune before
	for i, r := range written {
		switch {
		case r == vocab.DotBelow && i > 0 && last < from: // a second mark on one letter
			from = i + utf8.RuneLen(r)
		case r == vocab.DotBelow && i > 0:
			head := Fold(written[from:last]) + Fold(written[last:i])
			mask = grow(mask, len(whole)+len(head), true)
			whole += head
			from = i + utf8.RuneLen(r)
		case vocab.Unclear(r):
			n := utf8.RuneLen(r)
			head := Fold(written[from:i]) + Fold(written[i:i+n])
			mask = grow(mask, len(whole)+len(head), true)
			whole += head
			from = i + n
		}
		last = i
	}
	if mask == nil || whole+Fold(written[from:]) != folded {
		return nil // the marks stand within brackets that tell more
	}
	return grow(mask, len(folded), false)
}

// grow lengthens a mask to n letters; last says what the last of them is.
func grow(mask []bool, n int, last bool) []bool {
	for len(mask) < n {
		mask = append(mask, false)
	}
	if last && n > 0 {
		mask[n-1] = true
	}
	return mask
}
