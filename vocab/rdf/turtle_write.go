package rdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
)

// TurtleWriter writes Turtle: the prefixes first, then one block a subject, rdf:type first as "a", the other predicates and the objects of each in
// byte order of their N-Triples form, an empty line between blocks, a line feed at the end. The same triples give the same bytes.
//
// The triples of one subject come together, and subjects in byte order (as Sorter gives them); within a subject any order will do, and
// repeats are written once. Blank nodes are refused. It holds one block at a time.
type TurtleWriter struct {
	w        io.Writer
	base     []byte
	byName   map[string]string // namespace to prefix
	block    blockSet          // of the subject at hand, from Write
	preds    *predicates       // of block
	names    []predicateName   // by number
	subject  []byte
	count    int
	blocks   int
	out      []byte
	prefixed bool
}

// predicateName is a predicate as it stands in Turtle.
type predicateName struct {
	name   []byte
	isType bool
}

// NewTurtleWriter starts a file with its base, "" for none, and its prefixes, in the order given. A namespace must end in "/", "#" or ":" to be of use;
// a base must end in "/", and IRIs below it are written relative to it where no prefix fits.
func NewTurtleWriter(w io.Writer, base string, prefixes []Prefix) *TurtleWriter {
	t := &TurtleWriter{w: w, base: []byte(base), byName: map[string]string{}, preds: newPredicates()}
	if base != "" {
		t.out = append(appendIRI(append(t.out, "@base "...), base), " .\n"...)
		t.prefixed = true
	}
	for _, p := range prefixes {
		t.byName[p.Namespace] = p.Name
		t.out = append(append(append(t.out, "@prefix "...), p.Name...), ": "...)
		t.out = append(appendIRI(t.out, p.Namespace), " .\n"...)
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
	predicate := line[end+1:]
	predicate = predicate[:bytes.IndexByte(predicate, ' ')]
	object := line[end+1+len(predicate)+1 : len(line)-len(" .\n")]
	if b := t.block.blocks; len(b) == 0 || !bytes.Equal(line[:end], t.block.subject(b[0])) {
		if err := t.flush(); err != nil {
			return err
		}
		if err := t.follows(line[:end]); err != nil {
			return err
		}
		t.block.open(line[:end])
	}
	if object[0] == '_' {
		return errBlank(line[:end])
	}
	t.block.say(t.preds.of(string(predicate[1:len(predicate)-1])), object)
	return nil
}

// follows reports an error unless a subject may come after the last.
func (t *TurtleWriter) follows(subject []byte) error {
	if subject[0] == '_' {
		return errBlank(subject)
	}
	if len(t.subject) > 0 && bytes.Compare(t.subject, subject) >= 0 {
		return fmt.Errorf("write Turtle: subject %s comes after %s; subjects must be in byte order, each once", subject, t.subject)
	}
	return nil
}

func errBlank(subject []byte) error {
	return fmt.Errorf("write Turtle: %s is, or has, a blank node; published data have none", subject)
}

// flush writes the block at hand.
func (t *TurtleWriter) flush() error {
	if len(t.block.blocks) == 0 {
		return nil
	}
	texts := t.preds.now()
	b := &t.block.blocks[0]
	said := t.block.sortSaid(ranks(texts), t.block.said)
	b.end = uint32(len(said))
	err := t.writeBlock(&t.block, texts, *b)
	t.block.reset()
	return err
}

// writeBlock writes what is said of one subject, sorted and each once. All calls on one writer have the same predicates, of which more may have come.
func (t *TurtleWriter) writeBlock(set *blockSet, texts [][]byte, x block) error {
	subject := set.subject(x)
	if err := t.follows(subject); err != nil {
		return err
	}
	t.subject = append(t.subject[:0], subject...)
	for len(t.names) < len(texts) {
		p := texts[len(t.names)]
		t.names = append(t.names, predicateName{t.appendName(nil, p), string(p) == typePredicate})
	}
	said := set.said[x.first:x.end]
	b := t.out
	if t.blocks > 0 || t.prefixed {
		b = append(b, '\n')
	}
	b = append(t.appendName(b, subject), ' ')
	first := true
	last := uint32(0)
	// What the subject is stands first, as "a".
	for _, types := range [2]bool{true, false} {
		for _, s := range said {
			name := &t.names[s.pred]
			if name.isType != types {
				continue
			}
			o := set.object(s)
			if o[0] == '_' {
				return errBlank(subject)
			}
			switch {
			case !first && s.pred == last:
				b = append(b, ", "...)
			default:
				if !first {
					b = append(b, " ;\n\t"...)
				}
				if types {
					b = append(b, 'a')
				} else {
					b = append(b, name.name...)
				}
				b = append(b, ' ')
				last = s.pred
			}
			first = false
			b = t.appendObject(b, o)
		}
	}
	t.out = append(b, " .\n"...)
	t.count += len(said)
	t.blocks++
	if len(t.out) < writeBuffer {
		return nil
	}
	return t.send()
}

func (t *TurtleWriter) send() error {
	_, err := t.w.Write(t.out)
	t.out = t.out[:0]
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
	return t.send()
}

// writeTurtle writes everything and closes the writer.
func (s *Sorter) writeTurtle(w *TurtleWriter) error {
	var set blockSet
	var failed error
	err := s.sets(func() *blockSet { set.reset(); return &set }, func(set *blockSet) bool {
		for _, b := range set.blocks {
			if failed = w.writeBlock(set, s.preds.now(), b); failed != nil {
				return false
			}
		}
		return true
	})
	if err = errors.Join(err, failed); err != nil {
		return err
	}
	return w.Close()
}

// writeTurtle writes a small graph, and says how many triples it has.
func (g *graph) writeTurtle(path string, prefixes []Prefix) (int, error) {
	defer g.sort.Close()
	if g.err != nil {
		return 0, g.err
	}
	f, err := os.Create(path)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	w := NewTurtleWriter(f, g.base, prefixes)
	if err := g.sort.writeTurtle(w); err != nil {
		return 0, err
	}
	return w.Count(), f.Close()
}
