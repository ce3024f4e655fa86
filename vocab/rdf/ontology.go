package rdf

import (
	"fmt"
	"slices"
	"strings"

	"musterstone/model/date"
	"musterstone/vocab"
)

// ontologyVersion changes with the terms of the vocabulary.
const ontologyVersion = "1.2"

// eventsNote is why the data have no events of the vocabulary BIO, though their terms are named beside ours.
const eventsNote = "Births, deaths and burials are no events here. The events of the vocabulary BIO are those of a person, one birth and one death each, with a date by ISO 8601. " +
	"What we have is what each source says: a stone and a roster may give one man two years of birth, both uncertain, and who joins them without a decision would give him two births. " +
	"So each source's words stay with its own mention of the person, as ms:born, ms:died and ms:buried; each names the BIO event (rdfs:seeAlso) that it speaks of, for those who wish to make such events of confirmed persons."

// Expand makes an IRI of a prefixed name in a table; a bare word is a term of ours.
func Expand(name string) (string, error) {
	prefix, local, ok := strings.Cut(name, ":")
	if !ok {
		return MS + name, nil
	}
	if prefix == "edtf" {
		return strings.TrimSuffix(EDTF, "EDTF") + local, nil
	}
	for _, p := range prefixes() {
		if p.Name == prefix {
			return p.Namespace + local, nil
		}
	}
	return "", fmt.Errorf("prefix %q is not known", prefix)
}

// vocabulary says what the terms mean: the ontology, and a concept scheme for each code list.
func (g *graph) vocabulary() {
	g.ontology()
	for _, s := range schemes() {
		g.scheme(s)
	}
}

func (g *graph) ontology() {
	self := g.term(strings.TrimSuffix(MS, "#"))
	g.is(self, owl+"Ontology")
	g.english(self, dct+"title", "Musterstone vocabulary")
	g.english(self, rdfs+"comment", "Terms for grave markers of veterans, service records, proposals to link them, and what people decided. What one source says of a man is kept apart from the man.")
	g.text(self, owl+"versionInfo", ontologyVersion)
	g.english(self, skos+"editorialNote", eventsNote)
	g.cite(self, "bio-vocabulary")
	for _, r := range vocab.Rows("ontology") {
		s := g.term(MS + r.Get("term"))
		switch kind := r.Get("kind"); kind {
		case "class":
			g.is(s, owl+"Class", rdfs+"Class")
		case "object":
			g.is(s, owl+"ObjectProperty", rdfns+"Property")
		case "data":
			g.is(s, owl+"DatatypeProperty", rdfns+"Property")
		case "column":
			g.is(s, rdfns+"Property") // what the column of a table is read as; of no data of ours itself
		default:
			g.fail(fmt.Errorf("%s: unknown kind %q", r.Where(), kind))
		}
		g.english(s, rdfs+"label", r.Get("label"))
		g.english(s, rdfs+"comment", r.Get("comment"))
		g.iri(s, rdfs+"isDefinedBy", self)
		super := rdfs + "subPropertyOf"
		if r.Get("kind") == "class" {
			super = rdfs + "subClassOf"
		}
		g.each(r, "super", s, super)
		g.each(r, "domain", s, rdfs+"domain")
		g.each(r, "range", s, rdfs+"range")
		g.each(r, "see", s, rdfs+"seeAlso")
	}
}

// each says every name of a cell.
func (g *graph) each(r vocab.Row, column string, s IRI, predicate string) {
	for _, name := range r.List(column) {
		iri, err := Expand(name)
		if err != nil {
			g.fail(fmt.Errorf("%s: %w", r.Where(), err))
			continue
		}
		g.iri(s, predicate, g.term(iri))
	}
}

func (g *graph) scheme(s scheme) {
	self := g.term(MS + "scheme-" + s.kind)
	g.is(self, skos+"ConceptScheme")
	g.english(self, skos+"prefLabel", s.title)
	g.iri(self, rdfs+"isDefinedBy", g.term(strings.TrimSuffix(MS, "#")))
	at := map[string]string{}
	for _, c := range s.concepts {
		name := conceptName(s.kind, c.code)
		if other, clash := at[name]; clash {
			g.fail(fmt.Errorf("codes %q and %q of kind %s have the same name %s", other, c.code, s.kind, name))
		}
		at[name] = c.code
		x := g.term(MS + name)
		g.is(x, MS+s.class, skos+"Concept")
		g.iri(x, skos+"inScheme", self)
		if c.broader == "" {
			g.iri(x, skos+"topConceptOf", self)
		} else {
			g.iri(x, skos+"broader", g.term(MS+conceptName(s.kind, c.broader)))
		}
		g.english(x, skos+"prefLabel", c.name())
		g.text(x, skos+"notation", c.code)
		g.english(x, skos+"definition", c.definition)
		g.english(x, skos+"note", c.note)
		g.conceptDays(x, c)
		for _, key := range slices.Compact(slices.Sorted(slices.Values(c.sources))) {
			g.cite(x, key)
		}
		for _, id := range publicIDs()[codeKey{s.kind, c.code}] {
			g.iri(x, skos+id.Match+"Match", g.term(id.IRI))
		}
	}
}

// cite names a source of the tables.
func (g *graph) cite(x IRI, key string) {
	citation, where, ok := vocab.Source(key)
	if !ok {
		g.fail(fmt.Errorf("%s: unknown source %q", x, key))
	}
	if where != "" {
		citation += ", " + where
	}
	g.text(x, dct+"source", citation)
}

// conceptDays says from when to when a conflict lasted.
func (g *graph) conceptDays(x IRI, c concept) {
	if c.from == "" {
		return
	}
	to := c.to
	if to == "" {
		to = ".."
	}
	when, err := date.ParseEDTF(c.from + "/" + to)
	if err != nil {
		g.fail(fmt.Errorf("conflict %q: %w", c.code, err))
		return
	}
	when.Written = ""
	g.date(x, MS+"when", when)
}
