package rdf

import (
	"os"
	"strings"
	"testing"
)

func TestW3CNQuads(t *testing.T) {
	dir := suite(t, "rdf-n-quads")
	tests := manifest(t, dir, "https://w3c.github.io/rdf-tests/rdf/rdf11/rdf-n-quads/")
	if len(tests) != 87 {
		t.Errorf("the manifest has %d tests, want 87", len(tests))
	}
	for _, c := range tests {
		f, err := os.Open(c.action)
		if err != nil {
			t.Fatal(err)
		}
		for _, err = range ReadNQuads(f, c.name) {
			if err != nil {
				break
			}
		}
		f.Close()
		switch c.kind {
		case "TestNQuadsPositiveSyntax":
			if err != nil {
				t.Errorf("%s: refused: %v", c.name, err)
			}
		case "TestNQuadsNegativeSyntax":
			if err == nil {
				t.Errorf("%s: taken, should be refused", c.name)
			}
		default:
			t.Errorf("%s: unknown kind %q", c.name, c.kind)
		}
	}
}

// appendQuad appends the quad as one line of canonical N-Quads, with its line feed.
func appendQuad(b []byte, q Quad) ([]byte, error) {
	b, err := AppendTriple(b, q.Triple)
	if err != nil || q.Graph == nil {
		return b, err
	}
	if b, err = appendTerm(b[:len(b)-len(".\n")], q.Graph); err != nil {
		return b, err
	}
	return append(b, " .\n"...), nil
}

// TestQuads: a quad is read with its graph and written as it was read.
func TestQuads(t *testing.T) {
	const text = "<http://a.example/s> <http://a.example/p> \"x\\n\"@en <http://a.example/g> .\n<http://a.example/s> <http://a.example/p> _:b .\n<http://a.example/s> <http://a.example/p> <http://a.example/o> _:g .\n"
	var out []byte
	for q, err := range ReadNQuads(strings.NewReader(text), "x") {
		if err != nil {
			t.Fatal(err)
		}
		if out, err = appendQuad(out, q); err != nil {
			t.Fatal(err)
		}
	}
	if string(out) != text {
		t.Errorf("%s", out)
	}
	for _, bad := range []string{"<a:s> <a:p> <a:o> \"g\" .", "<a:s> <a:p> <a:o> <a:g> <a:h> .", "<a:s> <a:p> <a:o> <a:g>"} {
		for _, err := range ReadNQuads(strings.NewReader(bad), "x") {
			if err == nil {
				t.Errorf("%s was taken", bad)
			}
		}
	}
}

func FuzzReadNQuads(f *testing.F) {
	f.Add("<http://a.example/s> <http://a.example/p> \"x\"@en <http://a.example/g> .\n")
	f.Add("_:a <p:p> \"\\u0041\"^^<x:y> _:g . # c\n")
	f.Add(".5")
	f.Fuzz(func(t *testing.T, text string) {
		var out []byte
		for q, err := range ReadNQuads(strings.NewReader(text), "x") {
			if err != nil {
				return
			}
			if out, err = appendQuad(out, q); err != nil {
				t.Fatal(err)
			}
		}
		var again []byte
		for q, err := range ReadNQuads(strings.NewReader(string(out)), "x") {
			if err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			again, err = appendQuad(again, q)
			if err != nil {
				t.Fatal(err)
			}
		}
		if string(again) != string(out) {
			t.Fatalf("%q and then %q", out, again)
		}
	})
}
