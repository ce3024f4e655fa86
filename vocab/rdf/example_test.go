package rdf_test

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"musterstone/vocab/rdf"
)

// A roster that came as Turtle is read, and written again in the one form that this package writes.
func Example() {
	const roster = `@prefix foaf: <http://xmlns.com/foaf/0.1/> .
<https://data.example.org/r/1> foaf:familyName "Holden" ; a foaf:Person ; foaf:givenName """John
# not a comment""" .`
	var triples []rdf.Triple
	for t, err := range rdf.ReadTurtle(strings.NewReader(roster), rdf.TurtleOptions{Name: "roster.ttl"}) {
		if err != nil {
			fmt.Println(err)
			return
		}
		triples = append(triples, t)
	}
	slices.SortFunc(triples, func(a, b rdf.Triple) int { return strings.Compare(line(a), line(b)) })
	w := rdf.NewTurtleWriter(os.Stdout, "", []rdf.Prefix{{Name: "foaf", Namespace: "http://xmlns.com/foaf/0.1/"}, {Name: "r", Namespace: "https://data.example.org/r/"}})
	for _, t := range triples {
		if err := w.Write(t); err != nil {
			fmt.Println(err)
		}
	}
	if err := w.Close(); err != nil {
		fmt.Println(err)
	}
	// Output:
	// @prefix foaf: <http://xmlns.com/foaf/0.1/> .
	// @prefix r: <https://data.example.org/r/> .
	//
	// r:1 a foaf:Person ;
	// 	foaf:familyName "Holden" ;
	// 	foaf:givenName "John\n# not a comment" .
}

func line(t rdf.Triple) string {
	b, _ := rdf.AppendTriple(nil, t)
	return string(b)
}

func ExampleReadNTriples() {
	const in = "<https://a.example/s> <https://a.example/p> \"x\" .\n<https://a.example/s> <p> \"y\" .\n"
	for t, err := range rdf.ReadNTriples(strings.NewReader(in), "roster.nt") {
		if err != nil {
			fmt.Println(err)
			break
		}
		fmt.Println(t.Obj)
	}
	// Output:
	// x
	// roster.nt:2:23: IRI <p> is not absolute
}
