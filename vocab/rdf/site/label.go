package site

import (
	"strings"

	"musterstone/vocab/rdf"
)

// Properties that labels and pages look for.
const (
	rdfsLabel  = "http://www.w3.org/2000/01/rdf-schema#label"
	prefLabel  = "http://www.w3.org/2004/02/skos/core#prefLabel"
	foafName   = "http://xmlns.com/foaf/0.1/name"
	familyName = "http://schema.org/familyName"
	givenName  = "http://schema.org/givenName"
	dctTitle   = "http://purl.org/dc/terms/title"
	rdfType    = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
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
	for _, p := range []string{prefLabel, dctTitle, foafName, rdfsLabel} {
		if label = value(triples, iri, p); label != "" {
			break
		}
	}
	if label == "" {
		label = iri[strings.LastIndexByte(iri, '/')+1:]
	}
	for _, part := range []string{"#person", "#person-1"} {
		given, family := value(triples, iri+part, givenName), value(triples, iri+part, familyName)
		if name := strings.TrimSpace(given + " " + family); name != "" {
			return label + ", " + name
		}
	}
	return label
}

// classOf is the class in our vocabulary of a subject, without its namespace; "" where it has none.
func classOf(triples []rdf.Triple, subject string) string {
	for _, t := range triples {
		if t.Pred.String() == rdfType && t.Subj.String() == subject {
			if c, ok := strings.CutPrefix(t.Obj.String(), rdf.MS); ok {
				return c
			}
		}
	}
	return ""
}
