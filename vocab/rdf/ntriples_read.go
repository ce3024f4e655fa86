package rdf

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"iter"
	"strings"
	"unicode/utf8"

	knakk "github.com/knakk/rdf"
)

// Limits for what is read from others.
const (
	// MaxLine is the longest line of N-Triples, in bytes.
	MaxLine = 1 << 20
	// MaxToken is the longest literal, name or IRI in Turtle, in bytes.
	MaxToken = 1 << 20
	// MaxDepth is how deep brackets may be nested in Turtle.
	MaxDepth = 1000
)

// SyntaxError says where a file is not what it should be. Line and Column count from 1, Column in characters.
type SyntaxError struct {
	File         string
	Line, Column int
	Text         string
}

// Error is "roster.nt:12:7: want a full stop, found …".
func (e *SyntaxError) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Column, e.Text)
}

// ReadNTriples reads RDF 1.1 N-Triples, one triple at a time, in the order of the file; name stands in errors. It follows the grammar of
// section 7 of the recommendation to the letter, save that a byte order mark at the start is passed over. The first error ends the
// reading: a *SyntaxError, or the reader's own, which is never taken for the end of the file. No triple of a faulty line is
// given.
func ReadNTriples(r io.Reader, name string) iter.Seq2[Triple, error] {
	return readLines(r, name, false, alone)
}

// alone gives a triple without its graph.
func alone(t Triple, _ Term) Triple { return t }

// readLines reads N-Triples, or N-Quads where quads is set, and gives each triple and its graph as T.
func readLines[T any](r io.Reader, name string, quads bool, as func(Triple, Term) T) iter.Seq2[T, error] {
	return func(yield func(T, error) bool) {
		var none T
		for row, err := range lines(r, name) {
			if err != nil {
				yield(none, err)
				return
			}
			p := lineParser{s: row.text, quads: quads}
			t, ok, err := p.triple()
			if err != nil {
				col := row.column + utf8.RuneCountInString(row.text[:p.i])
				yield(none, &SyntaxError{File: name, Line: row.number, Column: col, Text: err.Error()})
				return
			}
			if ok && !yield(as(t, p.graph), nil) {
				return
			}
		}
	}
}

type line struct {
	text   string
	number int
	column int // of the first character of text
}

// lines gives the lines of a file without their ends. A lone carriage return ends a line of N-Triples too, but not one that a person counts.
func lines(r io.Reader, name string) iter.Seq2[line, error] {
	return func(yield func(line, error) bool) {
		in := bufio.NewReaderSize(r, 64<<10)
		var buf []byte
		for number := 1; ; number++ {
			buf = buf[:0]
			var err error
			for {
				var part []byte
				part, err = in.ReadSlice('\n')
				buf = append(buf, part...)
				if len(buf) > MaxLine {
					yield(line{}, &SyntaxError{File: name, Line: number, Column: 1, Text: fmt.Sprintf("the line is longer than %d bytes", MaxLine)})
					return
				}
				if !errors.Is(err, bufio.ErrBufferFull) {
					break
				}
			}
			if err != nil && err != io.EOF {
				yield(line{}, fmt.Errorf("read %s, line %d: %w", name, number, err))
				return
			}
			end := err == io.EOF
			text := string(buf)
			if number == 1 {
				text = strings.TrimPrefix(text, "\ufeff")
			}
			column := 1
			for text != "" {
				part, rest, _ := strings.Cut(strings.TrimSuffix(text, "\n"), "\r")
				if !yield(line{part, number, column}, nil) {
					return
				}
				column += utf8.RuneCountInString(part) + 1
				text = rest
			}
			if end {
				return
			}
		}
	}
}

// lineParser reads one line of N-Triples. On an error, i is where.
type lineParser struct {
	s     string
	i     int
	quads bool // a graph may stand before the full stop
	graph Term
}

func (p *lineParser) blanks() {
	for p.i < len(p.s) && (p.s[p.i] == ' ' || p.s[p.i] == '\t') {
		p.i++
	}
}

// peek is the byte at hand; 0 at the end of the line (a NUL byte is nowhere allowed outside a comment).
func (p *lineParser) peek() byte {
	if p.i < len(p.s) {
		return p.s[p.i]
	}
	return 0
}

func (p *lineParser) found() string {
	if p.i >= len(p.s) {
		return "the end of the line"
	}
	r, n := utf8.DecodeRuneInString(p.s[p.i:])
	if r == utf8.RuneError && n == 1 {
		return fmt.Sprintf("byte 0x%02X, which is not UTF-8", p.s[p.i])
	}
	return fmt.Sprintf("%q", r)
}

func (p *lineParser) want(what string) error { return fmt.Errorf("want %s, found %s", what, p.found()) }

// triple reads the line; ok is false where it holds no triple.
func (p *lineParser) triple() (t Triple, ok bool, err error) {
	p.blanks()
	if p.i == len(p.s) || p.s[p.i] == '#' {
		return t, false, nil
	}
	switch p.peek() {
	case '<':
		t.Subj, err = p.iri()
	case '_':
		t.Subj, err = p.blank()
	default:
		err = p.want("an IRI in <> or a blank node as subject")
	}
	if err != nil {
		return t, false, err
	}
	p.blanks()
	if p.peek() != '<' {
		return t, false, p.want("an IRI in <> as predicate")
	}
	if t.Pred, err = p.iri(); err != nil {
		return t, false, err
	}
	p.blanks()
	switch p.peek() {
	case '<':
		t.Obj, err = p.iri()
	case '_':
		t.Obj, err = p.blank()
	case '"':
		t.Obj, err = p.literal()
	default:
		err = p.want("an IRI in <>, a blank node or a literal in double quotes as object")
	}
	if err != nil {
		return t, false, err
	}
	p.blanks()
	if p.quads {
		if err := p.graphLabel(); err != nil {
			return t, false, err
		}
	}
	if p.peek() != '.' {
		return t, false, p.want("a full stop after the triple")
	}
	p.i++
	p.blanks()
	if p.i < len(p.s) && p.s[p.i] != '#' {
		return t, false, p.want("the end of the line, or a comment")
	}
	return t, true, nil
}

// graphLabel reads the graph of a quad, where there is one.
func (p *lineParser) graphLabel() (err error) {
	switch p.peek() {
	case '<':
		p.graph, err = p.iri()
	case '_':
		p.graph, err = p.blank()
	default:
		return nil
	}
	p.blanks()
	return err
}

func (p *lineParser) iri() (IRI, error) {
	n := strings.IndexByte(p.s[p.i:], '>')
	if n < 0 {
		return IRI{}, fmt.Errorf("an IRI that does not end: no > before the end of the line")
	}
	s, err := readIRIRef(p.s[p.i+1 : p.i+n])
	if err != nil {
		return IRI{}, err
	}
	iri, err := foreignIRI(s)
	if err == nil {
		p.i += n + 1
	}
	return iri, err
}

func (p *lineParser) blank() (Blank, error) {
	if !strings.HasPrefix(p.s[p.i:], "_:") {
		return Blank{}, fmt.Errorf("want a blank node's label, as _:b1")
	}
	n := blankLabel(p.s[p.i+2:])
	if n == 0 {
		return Blank{}, fmt.Errorf("want a blank node's label, as _:b1")
	}
	label := p.s[p.i+2 : p.i+2+n]
	p.i += 2 + n
	return knakk.NewBlank(label)
}

func (p *lineParser) literal() (Literal, error) {
	start := p.i + 1
	end := -1
	for i := start; i < len(p.s); i++ {
		if p.s[i] == '\\' {
			i++
		} else if p.s[i] == '"' {
			end = i
			break
		}
	}
	if end < 0 {
		return Literal{}, fmt.Errorf("a literal that does not end: no closing double quote before the end of the line")
	}
	text, err := unescape(p.s[start:end], false)
	if err != nil {
		return Literal{}, err
	}
	if !utf8.ValidString(text) {
		return Literal{}, fmt.Errorf("text %s is not UTF-8", shorten(text))
	}
	p.i = end + 1
	switch {
	case p.peek() == '@':
		n := langTag(p.s[p.i+1:])
		if n == 0 {
			return Literal{}, fmt.Errorf("want a language tag after @")
		}
		tag := p.s[p.i+1 : p.i+1+n]
		p.i += 1 + n
		return langLiteral(text, tag)
	case strings.HasPrefix(p.s[p.i:], "^^"):
		p.i += 2
		if p.peek() != '<' {
			return Literal{}, p.want("a datatype in <> after ^^")
		}
		dt, err := p.iri()
		if err != nil {
			return Literal{}, err
		}
		return foreignTyped(text, dt)
	}
	return knakk.NewLiteral(text)
}

// foreignTyped makes a typed literal that was read. Its lexical form is the writer's affair; only the datatype of language-tagged
// texts is refused, because it says that a tag was lost.
func foreignTyped(text string, dt IRI) (Literal, error) {
	switch dt.String() {
	case rdfns + "langString":
		return Literal{}, fmt.Errorf("a text of datatype rdf:langString has no language tag")
	case xsd + "string":
		return knakk.NewLiteral(text)
	}
	return knakk.NewTypedLiteral(text, dt), nil
}
