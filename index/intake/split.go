package intake

import "strings"

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
	if s.quote == 0 || strings.IndexByte(text, s.quote) < 0 {
		s.plain(text)
		return
	}
	for {
		if s.skipSpace {
			text = strings.TrimLeft(text, " \t")
		}
		if text != "" && text[0] == s.quote {
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

// plain parts a text without quote marks.
func (s *splitter) plain(text string) {
	for {
		if s.skipSpace {
			text = strings.TrimLeft(text, " \t")
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
