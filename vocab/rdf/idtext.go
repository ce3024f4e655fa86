package rdf

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// idShapes is what private ids look like: most stretches of a text are told by it to be none.
type idShapes struct {
	runs    int       // of the id that has the most
	lengths [64]bool  // in bytes; the last is of all longer ones
	heads   [256]bool // first bytes
	edged   bool      // some begin or end with a mark
}

func (x *idShapes) add(id string) {
	if id == "" || bare(id) {
		return
	}
	runs := runsOf(id)
	x.runs = max(x.runs, len(runs))
	x.lengths[min(len(id), len(x.lengths)-1)] = true
	for _, s := range []string{id, strings.ToLower(id), strings.ToUpper(id)} {
		x.heads[s[0]] = true
	}
	x.edged = x.edged || len(runs) == 0 || runs[0].from > 0 || runs[len(runs)-1].to < len(id)
	if len(runs) == 0 {
		x.runs = max(x.runs, 1)
	}
}

// stretch is a part of a text, from its first byte to the one behind its last: letters alone, or digits alone.
type stretch struct{ from, to int }

func runsOf(text string) (runs []stretch) {
	const none, letter, digit = 0, 1, 2
	was := none
	for i, r := range text {
		is := none
		switch {
		case unicode.IsDigit(r):
			is = digit
		case unicode.IsLetter(r) || unicode.IsMark(r):
			is = letter
		}
		if is != none && is != was {
			runs = append(runs, stretch{from: i})
		}
		if is != none {
			runs[len(runs)-1].to = i + utf8.RuneLen(r)
		}
		was = is
	}
	return runs
}

// openText puts what stands for private ids in the place of those that a text names, in whatever words and letter case: of the longest that begins at a place. An id is found where no letter goes on behind its letters and no
// digit behind its digits, so that PN-7 is not in PN-71 but in "QX/PN-7a.jpg". A bare number or word, which may be meant as something else, is left.
func (m *mapper) openText(text string) string {
	shapes := &m.withheld.shapes
	if shapes.runs == 0 || text == "" {
		return text
	}
	var out strings.Builder
	done := 0
	runs := runsOf(text)
next:
	for i := 0; i < len(runs); i++ {
		if runs[i].from < done {
			continue
		}
		for n := min(shapes.runs, len(runs)-i); n > 0; n-- {
			from, to := runs[i].from, runs[i+n-1].to
			name := ""
			if shapes.edged { // up to the blanks about it, and then without the marks there
				wide, end := from, to
				for wide > done && !blankBefore(text, wide) {
					_, size := utf8.DecodeLastRuneInString(text[:wide])
					if r, _ := utf8.DecodeLastRuneInString(text[:wide]); unicode.IsLetter(r) || unicode.IsDigit(r) {
						break
					}
					wide -= size
				}
				for end < len(text) {
					r, size := utf8.DecodeRuneInString(text[end:])
					if unicode.IsSpace(r) || unicode.IsLetter(r) || unicode.IsDigit(r) {
						break
					}
					end += size
				}
			widths:
				for a := wide; a <= from; a++ {
					for b := end; b >= to; b-- {
						if name = m.idIn(text[a:b]); name != "" {
							from, to = a, b
							break widths
						}
					}
				}
			} else {
				name = m.idIn(text[from:to])
			}
			if name == "" || partOfNumber(text, from, to) {
				continue
			}
			out.WriteString(text[done:from])
			out.WriteString(name)
			done = to
			m.withheld.told[name] = true
			continue next
		}
	}
	if done == 0 {
		return text
	}
	out.WriteString(text[done:])
	return out.String()
}

func blankBefore(text string, at int) bool {
	r, _ := utf8.DecodeLastRuneInString(text[:at])
	return unicode.IsSpace(r)
}

// partOfNumber reports whether a stretch without a letter goes on as a number or a date does: 3-4 in 3-4-1864.
func partOfNumber(text string, from, to int) bool {
	if strings.ContainsFunc(text[from:to], unicode.IsLetter) {
		return false
	}
	goesOn := func(mark, then rune) bool { return strings.ContainsRune("-/.,–", mark) && unicode.IsDigit(then) }
	a, size := utf8.DecodeRuneInString(text[to:])
	b, _ := utf8.DecodeRuneInString(text[to+size:])
	z, last := utf8.DecodeLastRuneInString(text[:from])
	y, _ := utf8.DecodeLastRuneInString(text[:from-last])
	return goesOn(a, b) || goesOn(z, y)
}

// idIn is what stands for the private id that a stretch of text is, whatever the case of its letters; "" where it is none, or a bare one.
func (m *mapper) idIn(text string) string {
	shapes := &m.withheld.shapes
	if text == "" || !shapes.lengths[min(len(text), len(shapes.lengths)-1)] || !shapes.heads[text[0]] || bare(text) {
		return ""
	}
	if name := m.nameOf(text); name != "" {
		return name
	}
	for _, other := range []string{strings.ToUpper(text), strings.ToLower(text)} {
		if name := m.nameOf(other); name != "" {
			return name
		}
	}
	return ""
}
