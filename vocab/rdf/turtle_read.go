package rdf

import (
	"errors"
	"io"
	"iter"
	"strings"

	knakk "github.com/knakk/rdf"
)

// TurtleOptions say how to read a Turtle file.
type TurtleOptions struct {
	Name string // stands in errors
	// Base is the absolute IRI that relative ones are resolved against until the file sets another. Where it is empty, a relative IRI
	// is an error.
	Base string
}

// ReadTurtle reads RDF 1.1 Turtle, in the order of the file. It follows the grammar of section 6.5 of the recommendation to the
// letter, save that a byte order mark at the start is passed over. Blank nodes are renamed, so that those with a label and those
// without cannot meet.
//
// The first error ends the reading: a *SyntaxError, or the reader's own, which is never taken for the end of the file. Triples that
// came before it have been given by then; a caller that wants the whole file or nothing keeps them until the end.
func ReadTurtle(r io.Reader, opt TurtleOptions) iter.Seq2[Triple, error] {
	return func(yield func(Triple, error) bool) {
		p := &turtleParser{
			scanner: newScanner(r, opt.Name), base: opt.Base, prefix: map[string]string{},
			emit: func(t Triple) error {
				if !yield(t, nil) {
					return errStopped
				}
				return nil
			},
		}
		if err := p.document(); err != nil && !errors.Is(err, errStopped) {
			yield(Triple{}, err)
		}
	}
}

// errStopped says that the caller wants no more.
var errStopped = errors.New("stopped")

type turtleParser struct {
	*scanner
	base   string
	prefix map[string]string
	emit   func(Triple) error
	anon   int
	depth  int
}

func (p *turtleParser) document() error {
	for {
		p.skip()
		if p.ended() {
			if p.err != nil {
				return p.fail("")
			}
			return nil
		}
		if err := p.statement(); err != nil {
			return err
		}
	}
}

func (p *turtleParser) statement() error {
	if p.at(0) == '@' {
		word := p.word(1)
		switch word {
		case "prefix":
			p.take(7)
			return p.prefixDirective(true)
		case "base":
			p.take(5)
			return p.baseDirective(true)
		}
		return p.want("@prefix or @base")
	}
	if isLetter(p.at(0)) {
		// The words of SPARQL end where a prefix's name would go on.
		if n := p.prefixLength(); p.at(n) != ':' {
			switch word := strings.ToLower(p.word(0)); {
			case word == "prefix" && n == len(word):
				p.take(n)
				return p.prefixDirective(false)
			case word == "base" && n == len(word):
				p.take(n)
				return p.baseDirective(false)
			}
		}
	}
	if err := p.triples(); err != nil {
		return err
	}
	return p.stop("a full stop after the statement")
}

// word is the run of ASCII letters that begins i bytes on, at most 10 of them.
func (p *turtleParser) word(i int) string {
	n := i
	for n < i+10 && isLetter(p.at(n)) {
		n++
	}
	return string(p.buf[p.pos+i : p.pos+n])
}

func (p *turtleParser) stop(what string) error {
	p.skip()
	if p.at(0) != '.' {
		return p.want(what)
	}
	p.take(1)
	return nil
}

func (p *turtleParser) prefixDirective(stop bool) error {
	p.skip()
	n := p.prefixLength()
	if p.at(n) != ':' {
		return p.want("the name of a prefix with its colon, as ex:")
	}
	name := strings.TrimSuffix(p.take(n+1), ":")
	iri, err := p.iriHere("the prefix's namespace in <>")
	if err != nil {
		return err
	}
	p.prefix[name] = iri
	if stop {
		return p.stop("a full stop after @prefix")
	}
	return nil
}

func (p *turtleParser) baseDirective(stop bool) error {
	iri, err := p.iriHere("the base IRI in <>")
	if err != nil {
		return err
	}
	p.base = iri
	if stop {
		return p.stop("a full stop after @base")
	}
	return nil
}

// iriHere reads an IRI in <> and makes it absolute.
func (p *turtleParser) iriHere(what string) (string, error) {
	p.skip()
	if p.at(0) != '<' {
		return "", p.want(what)
	}
	ref, err := p.iriRef()
	if err != nil {
		return "", err
	}
	if p.base != "" {
		return resolve(p.base, ref), nil
	}
	if r := splitReference(ref); !r.hasScheme {
		return "", p.fail("IRI <%s> is relative, and the file sets no @base", ref)
	}
	return ref, nil
}

// iri reads an IRI in <> or a prefixed name.
func (p *turtleParser) iri(what string) (IRI, error) {
	if p.at(0) == '<' {
		s, err := p.iriHere(what)
		if err != nil {
			return IRI{}, err
		}
		iri, err := foreignIRI(s)
		if err != nil {
			return IRI{}, p.fail("%v", err)
		}
		return iri, nil
	}
	n := p.prefixLength()
	if p.at(n) != ':' {
		return IRI{}, p.want(what)
	}
	name := string(p.buf[p.pos : p.pos+n])
	ns, ok := p.prefix[name]
	if !ok {
		return IRI{}, p.fail("prefix %q is used, but not declared before", name+":")
	}
	p.take(n + 1)
	local, err := p.local()
	if err != nil {
		return IRI{}, err
	}
	iri, err := foreignIRI(ns + local)
	if err != nil {
		return IRI{}, p.fail("%v", err)
	}
	return iri, nil
}

func (p *turtleParser) triples() error {
	var subject Subject
	var err error
	switch p.at(0) {
	case '[':
		var listed bool
		subject, listed, err = p.bracket()
		if err != nil {
			return err
		}
		p.skip()
		if listed && p.at(0) == '.' {
			return nil // a property list that stands alone
		}
	case '(':
		subject, err = p.collection()
	case '_':
		subject, err = p.blank()
	default:
		subject, err = p.iri("an IRI, a blank node, [ or ( as subject")
	}
	if err != nil {
		return err
	}
	return p.properties(subject)
}

// properties reads predicates and objects: at least one of each.
func (p *turtleParser) properties(subject Subject) error {
	for {
		p.skip()
		predicate, err := p.predicate()
		if err != nil {
			return err
		}
		for {
			p.skip()
			object, err := p.object()
			if err != nil {
				return err
			}
			if err := p.emit(Triple{Subj: subject, Pred: predicate, Obj: object}); err != nil {
				return err
			}
			p.skip()
			if p.at(0) != ',' {
				break
			}
			p.take(1)
		}
		if p.at(0) != ';' {
			return nil
		}
		for p.at(0) == ';' {
			p.take(1)
			p.skip()
		}
		if c := p.at(0); c == '.' || c == ']' || p.ended() {
			return nil
		}
	}
}

func (p *turtleParser) predicate() (IRI, error) {
	if p.at(0) == 'a' {
		if n := p.prefixLength(); n == 1 && p.at(1) != ':' {
			p.take(1)
			return knakk.NewIRI(rdfType)
		}
	}
	return p.iri("a predicate: an IRI, or the word a")
}

func (p *turtleParser) object() (Object, error) {
	switch c := p.at(0); {
	case c == '[':
		b, _, err := p.bracket()
		return b, err
	case c == '(':
		return p.collection()
	case c == '_':
		return p.blank()
	case c == '"' || c == '\'':
		return p.literal()
	case isDigit(c) || c == '+' || c == '-' || c == '.':
		lexical, datatype, err := p.number()
		if err != nil {
			return nil, err
		}
		dt, err := knakk.NewIRI(datatype)
		return knakk.NewTypedLiteral(lexical, dt), err
	case c == 't' || c == 'f':
		n := p.prefixLength()
		if word := string(p.buf[p.pos : p.pos+n]); p.at(n) != ':' && (word == "true" || word == "false") {
			p.take(n)
			dt, err := knakk.NewIRI(xsd + "boolean")
			return knakk.NewTypedLiteral(word, dt), err
		}
	}
	return p.iri("an object: an IRI, a blank node, a literal, a number, true, false, [ or (")
}
