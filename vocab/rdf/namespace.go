package rdf

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// Namespaces of the vocabularies in use.
const (
	// MS is the namespace of our own vocabulary.
	MS = "https://w3id.org/musterstone/vocab#"
	// EDTF is the datatype of uncertain dates (Library of Congress).
	EDTF = "http://id.loc.gov/datatypes/edtf/EDTF"

	rdfns  = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
	rdfs   = "http://www.w3.org/2000/01/rdf-schema#"
	xsd    = "http://www.w3.org/2001/XMLSchema#"
	owl    = "http://www.w3.org/2002/07/owl#"
	skos   = "http://www.w3.org/2004/02/skos/core#"
	prov   = "http://www.w3.org/ns/prov#"
	org    = "http://www.w3.org/ns/org#"
	foaf   = "http://xmlns.com/foaf/0.1/"
	schema = "http://schema.org/"
	dct    = "http://purl.org/dc/terms/"
	wgs    = "http://www.w3.org/2003/01/geo/wgs84_pos#"
	geo    = "http://www.opengis.net/ont/geosparql#"
	void   = "http://rdfs.org/ns/void#"
	dcat   = "http://www.w3.org/ns/dcat#"
	spdx   = "http://spdx.org/rdf/terms#"
	sh     = "http://www.w3.org/ns/shacl#"
	bio    = "http://purl.org/vocab/bio/0.1/"

	rdfType = rdfns + "type"
)

// Those of other vocabularies whose terms a page of a publication looks for.
const (
	DCTerms = dct
	DCAT    = dcat
	FOAF    = foaf
	ORG     = org
	PROV    = prov
	RDFS    = rdfs
	Schema  = schema
	SKOS    = skos
	VOID    = void

	// Type is rdf:type.
	Type = rdfType
)

// Prefix is a short name for a namespace.
type Prefix struct{ Name, Namespace string }

// namespaceOf is an IRI up to the last sign after which a name may stand; "" where it has none.
func namespaceOf(iri string) string { return iri[:strings.LastIndexAny(iri, "/#:")+1] }

// prefixes are those that the published files declare, where they use them.
func prefixes() []Prefix {
	return []Prefix{
		{"bio", bio}, {"dcat", dcat}, {"dcterms", dct}, {"foaf", foaf}, {"geo", geo}, {"ms", MS}, {"org", org}, {"owl", owl}, {"prov", prov},
		{"rdf", rdfns}, {"rdfs", rdfs}, {"schema", schema}, {"sh", sh}, {"skos", skos}, {"spdx", spdx}, {"void", void},
		{"wgs", wgs}, {"xsd", xsd},
	}
}

// prefixes are those of the namespaces in use.
func (g *graph) prefixes(more ...Prefix) []Prefix {
	var out []Prefix
	for _, p := range append(prefixes(), more...) {
		if g.ns[p.Namespace] {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b Prefix) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

// ownPrefixes are those of the dataset itself: one for its things, and one for the columns of each file.
func (m *mapper) ownPrefixes() []Prefix {
	m.ns[m.base+"id/"] = true
	own := []Prefix{{"id", m.base + "id/"}}
	var columns []string
	for ns := range m.ns {
		if strings.HasPrefix(ns, m.base+"column/") {
			columns = append(columns, ns)
		}
	}
	slices.Sort(columns)
	for i, ns := range columns {
		own = append(own, Prefix{"col" + strconv.Itoa(i+1), ns})
	}
	return own
}
