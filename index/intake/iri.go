package intake

import (
	"slices"
	"strings"
)

// vocabulary is the namespace of the project's own terms.
const vocabulary = "https://w3id.org/musterstone/vocab#"

// prefixes are the short names that a metadata file may use. Those of CSV on the Web are fixed by the RDFa initial
// context, which it takes over; ms and geo are ours to add.
var prefixes = map[string]string{
	"ms":      vocabulary,
	"csvw":    "http://www.w3.org/ns/csvw#",
	"dc":      "http://purl.org/dc/terms/",
	"dc11":    "http://purl.org/dc/elements/1.1/",
	"dcat":    "http://www.w3.org/ns/dcat#",
	"dcterms": "http://purl.org/dc/terms/",
	"foaf":    "http://xmlns.com/foaf/0.1/",
	"geo":     "http://www.w3.org/2003/01/geo/wgs84_pos#",
	"org":     "http://www.w3.org/ns/org#",
	"owl":     "http://www.w3.org/2002/07/owl#",
	"prov":    "http://www.w3.org/ns/prov#",
	"rdf":     "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
	"rdfs":    "http://www.w3.org/2000/01/rdf-schema#",
	"schema":  "http://schema.org/",
	"skos":    "http://www.w3.org/2004/02/skos/core#",
	"void":    "http://rdfs.org/ns/void#",
	"wgs":     "http://www.w3.org/2003/01/geo/wgs84_pos#",
	"xsd":     "http://www.w3.org/2001/XMLSchema#",
}

// typeIRI is rdf:type.
const typeIRI = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"

// Expand turns a prefixed name, as it stands in a metadata file or in a Cell of a graph, into an IRI; ok is false where it is neither that nor absolute.
func Expand(name string) (iri string, ok bool) {
	prefix, local, found := strings.Cut(name, ":")
	if !found || prefix == "" {
		return name, false
	}
	if ns, known := prefixes[prefix]; known {
		return ns + local, true
	}
	return name, strings.HasPrefix(local, "//") || prefix == "urn" || prefix == "tag"
}

// synonyms are properties of other vocabularies that say the same as one of ours.
var synonyms = map[string]term{
	"http://schema.org/familyName":                 tSurname,
	"http://xmlns.com/foaf/0.1/familyName":         tSurname,
	"http://xmlns.com/foaf/0.1/lastName":           tSurname,
	"http://schema.org/givenName":                  tGiven,
	"http://xmlns.com/foaf/0.1/givenName":          tGiven,
	"http://xmlns.com/foaf/0.1/firstName":          tGiven,
	"http://schema.org/honorificSuffix":            tSuffix,
	"http://schema.org/name":                       tName,
	"http://xmlns.com/foaf/0.1/name":               tName,
	"http://schema.org/birthDate":                  tBorn,
	"http://schema.org/deathDate":                  tDied,
	"http://schema.org/birthPlace":                 tBirthplace,
	"http://schema.org/deathPlace":                 tDeathPlace,
	"http://schema.org/homeLocation":               tResidence,
	"http://www.w3.org/2003/01/geo/wgs84_pos#lat":  tLatitude,
	"http://www.w3.org/2003/01/geo/wgs84_pos#long": tLongitude,
	"http://purl.org/dc/terms/identifier":          tID,
	"http://purl.org/dc/elements/1.1/identifier":   tID,
}

// aliases are properties of the published vocabulary that go by another name than the column that they come from.
var aliases = map[string]term{
	"widthInches":     tWidth,
	"thicknessInches": tThickness,
	"heightInches":    tHeight,
	"lengthInches":    tLength,
	"motif":           tMotifs,
	"plotRow":         tRow,
	"recordedOn":      tRecorded,
	"note":            tNotes,
	"transcription":   tInscription,
	"nameSuffix":      tSuffix,
	"nameWritten":     tName,
	"unitWritten":     tUnit,
}

// propertiesOf are the properties of other vocabularies that say the same as the term, and those of ours, sorted.
func propertiesOf(t term) []string {
	if t == noTerm {
		return nil
	}
	out := []string{vocabulary + termName(t)}
	for iri, of := range synonyms {
		if of == t {
			out = append(out, iri)
			if local, ok := strings.CutPrefix(iri, "http://schema.org/"); ok {
				out = append(out, "https://schema.org/"+local)
			}
		}
	}
	for name, of := range aliases {
		if of == t {
			out = append(out, vocabulary+name)
		}
	}
	for _, n := range termNames {
		if n.term == t {
			out = append(out, vocabulary+n.name)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// termOf finds the term of a property. unknown is set for a name in our own vocabulary that is none of its terms; a property
// of another vocabulary that we do not know is no fault, and its column is kept and published under it.
func termOf(iri string, records bool) (t term, unknown bool) {
	iri = strings.Replace(iri, "https://schema.org/", "http://schema.org/", 1)
	if local, ok := strings.CutPrefix(iri, vocabulary); ok {
		if t = aliases[local]; t != noTerm {
			return t, false
		}
		t = termNamed(local, records)
		return t, t == noTerm
	}
	t = synonyms[iri]
	return t, false
}
