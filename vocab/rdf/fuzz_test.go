package rdf

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	knakk "github.com/knakk/rdf"

	"musterstone/model"
)

func seed(f *testing.F, pattern string) {
	for _, s := range []string{
		".5\n", ".4:\n", "<p:><p:e>''''' '\n", `<\u0053\`, "<http://a/s> <http://a/p> \"x\"@en .\n", "@prefix a: <http://a/> .\na:s a a:o ; a:p ( 1 .5 -2e3 [] [ a:q 'x' ] ) .\n",
		"<http://a/s> <http://a/p> \"\"\"line one\n# two\n\"\"\" .", "_:a.b <http://a/p> _:c .",
	} {
		f.Add(s)
	}
	files, err := filepath.Glob(filepath.Join("..", "..", "..", "shared", "data", "w3c-rdf11", pattern))
	if err != nil {
		f.Fatal(err)
	}
	for i, name := range files {
		if i%3 == 0 {
			if b, err := os.ReadFile(name); err == nil {
				f.Add(string(b))
			}
		}
	}
}

// FuzzTurtle: nothing stops the reader but an error with its place, and what it reads it reads again from what is written.
func FuzzTurtle(f *testing.F) {
	seed(f, filepath.Join("rdf-turtle", "*.ttl"))
	f.Fuzz(func(t *testing.T, in string) {
		var all []Triple
		for tr, err := range ReadTurtle(strings.NewReader(in), TurtleOptions{Name: "x", Base: "http://base.example/a/b"}) {
			if err != nil {
				if !strings.HasPrefix(err.Error(), "x:") {
					t.Fatalf("an error without its place: %v", err)
				}
				return
			}
			all = append(all, tr)
		}
		text := show(all)
		if !utf8.ValidString(text) {
			t.Fatalf("not UTF-8: %q", text)
		}
		back := 0
		for _, err := range ReadNTriples(strings.NewReader(text), "x") {
			if err != nil {
				t.Fatalf("%v in %q", err, text)
			}
			back++
		}
		if want := strings.Count(text, "\n"); back != want {
			t.Fatalf("%d of %d triples come back", back, want)
		}
	})
}

// FuzzNTriples: as FuzzTurtle; and Turtle, whose grammar holds all of N-Triples, reads the same triples.
func FuzzNTriples(f *testing.F) {
	seed(f, filepath.Join("rdf-n-triples", "*.nt"))
	f.Fuzz(func(t *testing.T, in string) {
		var all []Triple
		for tr, err := range ReadNTriples(strings.NewReader(in), "x") {
			if err != nil {
				if !strings.HasPrefix(err.Error(), "x:") {
					t.Fatalf("an error without its place: %v", err)
				}
				return
			}
			all = append(all, tr)
		}
		again, err := drain(strings.NewReader(in))
		if err != nil {
			t.Fatalf("as Turtle: %v", err)
		}
		if !isomorphicSmall(all, again) {
			t.Fatalf("N-Triples:\n%s\nTurtle:\n%s", show(all), show(again))
		}
	})
}

// isomorphicSmall compares a graph with itself read by Turtle, which puts an "l" before each label.
func isomorphicSmall(a, b []Triple) bool {
	return show(a) == strings.ReplaceAll(show(b), "_:l", "_:") || isomorphic(a, b)
}

// FuzzWrite: whatever text, language, datatype and IRI the constructors take, all writers and readers agree on.
func FuzzWrite(f *testing.F) {
	f.Add("x\" . <http://e/s> <http://e/p> \"y", "en-GB", "http://a/dt", "http://a/a,b")
	f.Add("a\tb\\\n", "zh-Hans-CN", xsd+"date", "http://a/Co.")
	f.Add("1864-08-09", "x", xsd+"date", MS+"born")
	f.Add("ü\u0323", "de", EDTF, "urn:x:ü")
	f.Fuzz(func(t *testing.T, text, lang, datatype, name string) {
		clean, _ := Clean(text)
		s, err := NewIRI(name)
		if err != nil {
			return
		}
		var all []Triple
		add := func(o Object, err error) {
			if err == nil {
				all = append(all, Triple{Subj: s, Pred: s, Obj: o})
			}
		}
		plain, err := NewLiteral(clean)
		if err != nil {
			t.Fatalf("cleaned text refused: %v", err)
		}
		add(plain, nil)
		add(s, nil)
		if checkLang(lang) == nil {
			tagged, err := langLiteral(clean, lang)
			add(tagged, err)
		}
		if dt, err := NewIRI(datatype); err == nil && CheckLexical(clean, datatype) == nil {
			add(knakk.NewTypedLiteral(clean, dt), nil)
		}
		roundTrip(t, all)
	})
}

// FuzzPublish puts any text into every place of a record and a stone that holds text: what comes out reads back whole, and says nothing under a
// foreign name.
func FuzzPublish(f *testing.F) {
	f.Add("x\" . <http://evil.example/s> <http://evil.example/p> \"y", "a/b#c?.csv", "Größe <1>")
	f.Add("\x00\xff\n", "", "Ж")
	f.Fuzz(func(t *testing.T, text, file, name string) {
		stone := &model.Stone{
			ID: model.StoneID(name), Source: model.Source{File: file, Row: 2}, Written: []model.Cell{{Column: name, Value: text}, {Column: text, Value: name}},
			Place: model.Place{Cemetery: name, County: text, State: model.State(text)}, Marker: model.Marker{Inscription: text, Top: text, Motifs: []string{text}}, Notes: text,
		}
		claim := model.Claim{Person: model.Person{Name: model.Name{Surname: name, Given: text, Written: text}, Buried: "here"}, Service: model.Service{Rank: model.Rank(text), Unit: model.Unit{Name: name, Written: text, Company: text}, Remarks: text}}
		d := Dataset{
			Base: "https://data.example.org/", Year: 2025, Title: text, Licence: name, Publisher: text, Program: text, Inputs: map[string]string{file: ""},
			Subjects: slices.Values([]*model.Subject{{Stone: stone, Readings: []model.Reading{{People: []model.Claim{claim}, Probability: 1, Unread: []string{text}}}}}),
			Records:  slices.Values([]*model.Record{{ID: model.RecordID(name), Source: model.Source{File: file}, Claim: claim, Written: stone.Written}}),
		}
		dir := t.TempDir()
		var sum Summary
		m, err := build(&d, dir, &sum)
		if err != nil {
			return
		}
		defer m.Close()
		w, err := m.writeGraph(dir, "dataset", m.sort)
		if err != nil {
			t.Fatal(err)
		}
		o, err := m.writeGraph(dir, "proposals", m.opinion)
		if err != nil {
			t.Fatal(err)
		}
		if err := m.writeAbout(dir, w, o); err != nil {
			t.Fatal(err)
		}
		for _, file := range []string{"dataset.ttl", "dataset.nt", "about.ttl"} {
			all, err := readAll(filepath.Join(dir, file), "")
			if err != nil {
				t.Fatal(err)
			}
			for _, tr := range all {
				if s := tr.Subj.String(); !strings.HasPrefix(s, d.Base) {
					t.Fatalf("%s speaks of %s", file, s)
				}
			}
		}
	})
}
