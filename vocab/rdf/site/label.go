package site

import (
	"strings"

	"musterstone/vocab/rdf"
)

// value is the first value of a property of a subject; "" where there is none.
func value(triples []rdf.Triple, subject, property string) string {
	for _, t := range triples {
		if t.Pred.String() == property && t.Subj.String() == subject {
			return t.Obj.String()
		}
	}
	return ""
}

// labelOf is what a document's thing is called on pages. A marker or record is called by the name of its first person too.
func labelOf(iri string, triples []rdf.Triple) string {
	label := ""
	for _, p := range []string{rdf.SKOS + "prefLabel", rdf.DCTerms + "title", rdf.FOAF + "name", rdf.RDFS + "label"} {
		if label = value(triples, iri, p); label != "" {
			break
		}
	}
	if label == "" {
		label = iri[strings.LastIndexByte(iri, '/')+1:]
	}
	for _, part := range []string{"#person", "#person-1"} {
		given, family := value(triples, iri+part, rdf.Schema+"givenName"), value(triples, iri+part, rdf.Schema+"familyName")
		if name := strings.TrimSpace(given + " " + family); name != "" {
			return label + ", " + name
		}
	}
	return label
}

// classOf is the class in our vocabulary of a subject, without its namespace; "" where it has none.
func classOf(triples []rdf.Triple, subject string) string {
	for _, t := range triples {
		if t.Pred.String() == rdf.Type && t.Subj.String() == subject {
			if c, ok := strings.CutPrefix(t.Obj.String(), rdf.MS); ok {
				return c
			}
		}
	}
	return ""
}
