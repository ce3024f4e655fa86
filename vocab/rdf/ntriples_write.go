package rdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
)

// AppendTriple appends the triple as one line of canonical N-Triples, with its line feed: single blanks, IRIs as they are, and in literals
// only the escapes that RDFC-1.0 (section on canonical N-Quads) demands.
func AppendTriple(b []byte, t Triple) ([]byte, error) {
	var err error
	if b, err = appendTerm(b, t.Subj); err != nil {
		return b, fmt.Errorf("subject: %w", err)
	}
	b = append(b, ' ')
	if b, err = appendTerm(b, t.Pred); err != nil {
		return b, fmt.Errorf("predicate: %w", err)
	}
	b = append(b, ' ')
	if b, err = appendTerm(b, t.Obj); err != nil {
		return b, fmt.Errorf("object: %w", err)
	}
	return append(b, " .\n"...), nil
}

func appendTerm(b []byte, t Term) ([]byte, error) {
	switch t := t.(type) {
	case IRI:
		if t.String() == "" {
			return b, fmt.Errorf("an IRI is empty")
		}
		return appendIRI(b, t.String()), nil
	case Blank:
		return append(b, t.Serialize(0)...), nil
	case Literal:
		b = appendQuoted(b, t.String())
		if t.Lang() != "" {
			return append(append(b, '@'), t.Lang()...), nil
		}
		if dt := t.DataType.String(); dt != "" && dt != xsd+"string" {
			b = appendIRI(append(b, "^^"...), dt)
		}
		return b, nil
	}
	return b, fmt.Errorf("no term")
}

// notInIRI are the bytes that an IRI in angle brackets cannot hold as they are.
var notInIRI = func() (t [256]bool) {
	for c := range 0x21 {
		t[c] = true
	}
	for _, c := range []byte("<>\"{}|^`\\\x7f") {
		t[c] = true
	}
	return t
}()

func appendIRI(b []byte, s string) []byte {
	b = append(b, '<')
	start := 0
	for i := 0; i < len(s); i++ {
		// A constructor lets none of these through; a term that was made otherwise may hold them.
		if c := s[i]; notInIRI[c] {
			b = append(b, s[start:i]...)
			b = fmt.Appendf(b, "\\u%04X", c)
			start = i + 1
		}
	}
	return append(append(b, s[start:]...), '>')
}

func appendQuoted(b []byte, s string) []byte {
	b = append(b, '"')
	start := 0
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c >= 0x20 && c != '"' && c != '\\' && c != 0x7F {
			continue
		}
		b = append(b, s[start:i]...)
		start = i + 1
		switch c {
		case '"', '\\':
			b = append(b, '\\', c)
		case '\b':
			b = append(b, `\b`...)
		case '\t':
			b = append(b, `\t`...)
		case '\n':
			b = append(b, `\n`...)
		case '\f':
			b = append(b, `\f`...)
		case '\r':
			b = append(b, `\r`...)
		default:
			b = fmt.Appendf(b, "\\u%04X", c)
		}
	}
	return append(append(b, s[start:]...), '"')
}

// ntriplesWriter writes canonical N-Triples and knows the SHA-256 of what it wrote. Triples must come sorted by their lines and
// without repeats, as Sorter gives them; one out of order is an error.
type ntriplesWriter struct {
	w     io.Writer
	hash  hash.Hash
	buf   []byte
	last  []byte // the line before, where it is in buf no more
	from  int    // where in buf the line before begins; -1 where it does not
	count int
}

// writeBuffer is how many bytes go to a file at once.
const writeBuffer = 256 << 10

// newNTriplesWriter starts a file.
func newNTriplesWriter(w io.Writer) *ntriplesWriter {
	return &ntriplesWriter{w: w, hash: sha256.New(), from: -1}
}

// writeSet writes what a Sorter gives.
func (w *ntriplesWriter) writeSet(set *blockSet, texts [][]byte) error {
	for _, b := range set.blocks {
		same := 0
		for _, x := range set.said[b.first:b.end] {
			from := len(w.buf)
			w.buf = set.appendLine(w.buf, texts, b, x)
			if err := w.take(from, same); err != nil {
				return err
			}
			if same = int(b.size); w.from < 0 {
				same = 0
			}
		}
	}
	return nil
}

// take takes the line that begins in buf at from, whose first bytes are known to be those of the line before.
func (w *ntriplesWriter) take(from, same int) error {
	before := w.last
	if w.from >= 0 {
		before = w.buf[w.from:from]
	}
	if line := w.buf[from:]; w.count > 0 && bytes.Compare(before[same:], line[same:]) >= 0 {
		return fmt.Errorf("write N-Triples: the line %s is out of order or comes twice", shorten(string(line)))
	}
	w.from = from
	w.count++
	if len(w.buf) < writeBuffer {
		return nil
	}
	w.last = append(w.last[:0], w.buf[from:]...)
	w.from = -1
	return w.flush()
}

func (w *ntriplesWriter) flush() error {
	w.hash.Write(w.buf)
	_, err := w.w.Write(w.buf)
	w.buf = w.buf[:0]
	return err
}

// Count is the number of triples so far.
func (w *ntriplesWriter) Count() int { return w.count }

// Close ends the file and gives the SHA-256 of all of it, in hexadecimal. The underlying writer stays open.
func (w *ntriplesWriter) Close() (digest string, err error) {
	if err := w.flush(); err != nil {
		return "", err
	}
	return hex.EncodeToString(w.hash.Sum(nil)), nil
}
