package rdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// scanner holds a window on a Turtle file: the token at hand and a little more. It knows where it is, and keeps a read error apart
// from the end of the file.
type scanner struct {
	name         string
	in           io.Reader
	buf          []byte
	pos          int // of the next byte in buf
	eof          bool
	err          error // of the reader
	line, column int
}

func newScanner(in io.Reader, name string) *scanner {
	s := &scanner{name: name, in: in, line: 1, column: 1}
	if s.fill(3) && string(s.buf[:3]) == "\ufeff" {
		s.pos = 3
	}
	return s
}

// fill sees to it that n bytes stand ready after pos, as far as the file has them.
func (s *scanner) fill(n int) bool {
	for len(s.buf)-s.pos < n {
		if s.eof {
			return false
		}
		if s.pos > 0 {
			s.buf = s.buf[:copy(s.buf, s.buf[s.pos:])]
			s.pos = 0
		}
		if len(s.buf) == cap(s.buf) {
			grown := make([]byte, len(s.buf), max(32<<10, 2*cap(s.buf)))
			copy(grown, s.buf)
			s.buf = grown
		}
		m, err := s.in.Read(s.buf[len(s.buf):cap(s.buf)])
		s.buf = s.buf[:len(s.buf)+m]
		if err != nil {
			s.eof = true
			if !errors.Is(err, io.EOF) {
				s.err = err
			}
		}
	}
	return true
}

// at is the byte i after the next one; 0 behind the end of the file.
func (s *scanner) at(i int) byte {
	if s.pos+i < len(s.buf) || s.fill(i+1) {
		return s.buf[s.pos+i]
	}
	return 0
}

// ended reports whether there is nothing more.
func (s *scanner) ended() bool { return !s.fill(1) }

// take moves on by n bytes, which stand ready, and gives them.
func (s *scanner) take(n int) string {
	b := s.buf[s.pos : s.pos+n]
	s.pos += n
	for _, c := range b {
		if c == '\n' {
			s.line++
			s.column = 1
		} else if c&0xC0 != 0x80 {
			s.column++
		}
	}
	return string(b)
}

// skip passes over blanks, line ends and comments.
func (s *scanner) skip() {
	for {
		switch s.at(0) {
		case ' ', '\t', '\r', '\n':
			s.take(1)
		case '#':
			for s.fill(1) && s.at(0) != '\n' && s.at(0) != '\r' {
				s.take(1)
			}
		default:
			return
		}
	}
}

// fail makes the error for what stands at hand; a read error goes before it.
func (s *scanner) fail(format string, args ...any) error {
	if s.err != nil {
		return fmt.Errorf("read %s, line %d: %w", s.name, s.line, s.err)
	}
	return &SyntaxError{File: s.name, Line: s.line, Column: s.column, Text: fmt.Sprintf(format, args...)}
}

func (s *scanner) found() string {
	if s.ended() {
		return "the end of the file"
	}
	s.fill(utf8.UTFMax)
	r, n := utf8.DecodeRune(s.buf[s.pos:])
	if r == utf8.RuneError && n == 1 {
		return fmt.Sprintf("byte 0x%02X, which is not UTF-8", s.at(0))
	}
	return fmt.Sprintf("%q", r)
}

func (s *scanner) want(what string) error { return s.fail("want %s, found %s", what, s.found()) }

// runeAt is the character that begins i bytes on, with its length; length 0 behind the end, and -1 where it is not UTF-8.
func (s *scanner) runeAt(i int) (rune, int) {
	c := s.at(i)
	if c < utf8.RuneSelf {
		if c == 0 && s.pos+i >= len(s.buf) {
			return 0, 0
		}
		return rune(c), 1
	}
	s.fill(i + utf8.UTFMax)
	r, n := utf8.DecodeRune(s.buf[s.pos+i:])
	if r == utf8.RuneError && n == 1 {
		return r, -1
	}
	return r, n
}

// iriRef reads "<…>" and gives what stands between, unescaped.
func (s *scanner) iriRef() (string, error) {
	n := 1
	for ; ; n++ {
		switch c := s.at(n); {
		case c == '>':
			raw := string(s.buf[s.pos+1 : s.pos+n])
			iri, err := readIRIRef(raw)
			if err != nil {
				return "", s.fail("%v", err)
			}
			s.take(n + 1)
			return iri, nil
		case c <= ' ':
			return "", s.fail("an IRI that does not end: no > before the next blank or line end")
		case n > MaxToken:
			return "", s.fail("an IRI longer than %d bytes", MaxToken)
		}
	}
}

// text reads a literal's text in single or double quotes, short or long.
func (s *scanner) text() (string, error) {
	quote := s.at(0)
	width := 1
	if s.at(1) == quote && s.at(2) == quote {
		width = 3
	}
	n := width
	for {
		if n > MaxToken {
			return "", s.fail("a text longer than %d bytes", MaxToken)
		}
		c := s.at(n)
		if c == 0 && s.pos+n >= len(s.buf) {
			return "", s.fail("a text that does not end: no closing %s before the end of the file", strings.Repeat(string(quote), width))
		}
		switch {
		case c == '\\':
			n += 2
			continue
		case width == 1 && (c == '\n' || c == '\r'):
			return "", s.fail("a text that does not end: no closing %c before the end of the line", quote)
		case c == quote && (width == 1 || s.at(n+1) == quote && s.at(n+2) == quote):
			raw := string(s.buf[s.pos+width : s.pos+n])
			text, err := unescape(raw, false)
			if err != nil {
				return "", s.fail("%v", err)
			}
			if !utf8.ValidString(text) {
				return "", s.fail("text %s is not UTF-8", shorten(text))
			}
			s.take(n + width)
			return text, nil
		}
		n++
	}
}

// number reads a number by the longest of the rules INTEGER, DECIMAL and DOUBLE, and gives its datatype.
func (s *scanner) number() (lexical, datatype string, err error) {
	n := 0
	digits := func() bool {
		from := n
		for isDigit(s.at(n)) && n <= MaxToken {
			n++
		}
		return n > from
	}
	if c := s.at(0); c == '+' || c == '-' {
		n++
	}
	whole := digits()
	datatype = xsd + "integer"
	end := n // of the longest number so far
	if s.at(n) == '.' {
		n++
		if digits() {
			datatype, end = xsd+"decimal", n
		} else if !whole {
			return "", "", s.want("a number")
		}
	} else if !whole {
		return "", "", s.want("a number")
	}
	if c := s.at(n); c == 'e' || c == 'E' {
		n++
		if c := s.at(n); c == '+' || c == '-' {
			n++
		}
		if digits() {
			datatype, end = xsd+"double", n
		}
	}
	if end > MaxToken {
		return "", "", s.fail("a number longer than %d digits", MaxToken)
	}
	return s.take(end), datatype, nil
}

// prefixLength is how many bytes the name of a prefix has (rule PN_PREFIX); 0 for the empty one.
func (s *scanner) prefixLength() int {
	n, end := 0, 0
	for n <= MaxToken {
		r, w := s.runeAt(n)
		if w <= 0 || n == 0 && !isPNBase(r) || r != '.' && !isPN(r) {
			break
		}
		n += w
		if r != '.' {
			end = n
		}
	}
	return end
}

// local reads the local part of a prefixed name (rule PN_LOCAL, perhaps empty) and gives it without its backslashes.
func (s *scanner) local() (string, error) {
	n, end := 0, 0
	escaped := false
scan:
	for {
		if n > MaxToken {
			return "", s.fail("a name longer than %d bytes", MaxToken)
		}
		r, w := s.runeAt(n)
		switch {
		case w == -1:
			return "", s.fail("byte 0x%02X in a name is not UTF-8", s.at(n))
		case w == 0:
			break scan
		case r == '%':
			if !isHex(s.at(n+1)) || !isHex(s.at(n+2)) {
				return "", s.fail("%% in a name must have two hexadecimal digits after it")
			}
			w = 3
		case r == '\\':
			if c := s.at(n + 1); c == 0 || strings.IndexByte("_~.-!$&'()*+,;=/?#@%", c) < 0 {
				return "", s.fail("escape %q is not known in a name", `\`+string(rune(c)))
			}
			escaped = true
			w = 2
		case r == ':' || r >= '0' && r <= '9' || isPNU(r):
		case n > 0 && (r == '.' || isPN(r)):
		default:
			break scan
		}
		n += w
		if r != '.' {
			end = n
		}
	}
	raw := s.take(end)
	if escaped {
		var b bytes.Buffer
		for i := 0; i < len(raw); i++ {
			if raw[i] == '\\' {
				i++
			}
			b.WriteByte(raw[i])
		}
		raw = b.String()
	}
	return raw, nil
}
