package rdf

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	knakk "github.com/knakk/rdf"
)

// The terms of the library, under our own names.
type (
	// Term is an IRI, a Blank or a Literal.
	Term = knakk.Term
	// IRI names a thing.
	IRI = knakk.IRI
	// Blank is a node without a name. They are read, and never written.
	Blank = knakk.Blank
	// Literal is a text with a datatype or a language.
	Literal = knakk.Literal
	// Subject is an IRI or a Blank.
	Subject = knakk.Subject
	// Predicate is an IRI.
	Predicate = knakk.Predicate
	// Object is any Term.
	Object = knakk.Object
	// Triple is one statement.
	Triple = knakk.Triple
)

// NewIRI makes an IRI for publication: absolute, UTF-8, of the characters that RFC 3987 section 2.2 allows, with whole percent
// triplets. Whether its scheme is registered, and whether it can be fetched, is not looked at.
func NewIRI(s string) (IRI, error) {
	if err := checkIRI(s); err != nil {
		return IRI{}, err
	}
	return knakk.NewIRI(s)
}

// trustedIRI makes an IRI of a checked one and plain names.
func trustedIRI(s string) (IRI, error) { return knakk.NewIRI(s) }

// NewLiteral makes a plain text (xsd:string). Text from outside goes through Clean first.
func NewLiteral(s string) (Literal, error) {
	if err := checkText(s); err != nil {
		return Literal{}, err
	}
	return knakk.NewLiteral(s)
}

// langLiteral makes a language-tagged literal. The library's constructor refuses a tag with more than one hyphen, which its decoder
// takes; such a tag comes to it by a line of our own writing.
func langLiteral(s, tag string) (Literal, error) {
	if strings.Count(tag, "-") < 2 {
		return knakk.NewLangLiteral(s, tag)
	}
	// The text goes into one line of canonical N-Triples, and the decoder reads it to the end, so that its goroutine ends.
	line := appendQuoted([]byte("<x:s> <x:p> "), s)
	line = append(line, '@')
	line = append(line, tag...)
	line = append(line, " .\n"...)
	dec := knakk.NewTripleDecoder(strings.NewReader(string(line)), knakk.NTriples)
	all, err := dec.DecodeAll()
	if err != nil {
		return Literal{}, fmt.Errorf("language tag %q: %w", tag, err)
	}
	if len(all) == 1 {
		if l, ok := all[0].Obj.(Literal); ok && l.String() == s && l.Lang() == tag {
			return l, nil
		}
	}
	return Literal{}, fmt.Errorf("language tag %q: the term did not come back as it was given", tag)
}

func checkIRI(s string) error {
	scheme := strings.IndexByte(s, ':')
	if scheme <= 0 || !isScheme(s[:scheme]) {
		return fmt.Errorf("IRI %q is not absolute; it needs a scheme, such as https, in front", s)
	}
	if !utf8.ValidString(s) {
		return fmt.Errorf("IRI %q is not UTF-8", s)
	}
	query, fragment := false, false
	for i, r := range s {
		switch {
		case r == '%':
			if i+2 >= len(s) || !isHex(s[i+1]) || !isHex(s[i+2]) {
				return fmt.Errorf("IRI %q: %q at byte %d is not followed by two hexadecimal digits", s, '%', i)
			}
		case r == '#':
			if fragment {
				return fmt.Errorf("IRI %q has two fragments", s)
			}
			fragment = true
		case r == '?':
			query = !fragment
		case r == '[' || r == ']':
			if !inAuthority(s, i) {
				return fmt.Errorf("IRI %q: %q is allowed only round an IP address", s, r)
			}
		case r < 0x80:
			if !isASCIIIRIChar(byte(r)) {
				return fmt.Errorf("IRI %q: character %q is not allowed; percent-encode it", s, r)
			}
		case isUCSChar(r):
		case isPrivateUse(r) && query && !fragment:
		default:
			return fmt.Errorf("IRI %q: character %U is not allowed", s, r)
		}
	}
	return nil
}

func isScheme(s string) bool {
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case isLetter(c):
		case i > 0 && (isDigit(c) || c == '+' || c == '-' || c == '.'):
		default:
			return false
		}
	}
	return s != ""
}

func inAuthority(s string, i int) bool {
	_, rest, ok := strings.Cut(s, "://")
	if !ok {
		return false
	}
	start := len(s) - len(rest)
	end := start + len(rest)
	if j := strings.IndexAny(rest, "/?#"); j >= 0 {
		end = start + j
	}
	return i >= start && i < end
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }
func isDigit(c byte) bool  { return c >= '0' && c <= '9' }
func isHex(c byte) bool    { return isDigit(c) || c|0x20 >= 'a' && c|0x20 <= 'f' }

func isASCIIIRIChar(c byte) bool {
	return isLetter(c) || isDigit(c) || strings.IndexByte("-._~:/@!$&'()*+,;=", c) >= 0
}

// isUCSChar is the rule ucschar of RFC 3987 section 2.2.
func isUCSChar(r rune) bool {
	switch {
	case r >= 0xA0 && r <= 0xD7FF, r >= 0xF900 && r <= 0xFDCF, r >= 0xFDF0 && r <= 0xFFEF:
		return true
	case r >= 0x10000 && r <= 0xEFFFD:
		return r&0xFFFF <= 0xFFFD && (r < 0xE0000 || r >= 0xE1000)
	}
	return false
}

// isPrivateUse is the rule iprivate of RFC 3987 section 2.2, allowed in a query only.
func isPrivateUse(r rune) bool {
	return r >= 0xE000 && r <= 0xF8FF || r >= 0xF0000 && r <= 0xFFFFD || r >= 0x100000 && r <= 0x10FFFD
}

var errEmptyLang = errors.New("language tag is empty; make a plain text instead")

// checkLang holds a tag to the form of RFC 5646: subtags of one to eight letters and digits, the first of letters alone.
func checkLang(tag string) error {
	if tag == "" {
		return errEmptyLang
	}
	for i, sub := range strings.Split(tag, "-") {
		if len(sub) == 0 || len(sub) > 8 {
			return fmt.Errorf("language tag %q: part %q must have one to eight letters or digits", tag, sub)
		}
		for j := 0; j < len(sub); j++ {
			if !isLetter(sub[j]) && (i == 0 || !isDigit(sub[j])) {
				return fmt.Errorf("language tag %q: %q is not allowed in part %q", tag, sub[j], sub)
			}
		}
	}
	return nil
}
