package intake

import (
	"encoding/binary"
	"math/bits"
	"strings"
	"unsafe"
)

// splitter parts the text of one row into its cells. A row whose quoted cell runs over several physical lines is fed
// line by line.
//
// It is more lenient than RFC 4180 where hand-made files stray from it without doubt about what is meant: a quote mark inside an
// unquoted cell stands for itself (12" across), and so does one inside a quoted cell that no delimiter follows; the
// latter sets stray.
type splitter struct {
	delimiter byte
	quote     byte // 0: none
	skipSpace bool // blanks after a delimiter are no part of the cell

	cells  []string // of the row, after those of other rows that are kept
	first  int      // where the row's begin
	stray  bool     // a quote mark stood inside a quoted cell undoubled
	open   bool     // the last cell waits for its closing quote mark
	part   []byte
	opened int // index of the last cell that opened with a quote mark
}

// start forgets the last row.
func (s *splitter) start() {
	s.cells, s.stray, s.open, s.part = s.cells[:s.first], false, false, s.part[:0]
}

// row are the cells of the row.
func (s *splitter) row() []string { return s.cells[s.first:] }

// feed takes the next physical line of the row.
func (s *splitter) feed(text string) {
	if s.open {
		s.part = append(s.part, '\n')
		s.open = false
		rest, more := s.quoted(text)
		if s.open || !more {
			return
		}
		text = rest
	}
	if !s.quick(text) {
		s.careful(text)
	}
}

// careful parts any text.
func (s *splitter) careful(text string) {
	for {
		if s.skipSpace {
			text = strings.TrimLeft(text, " \t")
		}
		if text != "" && text[0] == s.quote && s.quote != 0 {
			s.opened = len(s.cells) - s.first
			s.part = s.part[:0]
			rest, more := s.quoted(text[1:])
			if s.open || !more {
				return
			}
			text = rest
			continue
		}
		i := strings.IndexByte(text, s.delimiter)
		if i < 0 {
			s.cells = append(s.cells, text)
			return
		}
		s.cells = append(s.cells, text[:i])
		text = text[i+1:]
	}
}

// quick parts a text in which quote marks stand only about whole cells, as nearly all do, and reports whether it is one: else it does nothing. It finds the delimiters of 64 bytes at a time.
func (s *splitter) quick(text string) bool {
	if s.skipSpace || s.quote == 0 && s.delimiter == 0 {
		return false
	}
	b := unsafe.Slice(unsafe.StringData(text), len(text))
	cells, from := s.cells, 0
	marks, about := 0, 0 // quote marks, and those about whole cells
	inside := uint64(0)  // all ones where the last 64 bytes ended inside quote marks
	for at := 0; at < len(b); at += 64 {
		ends, quotes := marked(b[at:min(at+64, len(b))], s.delimiter, s.quote)
		if s.quote != 0 && quotes|inside != 0 {
			marks += bits.OnesCount64(quotes)
			in := quotes // the bits from each odd mark to before the even one after it
			for k := 1; k < 64; k *= 2 {
				in ^= in << k
			}
			in ^= inside
			inside = uint64(int64(in) >> 63)
			ends &^= in
		}
		for ; ends != 0; ends &= ends - 1 {
			to := at + bits.TrailingZeros64(ends)
			c := text[from:to]
			if marks > about {
				c, about = s.unquoted(c, about)
			}
			cells, from = append(cells, c), to+1
		}
	}
	c := text[from:]
	if marks > about {
		c, about = s.unquoted(c, about)
	}
	if marks != about {
		return false
	}
	s.cells = append(cells, c)
	return true
}

// unquoted takes the quote marks from about a cell, and counts them.
func (s *splitter) unquoted(c string, about int) (string, int) {
	if n := len(c); n > 1 && c[0] == s.quote && c[n-1] == s.quote {
		return c[1 : n-1], about + 2
	}
	return c, about
}

// marked gives a bit for each of up to 64 bytes that is the one, and for each that is the other.
func marked(b []byte, one, other byte) (ones, others uint64) {
	const each = 0x0101010101010101
	k := 0
	for ; len(b)-k >= 8; k += 8 {
		w := binary.LittleEndian.Uint64(b[k:])
		ones |= noughts(w^uint64(one)*each) << k
		others |= noughts(w^uint64(other)*each) << k
	}
	for ; k < len(b); k++ {
		if b[k] == one {
			ones |= 1 << k
		}
		if b[k] == other {
			others |= 1 << k
		}
	}
	return ones, others
}

// noughts gives a bit for each of the eight bytes that is 0, the lowest for the lowest.
func noughts(w uint64) uint64 {
	const low = 0x7F7F7F7F7F7F7F7F
	w = ^((w&low + low) | w | low)
	return (w >> 7) * 0x0102040810204080 >> 56
}

// quoted reads the inside of a quoted cell up to its end; s.part holds what came before. It gives what follows the
// delimiter, and whether there was one; or it sets open.
func (s *splitter) quoted(text string) (rest string, more bool) {
	for {
		i := strings.IndexByte(text, s.quote)
		if i < 0 {
			s.part = append(s.part, text...)
			s.open = true
			return "", false
		}
		after := text[i+1:]
		if after != "" && after[0] == s.quote {
			s.part = append(s.part, text[:i+1]...)
			text = after[1:]
			continue
		}
		if end := strings.TrimLeft(after, " "); end == "" || end[0] == s.delimiter || after != "" && after[0] == s.delimiter {
			if len(s.part) == 0 {
				s.cells = append(s.cells, text[:i])
			} else {
				s.part = append(s.part, text[:i]...)
				s.cells = append(s.cells, string(s.part))
			}
			if end == "" {
				return "", false
			}
			return after[strings.IndexByte(after, s.delimiter)+1:], true
		}
		s.stray = true
		s.part = append(s.part, text[:i+1]...)
		text = after
	}
}
