package rdf

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"slices"
)

// TurtleWriter writes Turtle: the prefixes first, then one block a subject, rdf:type first as "a", the other predicates and the objects of each in
// byte order of their N-Triples form, an empty line between blocks, a line feed at the end. The same triples give the same bytes.
//
// The triples of one subject come together, and subjects in byte order (as Sorter gives them); within a subject any order will do, and
// repeats are written once. Blank nodes are refused. It holds one block at a time.
type TurtleWriter struct {
	w        *bufio.Writer
	base     []byte
	byName   map[string]string // namespace to prefix
	subject  []byte
	arena    []byte
	block    []span
	count    int
	blocks   int
	out      []byte
	prefixed bool
}

// span is a line in an arena.
type span struct{ from, to int }

// NewTurtleWriter starts a file with its base, "" for none, and its prefixes, in the order given. A namespace must end in "/", "#" or ":" to be of use;
// a base must end in "/", and IRIs below it are written relative to it where no prefix fits.
func NewTurtleWriter(w io.Writer, base string, prefixes []Prefix) *TurtleWriter {
	t := &TurtleWriter{w: bufio.NewWriterSize(w, 64<<10), base: []byte(base), byName: map[string]string{}}
	if base != "" {
		fmt.Fprintf(t.w, "@base %s .\n", appendIRI(nil, base))
		t.prefixed = true
	}
	for _, p := range prefixes {
		t.byName[p.Namespace] = p.Name
		fmt.Fprintf(t.w, "@prefix %s: %s .\n", p.Name, appendIRI(nil, p.Namespace))
		t.prefixed = true
	}
	return t
}

// Write takes one triple.
func (t *TurtleWriter) Write(triple Triple) error {
	line, err := AppendTriple(nil, triple)
	if err != nil {
		return fmt.Errorf("write Turtle: %w", err)
	}
	return t.writeLine(line)
}

// writeLine takes one line of canonical N-Triples.
func (t *TurtleWriter) writeLine(line []byte) error {
	end := bytes.IndexByte(line, ' ')
	object := end + 1 + bytes.IndexByte(line[end+1:], ' ') + 1
	if line[0] == '_' || line[object] == '_' {
		return fmt.Errorf("write Turtle: %s has a blank node; published data has none", shorten(string(line)))
	}
	if subject := line[:end]; !bytes.Equal(subject, t.subject) {
		if len(t.subject) > 0 && bytes.Compare(t.subject, subject) > 0 {
			return fmt.Errorf("write Turtle: subject %s comes after %s; subjects must be in byte order", subject, t.subject)
		}
		if err := t.flush(); err != nil {
			return err
		}
		t.subject = append(t.subject[:0], subject...)
	}
	from := len(t.arena)
	t.arena = append(t.arena, line[end+1:len(line)-3]...)
	t.block = append(t.block, span{from, len(t.arena)})
	return nil
}

var typePredicate = []byte("<" + rdfType + "> ")

// flush writes the block at hand.
func (t *TurtleWriter) flush() error {
	if len(t.block) == 0 {
		return nil
	}
	at := func(s span) []byte { return t.arena[s.from:s.to] }
	compare := func(a, b span) int {
		x, y := at(a), at(b)
		if p, q := bytes.HasPrefix(x, typePredicate), bytes.HasPrefix(y, typePredicate); p != q {
			if p {
				return -1
			}
			return 1
		}
		return bytes.Compare(x, y)
	}
	if !slices.IsSortedFunc(t.block, compare) {
		slices.SortFunc(t.block, compare)
	}
	t.block = slices.CompactFunc(t.block, func(a, b span) bool { return bytes.Equal(at(a), at(b)) })

	b := t.out[:0]
	if t.blocks > 0 || t.prefixed {
		b = append(b, '\n')
	}
	b = append(t.appendName(b, t.subject), ' ')
	var predicate []byte
	for i, s := range t.block {
		p, o, _ := bytes.Cut(at(s), []byte{' '})
		switch {
		case i > 0 && bytes.Equal(p, predicate):
			b = append(b, ", "...)
		default:
			if i > 0 {
				b = append(b, " ;\n\t"...)
			}
			if bytes.HasPrefix(at(s), typePredicate) {
				b = append(b, 'a')
			} else {
				b = t.appendName(b, p)
			}
			b = append(b, ' ')
			predicate = p
		}
		b = t.appendObject(b, o)
	}
	b = append(b, " .\n"...)
	t.count += len(t.block)
	t.blocks++
	t.out, t.block, t.arena = b, t.block[:0], t.arena[:0]
	_, err := t.w.Write(b)
	return err
}

// appendObject appends an object, which stands in N-Triples: only its IRIs are written otherwise in Turtle.
func (t *TurtleWriter) appendObject(b, o []byte) []byte {
	if o[0] == '<' {
		return t.appendName(b, o)
	}
	if o[len(o)-1] == '>' {
		i := bytes.LastIndex(o, []byte(`"^^<`)) + 3
		return t.appendName(append(b, o[:i]...), o[i:])
	}
	return append(b, o...)
}

// appendName appends an IRI, which stands in angle brackets, as a prefixed name where there is a prefix and its local part needs no
// escape in any reader: a letter, digit or "_", then the same or "-".
func (t *TurtleWriter) appendName(b, iri []byte) []byte {
	i := len(iri) - 1
	for i > 1 && isLocalByte(iri[i-1]) {
		i--
	}
	local := iri[i : len(iri)-1]
	if len(local) > 0 && local[0] != '-' {
		if name, ok := t.byName[string(iri[1:i])]; ok {
			b = append(append(b, name...), ':')
			return append(b, local...)
		}
	}
	if rest, ok := bytes.CutPrefix(iri[1:], t.base); ok && len(t.base) > 0 && isPlainPath(rest[:len(rest)-1]) {
		return append(append(b, '<'), rest...)
	}
	return append(b, iri...)
}

// isPlainPath reports whether a relative reference means what it says in every reader: parts that begin with a letter or digit, no dots but between such,
// nothing that needs an escape.
func isPlainPath(s []byte) bool {
	start := true
	for _, c := range s {
		switch {
		case isLetter(c) || isDigit(c):
			start = false
		case start:
			return false
		case c == '/' || c == '#':
			start = true
		case c == '-' || c == '_' || c == '.':
		default:
			return false
		}
	}
	return !start
}

func isLocalByte(c byte) bool { return isLetter(c) || isDigit(c) || c == '_' || c == '-' }

// Count is the number of triples written so far, the block at hand not counted.
func (t *TurtleWriter) Count() int { return t.count }

// Close writes what is left. The underlying writer stays open.
func (t *TurtleWriter) Close() error {
	if err := t.flush(); err != nil {
		return err
	}
	return t.w.Flush()
}

// WriteTurtle writes triples in any order; they are sorted in memory.
func WriteTurtle(w io.Writer, prefixes []Prefix, triples []Triple) error {
	s := NewSorter("", 0)
	defer s.Close()
	for _, t := range triples {
		if err := s.Add(t); err != nil {
			return err
		}
	}
	tw := NewTurtleWriter(w, "", prefixes)
	for line, err := range s.lines() {
		if err != nil {
			return err
		}
		if err := tw.writeLine(line); err != nil {
			return err
		}
	}
	return tw.Close()
}
