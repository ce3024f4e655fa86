package rdf

import (
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"os"
	"path/filepath"
	"strings"

	"musterstone/vocab"
)

//go:embed vocabulary.html.tmpl
var vocabularyPage string

// pageTerm is a term on the page of the vocabulary.
type pageTerm struct {
	Name, Label, Comment string
	Super, Domain, Range []pageLink
	See                  []pageLink
}

// pageLink is a term that another rests on: one of ours, or of another vocabulary.
type pageLink struct {
	Name, IRI string
	Own       bool
}

type pageGroup struct {
	ID, Title, Note string
	Ends            bool // domain and range are shown
	Terms           []pageTerm
}

type pageScheme struct {
	ID, Title string
	Concepts  []pageConcept
}

type pageConcept struct {
	Name, Code, Label, Definition, Note string
	Sources                             []string
	Matches                             []publicID
}

// writeVocabulary writes the vocabulary as Turtle, and as a page for people with an anchor for each term.
func writeVocabulary(dir string) error {
	g := newGraph(dir)
	g.vocabulary()
	if _, err := g.writeTurtle(filepath.Join(dir, "vocabulary.ttl"), g.prefixes()); err != nil {
		return fmt.Errorf("vocabulary: %w", err)
	}
	t, err := template.New("vocabulary").Parse(vocabularyPage)
	if err != nil {
		return fmt.Errorf("vocabulary page: %w", err)
	}
	groups, err := pageGroups()
	if err != nil {
		return fmt.Errorf("vocabulary page: %w", err)
	}
	f, err := os.Create(filepath.Join(dir, "vocabulary.html"))
	if err != nil {
		return err
	}
	defer f.Close()
	err = t.Execute(f, struct {
		Version, Namespace, Events string
		Groups                     []pageGroup
		Schemes                    []pageScheme
	}{ontologyVersion, MS, eventsNote, groups, pageSchemes()})
	if err = errors.Join(err, f.Close()); err != nil {
		return fmt.Errorf("vocabulary page: %w", err)
	}
	return nil
}

func pageGroups() ([]pageGroup, error) {
	groups := []pageGroup{
		{ID: "classes", Title: "Classes"},
		{ID: "properties", Title: "Properties", Ends: true},
		{ID: "columns", Title: "Meanings of columns", Ends: true, Note: "What a column of a source table may be read as; several of the properties above serve for it too."},
	}
	at := map[string]int{"class": 0, "object": 1, "data": 1, "column": 2}
	for _, r := range vocab.Rows("ontology") {
		t := pageTerm{Name: r.Get("term"), Label: r.Get("label"), Comment: r.Get("comment")}
		for _, c := range []struct {
			column string
			links  *[]pageLink
		}{{"super", &t.Super}, {"domain", &t.Domain}, {"range", &t.Range}, {"see", &t.See}} {
			for _, name := range r.List(c.column) {
				iri, err := Expand(name)
				if err != nil {
					return nil, fmt.Errorf("%s: %w", r.Where(), err)
				}
				*c.links = append(*c.links, pageLink{name, iri, strings.HasPrefix(iri, MS)})
			}
		}
		g := &groups[at[r.Get("kind")]]
		g.Terms = append(g.Terms, t)
	}
	return groups, nil
}

func pageSchemes() []pageScheme {
	var all []pageScheme
	for _, s := range schemes() {
		p := pageScheme{ID: "scheme-" + s.kind, Title: s.title}
		for _, c := range s.concepts {
			x := pageConcept{Name: conceptName(s.kind, c.code), Code: c.code, Label: c.name(), Definition: c.definition, Note: c.note}
			seen := map[string]bool{}
			for _, key := range c.sources {
				if citation, _, ok := vocab.Source(key); ok && !seen[key] {
					seen[key] = true
					x.Sources = append(x.Sources, citation)
				}
			}
			x.Matches = publicIDs()[codeKey{s.kind, c.code}]
			p.Concepts = append(p.Concepts, x)
		}
		all = append(all, p)
	}
	return all
}
