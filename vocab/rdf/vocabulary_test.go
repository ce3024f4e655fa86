package rdf

import (
	"maps"
	"path/filepath"
	"regexp"
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

// TestDefinitions: every concept says what it means and where that is from, once in English; each row of the table of definitions is used, and what is put together
// from the rows reads as a sentence.
func TestDefinitions(t *testing.T) {
	dir, _ := published(t)
	all, err := readAll(filepath.Join(dir, "vocabulary.ttl"), "")
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]map[string][]Term{}
	for _, tr := range all {
		s := tr.Subj.String()
		if said[s] == nil {
			said[s] = map[string][]Term{}
		}
		said[s][tr.Pred.String()] = append(said[s][tr.Pred.String()], tr.Obj)
	}
	concepts := 0
	for _, s := range slices.Sorted(maps.Keys(said)) {
		if said[s][skos+"notation"] == nil {
			continue
		}
		concepts++
		for _, p := range []string{"prefLabel", "definition"} {
			texts := said[s][skos+p]
			if len(texts) != 1 {
				t.Errorf("%s: skos:%s comes %d times", s, p, len(texts))
				continue
			}
			if l, ok := texts[0].(Literal); !ok || l.Lang() != "en" {
				t.Errorf("%s: skos:%s is not in English: %v", s, p, texts[0])
			}
		}
		if len(said[s][dct+"source"]) == 0 {
			t.Errorf("%s: no source", s)
		}
	}
	if want := len(known()); concepts != want {
		t.Errorf("%d concepts are published, of %d codes", concepts, want)
	}
	sentence := regexp.MustCompile(`^[A-Z][^\n{}]*[^ .,][.]$`)
	for _, s := range schemes() {
		for _, c := range s.concepts {
			if !sentence.MatchString(c.definition) || strings.Contains(c.definition, "  ") || strings.Contains(c.definition, " ,") {
				t.Errorf("%s %q: %q is no sentence", s.kind, c.code, c.definition)
			}
		}
	}
	for _, r := range vocab.Rows("definitions") {
		if !known()[codeKey{r.Get("kind"), r.Get("code")}] {
			t.Errorf("%s: no such code", r.Where())
		}
	}
	for kind, want := range map[string]string{
		"conflict:civil-war":       "A war of the United States, or a time counted as one, from 12 April 1861 to 20 August 1866.",
		"conflict:gulf":            "A war of the United States, or a time counted as one, from 2 August 1990 on.",
		"state:WI":                 "Wisconsin, a state of the United States.",
		"state:DC":                 "District of Columbia, a district of the United States.",
		"body:usct":                "Units that carry the name of no state, on the side of the Union, from 1863 to 1867.",
		"arm:siege-artillery":      "A kind of Heavy Artillery.",
		"rank:private first class": "A rank or rate: enlisted of the Army, from 1898 on.",
		"service:gulf":             "What a marker may imply: service in the Gulf War or since, from 1990 on.",
		"verdict:refused":          "A person has decided that the stone and the record are not of the same man.",
	} {
		kind, code, _ := strings.Cut(kind, ":")
		got := ""
		for _, s := range schemes() {
			for _, c := range s.concepts {
				if s.kind == kind && c.code == code {
					got = c.definition
				}
			}
		}
		if got != want {
			t.Errorf("%s %s: %q, want %q", kind, code, got, want)
		}
	}
}

// TestEvents: what sources say of births, deaths and burials names the event of another vocabulary that it speaks of; no such event is published, and why is said.
func TestEvents(t *testing.T) {
	dir, _ := published(t)
	all, err := readAll(filepath.Join(dir, "vocabulary.ttl"), "")
	if err != nil {
		t.Fatal(err)
	}
	vocabulary := show(all)
	for term, event := range map[string]string{"born": "Birth", "died": "Death", "buried": "Burial"} {
		if !strings.Contains(vocabulary, "<"+MS+term+"> <"+rdfs+"seeAlso> <"+bio+event+"> .") {
			t.Errorf("ms:%s does not name bio:%s", term, event)
		}
	}
	if !strings.Contains(vocabulary, eventsNote) {
		t.Error("why there are no events is not said")
	}
	data, err := readAll(filepath.Join(dir, "dataset.ttl"), "")
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(show(data), bio) {
		t.Error("the data have terms of BIO")
	}
}

// TestPublicIDs: only codes that are there have names in a public knowledge base, an exact or close name stands for one code, and the words of the match are
// of SKOS. Every conflict, branch and state has a name but those for which no two independent lists were found.
func TestPublicIDs(t *testing.T) {
	kinds := []string{"branch", "conflict", "state"}
	without := map[codeKey]bool{{"conflict", "mexican-border"}: true}
	type named struct {
		codeKey
		iri string
	}
	of, seen, twice := map[string]codeKey{}, map[codeKey]bool{}, map[named]bool{}
	item := regexp.MustCompile(`^http://(www\.wikidata\.org/entity/Q[1-9][0-9]*|dbpedia\.org/resource/[A-Z][0-9A-Za-z_]*)$`)
	for _, r := range vocab.Rows("public-identifiers") {
		key, iri := codeKey{r.Get("kind"), r.Get("code")}, r.Get("iri")
		switch {
		case !known()[key]:
			t.Errorf("%s: no code %v", r.Where(), key)
		case !slices.Contains(kinds, key.kind):
			t.Errorf("%s: %v is no conflict, branch or state", r.Where(), key)
		case !item.MatchString(iri):
			t.Errorf("%s: %s is no item", r.Where(), iri)
		case twice[named{key, iri}]:
			t.Errorf("%s: %s twice", r.Where(), iri)
		case r.Get("match") == "related":
		case of[iri] != codeKey{}:
			t.Errorf("%s: %s is also %v", r.Where(), iri, of[iri])
		case !slices.Contains([]string{"exact", "close"}, r.Get("match")):
			t.Errorf("%s: SKOS knows no %s match", r.Where(), r.Get("match"))
		default:
			of[iri] = key
		}
		seen[key], twice[named{key, iri}] = true, true
	}
	for key := range known() {
		if slices.Contains(kinds, key.kind) && seen[key] == without[key] {
			t.Errorf("%v: has a name: %t; is in the list of those without: %t", key, seen[key], without[key])
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
		if !known()[codeKey{c.kind, c.code}] {
			t.Errorf("%s %q has no concept", c.kind, c.code)
		}
		if got := conceptName(c.kind, c.code); got != c.name {
			t.Errorf("%s %q: %s, want %s", c.kind, c.code, got, c.name)
		}
	}
}
