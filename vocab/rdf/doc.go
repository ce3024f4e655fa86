// Package rdf turns the values of model into RDF and reads RDF that others have written.
//
// Its terms are those of github.com/knakk/rdf, under names of our own, and no other package imports that library. Every
// term for publication is made by NewIRI, by NewLiteral or, where it has a language or a datatype, by the graph that is published; all refuse what a
// serialiser could not carry: a relative or malformed IRI, an empty language tag, a lexical form that its datatype does not
// allow, a control character, text that is not UTF-8. Clean takes such characters out of text from outside, and says how many.
//
// Foreign bytes are read by ReadNTriples and ReadTurtle, which follow the grammars of W3C to the letter, run in the
// caller's goroutine, hold one token at a time, and tell an error with file, line and column. The library's decoders see lines of our
// own writing only: two foreign bytes can end the process there, beyond any recover, and several kinds of input lose triples without an
// error. The tests of this package pin each of those faults.
//
// TurtleWriter writes sorted triples, and Publish N-Triples beside it, the same bytes for the same triples. Without blank nodes, N-Triples in that form
// and order is the canonical form of RDF Dataset Canonicalization (RDFC-1.0), so that its SHA-256 names the graph.
//
// Publish writes a whole dataset: data, vocabulary, shapes and description. The package has no clock and reads no
// environment.
package rdf
