package rdf

import (
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"musterstone/vocab"
)

// TestTermsAreDefined: every term of ours that a published file uses stands in the vocabulary with a label and, save for concepts and schemes, a comment.
func TestTermsAreDefined(t *testing.T) {
	dir, _ := published(t)
	defined := map[string]map[string]bool{}
	vocabulary, err := readAll(filepath.Join(dir, "vocabulary.ttl"), "")
	if err != nil {
		t.Fatal(err)
	}
	for _, tr := range vocabulary {
		s := tr.Subj.String()
		if defined[s] == nil {
			defined[s] = map[string]bool{}
		}
		defined[s][tr.Pred.String()] = true
	}
	for s, has := range defined {
		if !has[rdfs+"label"] && !has[skos+"prefLabel"] && !has[dct+"title"] {
			t.Errorf("%s has no label", s)
		}
		if !has[rdfs+"comment"] && !has[skos+"prefLabel"] {
			t.Errorf("%s has no comment", s)
		}
		if !has[rdfType] {
			t.Errorf("%s has no type", s)
		}
	}
	var everything []Triple
	for _, file := range []string{"dataset.ttl", "proposals.ttl", "about.ttl"} {
		all, err := readAll(filepath.Join(dir, file), "")
		if err != nil {
			t.Fatal(err)
		}
		everything = append(everything, all...)
	}
	subjects := map[string]bool{}
	for _, tr := range everything {
		subjects[tr.Subj.String()] = true
	}
	for _, file := range []string{"dataset.ttl", "proposals.ttl", "about.ttl", "shapes.ttl", "vocabulary.ttl"} {
		all, err := readAll(filepath.Join(dir, file), "")
		if err != nil {
			t.Fatal(err)
		}
		used := map[string]bool{}
		for _, tr := range all {
			terms := []Term{tr.Pred, tr.Obj}
			if file != "shapes.ttl" {
				terms = append(terms, tr.Subj)
			}
			for _, x := range terms {
				switch x := x.(type) {
				case IRI:
					used[x.String()] = true
				case Literal:
					used[x.DataType.String()] = true
				case Blank:
					t.Errorf("%s has a blank node", file)
				}
			}
		}
		for _, iri := range slices.Sorted(maps.Keys(used)) {
			if strings.HasPrefix(iri, MS) && iri != MS && defined[iri] == nil {
				t.Errorf("%s uses %s, which the vocabulary does not have", file, iri)
			}
			if strings.HasPrefix(iri, "https://data.example.org/alder/id/") && !subjects[iri] {
				t.Errorf("%s names %s and says nothing of it", file, iri)
			}
		}
	}
}

// TestOntologyIsUsed: the vocabulary has no property or class that the program never writes, the sample and a few that it cannot hold aside.
func TestOntologyIsUsed(t *testing.T) {
	dir, _ := published(t)
	used := map[string]bool{}
	for _, file := range []string{"dataset.ttl", "proposals.ttl", "vocabulary.ttl", "about.ttl"} {
		all, err := readAll(filepath.Join(dir, file), "")
		if err != nil {
			t.Fatal(err)
		}
		for _, tr := range all {
			used[tr.Pred.String()] = true
			if tr.Pred.String() == rdfType {
				used[tr.Obj.String()] = true
			}
		}
	}
	// What a source may say and the sample does not.
	rare := strings.Fields(`age ageYears award birthplace body born bornEarliest bornLatest bornWritten brevet buried condition deathPlace
		division emblem enlistedWritten graveNumber homeState lengthInches lettering memorial middleName musteredIn musteredInEarliest
		musteredInLatest musteredInWritten musteredOut musteredOutEarliest musteredOutLatest musteredOutWritten nameSuffix nextLook photo
		Redesignation changedFrom rankOut relation remarks residence serviceWritten setting society sourceSubject state unitKind unitMark unitName unknownDead company`)
	for _, r := range vocab.Rows("ontology") {
		if name := r.Get("term"); r.Get("kind") != "column" && !used[MS+name] && !slices.Contains(rare, name) {
			t.Errorf("%s: ms:%s is never written", r.Where(), name)
		}
	}
}

// TestConcepts: every code list is published, each concept under a name of its own.
func TestConcepts(t *testing.T) {
	for _, c := range []struct{ kind, code, name string }{
		{"conflict", "civil-war", "conflict-civil-war"}, {"rank", "first sergeant", "rank-first-sergeant"}, {"state", "WI", "state-wi"}, {"pattern", "civil-war-1873", "pattern-civil-war-1873"},
		{"pattern", "unknown", "pattern-unknown"}, {"service", "civil-war/union", "service-civil-war-union"}, {"verdict", "confirmed", "verdict-confirmed"}, {"finding", "no-stone", "finding-no-stone"},
		{"arm", "heavy-artillery", "arm-heavy-artillery"}, {"body", "usct", "body-usct"}, {"side", "union", "side-union"}, {"branch", "navy", "branch-navy"},
	} {
		if !known()[c.kind+":"+c.code] {
			t.Errorf("%s %q has no concept", c.kind, c.code)
		}
		if got := conceptName(c.kind, c.code); got != c.name {
			t.Errorf("%s %q: %s, want %s", c.kind, c.code, got, c.name)
		}
	}
}
