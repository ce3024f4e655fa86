package rdf

import (
	"errors"
	"strconv"

	knakk "github.com/knakk/rdf"
)

func (p *turtleParser) literal() (Literal, error) {
	text, err := p.text()
	if err != nil {
		return Literal{}, err
	}
	switch {
	case p.at(0) == '@':
		n := 1
		for c := p.at(n); n < 256 && (isLetter(c) || isDigit(c) || c == '-'); c = p.at(n) {
			n++
		}
		n = langTag(string(p.buf[p.pos+1 : p.pos+n]))
		if n == 0 {
			return Literal{}, p.fail("want a language tag after @")
		}
		tag := p.take(1 + n)[1:]
		l, err := langLiteral(text, tag)
		if err != nil {
			return l, p.fail("%v", err)
		}
		return l, nil
	case p.at(0) == '^' && p.at(1) == '^':
		p.take(2)
		p.skip()
		dt, err := p.iri("a datatype after ^^")
		if err != nil {
			return Literal{}, err
		}
		l, err := foreignTyped(text, dt)
		if err != nil {
			return l, p.fail("%v", err)
		}
		return l, nil
	}
	return knakk.NewLiteral(text)
}

// blank reads a blank node with a label. Labels get an "l" in front and nodes without a label an "a", so that they cannot meet.
func (p *turtleParser) blank() (Blank, error) {
	if p.at(1) != ':' {
		return Blank{}, p.want("a blank node's label, as _:b1")
	}
	n := 2
	for n <= MaxToken {
		r, w := p.runeAt(n)
		if w <= 0 || r != '.' && !isPN(r) {
			break
		}
		n += w
	}
	n = blankLabel(string(p.buf[p.pos+2 : p.pos+n]))
	if n == 0 {
		return Blank{}, p.fail("want a blank node's label, as _:b1")
	}
	return knakk.NewBlank("l" + p.take(n + 2)[2:])
}

func (p *turtleParser) fresh() (Blank, error) {
	p.anon++
	return knakk.NewBlank("a" + strconv.Itoa(p.anon))
}

func (p *turtleParser) enter() error {
	if p.depth++; p.depth > MaxDepth {
		return p.fail("brackets nested deeper than %d", MaxDepth)
	}
	return nil
}

// bracket reads "[]" or "[ … ]"; listed is set where there were properties in it.
func (p *turtleParser) bracket() (b Blank, listed bool, err error) {
	if err := p.enter(); err != nil {
		return b, false, err
	}
	defer func() { p.depth-- }()
	p.take(1)
	if b, err = p.fresh(); err != nil {
		return b, false, err
	}
	p.skip()
	if p.at(0) == ']' {
		p.take(1)
		return b, false, nil
	}
	if err := p.properties(b); err != nil {
		return b, true, err
	}
	if p.at(0) != ']' {
		return b, true, p.want("]")
	}
	p.take(1)
	return b, true, nil
}

// collection reads "( … )" as a list, and gives its first node, or rdf:nil.
func (p *turtleParser) collection() (interface {
	Subject
	Object
}, error) {
	if err := p.enter(); err != nil {
		return nil, err
	}
	defer func() { p.depth-- }()
	p.take(1)
	first, err1 := knakk.NewIRI(rdfns + "first")
	rest, err2 := knakk.NewIRI(rdfns + "rest")
	end, err3 := knakk.NewIRI(rdfns + "nil")
	if err := errors.Join(err1, err2, err3); err != nil {
		return nil, err
	}
	var head, last Blank
	for n := 0; ; n++ {
		p.skip()
		if p.at(0) == ')' {
			p.take(1)
			if n == 0 {
				return end, nil
			}
			return head, p.emit(Triple{Subj: last, Pred: rest, Obj: end})
		}
		node, err := p.fresh()
		if err != nil {
			return nil, err
		}
		if n == 0 {
			head = node
		} else if err := p.emit(Triple{Subj: last, Pred: rest, Obj: node}); err != nil {
			return nil, err
		}
		last = node
		object, err := p.object()
		if err != nil {
			return nil, err
		}
		if err := p.emit(Triple{Subj: node, Pred: first, Obj: object}); err != nil {
			return nil, err
		}
	}
}
