package rdf

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/piprate/json-gold/ld"
)

// nearContext gives the context beside a document, wherever it is said to be; nothing is fetched.
type nearContext struct{ path string }

func (n nearContext) LoadDocument(u string) (*ld.RemoteDocument, error) {
	if !strings.HasSuffix(u, "context.jsonld") {
		return nil, fmt.Errorf("%s is not the context", u)
	}
	text, err := os.ReadFile(n.path)
	if err != nil {
		return nil, err
	}
	var doc any
	err = json.Unmarshal(text, &doc)
	return &ld.RemoteDocument{DocumentURL: u, Document: doc}, err
}

// TestJSONLD: another processor makes of the JSON-LD the very quads of the N-Quads.
func TestJSONLD(t *testing.T) {
	d := sample(t)
	d.JSONLD = true
	dir := filepath.Join(t.TempDir(), "out")
	if _, err := Publish(dir, d); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(dir, "dataset.jsonld"))
	if err != nil {
		t.Fatal(err)
	}
	var doc any
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	opt := ld.NewJsonLdOptions("https://data.example.org/alder/dataset.jsonld")
	opt.DocumentLoader = nearContext{filepath.Join(dir, "context.jsonld")}
	opt.Format = "application/n-quads"
	got, err := ld.NewJsonLdProcessor().ToRDF(doc, opt)
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile(filepath.Join(dir, "dataset.nq"))
	if err != nil {
		t.Fatal(err)
	}
	canon := func(text string) []string {
		var lines []string
		for q, err := range ReadNQuads(strings.NewReader(text), "quads") {
			if err != nil {
				t.Fatal(err)
			}
			line, err := appendQuad(nil, q)
			if err != nil {
				t.Fatal(err)
			}
			lines = append(lines, string(line))
		}
		slices.Sort(lines)
		return slices.Compact(lines)
	}
	a, b := canon(got.(string)), canon(string(want))
	if !slices.Equal(a, b) {
		for _, l := range a {
			if !slices.Contains(b, l) {
				t.Errorf("only from the JSON-LD: %s", l)
			}
		}
		t.Errorf("%d quads from the JSON-LD, %d in the N-Quads", len(a), len(b))
	}
	if len(b) < 200 {
		t.Errorf("only %d quads", len(b))
	}
}
