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

// labelOf is what a document's thing is called on pages. A marker or record is called by the name of its person too, and of those who may be it as well: the others whom the stone names and not as somebody's kin.
func labelOf(iri string, triples []rdf.Triple) string {
	label := ""
	for _, p := range []string{rdf.SKOS + "prefLabel", rdf.DCTerms + "title", rdf.FOAF + "name", rdf.RDFS + "label"} {
		if label = value(triples, iri, p); label != "" {
			break
		}
	}
	if label == "" && classOf(triples, iri) == "Run" {
		label = "a run of the program"
	}
	if label == "" {
		label = iri[strings.LastIndexByte(iri, '/')+1:]
	}
	var names []string
	for _, part := range []string{"#person", "#person-1", "#person-2", "#person-3"} {
		if name := nameOf(triples, iri+part); name != "" && (len(names) == 0 || value(triples, iri+part, rdf.MS+"relation") == "") {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return label
	}
	return label + ", " + strings.Join(names, " and ")
}

// nameOf is the name of a person; "" where none is said.
func nameOf(triples []rdf.Triple, person string) string {
	var name []string
	for _, property := range []string{rdf.Schema + "givenName", rdf.MS + "middleName", rdf.Schema + "familyName", rdf.MS + "nameSuffix"} {
		if text := value(triples, person, property); text != "" {
			name = append(name, text)
		}
	}
	return strings.Join(name, " ")
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
