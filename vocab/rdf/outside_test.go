package rdf

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The checks of this file ask programs of others: rapper (raptor2-utils), and n3 and rdf-validate-shacl from npm, whose versions are pinned in
// .ci/package.json. MUSTERSTONE_NODE names the folder that holds node_modules. What is missing is skipped with a message, unless MUSTERSTONE_OUTSIDE=1
// demands it.

func missing(t *testing.T, format string, args ...any) {
	t.Helper()
	if os.Getenv("MUSTERSTONE_OUTSIDE") == "1" {
		t.Fatalf(format, args...)
	}
	t.Skipf(format, args...)
}

func rapper(t *testing.T, file, format string) string {
	t.Helper()
	path, err := exec.LookPath("rapper")
	if err != nil {
		missing(t, "rapper (raptor2-utils) is not installed: %v", err)
	}
	out, err := exec.Command(path, "-q", "-i", format, "-o", "ntriples", file).Output()
	if err != nil {
		t.Fatalf("rapper on %s: %v", file, err)
	}
	return string(out)
}

// node runs a script of testdata where the packages are.
func node(t *testing.T, script string, args ...string) string {
	t.Helper()
	dir := os.Getenv("MUSTERSTONE_NODE")
	if dir == "" {
		missing(t, "MUSTERSTONE_NODE does not name the folder with node_modules")
	}
	path, err := exec.LookPath("node")
	if err != nil {
		missing(t, "node is not installed: %v", err)
	}
	text, err := os.ReadFile(filepath.Join("testdata", script))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	// A module that comes by standard input resolves its imports from the working folder.
	cmd := exec.CommandContext(ctx, path, append([]string{"--input-type=module", "-"}, args...)...)
	cmd.Dir = dir
	cmd.Stdin = bytes.NewReader(text)
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("node %s %v: %v\n%s", script, args, err, stderr.String())
	}
	return string(out)
}

// canonical reads N-Triples of another program and gives them sorted, in canonical form.
func canonical(t *testing.T, text string) string {
	t.Helper()
	var all []Triple
	for tr, err := range ReadNTriples(strings.NewReader(text), "outside") {
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, tr)
	}
	return show(all)
}

func TestOutsideParsers(t *testing.T) {
	dir, _ := published(t)
	for _, f := range []string{"dataset.ttl", "dataset.nt", "proposals.ttl", "proposals.nt", "vocabulary.ttl", "shapes.ttl", "about.ttl"} {
		path := filepath.Join(dir, f)
		own, err := readAll(path, "")
		if err != nil {
			t.Fatal(err)
		}
		want := show(own)
		format, n3 := "turtle", "text/turtle"
		if strings.HasSuffix(f, ".nt") {
			format, n3 = "ntriples", "application/n-triples"
		}
		t.Run("rapper "+f, func(t *testing.T) {
			if got := canonical(t, rapper(t, path, format)); got != want {
				t.Errorf("rapper reads %d triples, we %d, or others", strings.Count(got, "\n"), strings.Count(want, "\n"))
			}
		})
		t.Run("n3 "+f, func(t *testing.T) {
			if got := canonical(t, node(t, "n3.mjs", path, n3)); got != want {
				t.Errorf("n3 reads %d triples, we %d, or others", strings.Count(got, "\n"), strings.Count(want, "\n"))
			}
		})
	}
}

// TestOutsideParts: the parts of a large publication are whole files to other readers, and hold together what the N-Triples do; so do the files of changes.
func TestOutsideParts(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	d := sample(t)
	d.PartTriples = 40
	if _, err := Publish(dir, d); err != nil {
		t.Fatal(err)
	}
	d = sample(t)
	d.PartTriples = 40
	d.Decisions[0].Because = "same company, and the same rank"
	if _, err := Publish(dir, d); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"dataset", "proposals"} {
		parts, err := filepath.Glob(filepath.Join(dir, name+"-part-*.ttl"))
		if err != nil || len(parts) < 2 {
			t.Fatalf("%s is in %d parts: %v", name, len(parts), err)
		}
		whole, err := os.ReadFile(filepath.Join(dir, name+".nt"))
		if err != nil {
			t.Fatal(err)
		}
		var all strings.Builder
		for _, p := range parts {
			all.WriteString(rapper(t, p, "turtle"))
		}
		if canonical(t, all.String()) != string(whole) {
			t.Errorf("rapper does not find in the parts of %s what %s.nt holds", name, name)
		}
		if canonical(t, node(t, "n3.mjs", append([]string{parts[0], "text/turtle"}, parts[1:]...)...)) != string(whole) {
			t.Errorf("n3 does not find in the parts of %s what %s.nt holds", name, name)
		}
	}
	for _, name := range []string{"gone.nt", "new.nt"} {
		path := filepath.Join(dir, "changes", name)
		text, err := os.ReadFile(path)
		if err != nil || len(text) == 0 {
			t.Fatalf("%s: %d bytes, %v", name, len(text), err)
		}
		if canonical(t, rapper(t, path, "ntriples")) != string(text) || canonical(t, node(t, "n3.mjs", path, "application/n-triples")) != string(text) {
			t.Errorf("rapper or n3 reads %s otherwise", name)
		}
	}
}

// TestShapes lets an outside engine judge the sample, and the sample with one fault in it at a time.
func TestShapes(t *testing.T) {
	dir, _ := published(t)
	file := func(name string) string { return filepath.Join(dir, name) }
	validate := func(t *testing.T, data string) string {
		return node(t, "shacl.mjs", file("shapes.ttl"), data, file("vocabulary.ttl"), file("about.ttl"))
	}
	var good []byte
	for _, name := range []string{"dataset.nt", "proposals.nt"} {
		text, err := os.ReadFile(file(name))
		if err != nil {
			t.Fatal(err)
		}
		good = append(good, text...)
	}
	whole := filepath.Join(t.TempDir(), "whole.nt")
	if err := os.WriteFile(whole, good, 0o666); err != nil {
		t.Fatal(err)
	}
	if got := strings.TrimSpace(validate(t, whole)); got != "conforms" {
		t.Fatalf("the sample does not conform:\n%s", got)
	}
	replace := func(from, to string) func(*testing.T, string) string {
		return func(t *testing.T, s string) string {
			if !strings.Contains(s, from) {
				t.Fatalf("the sample has no %s", from)
			}
			return strings.Replace(s, from, to, 1)
		}
	}
	without := func(words ...string) func(*testing.T, string) string {
		return func(t *testing.T, s string) string {
			var out []string
			dropped := 0
		lines:
			for line := range strings.Lines(s) {
				for _, w := range words {
					if !strings.Contains(line, w) {
						out = append(out, line)
						continue lines
					}
				}
				dropped++
			}
			if dropped == 0 {
				t.Fatalf("the sample has no line with %q", words)
			}
			return strings.Join(out, "")
		}
	}
	m := &mapper{graph: testGraph("https://data.example.org/alder/")}
	marker, record := m.id("marker", "A-1"), m.id("record", "r1")
	match := m.match(marker, "r1")
	faults := []struct {
		name  string
		edit  func(*testing.T, string) string
		shape string
	}{
		{"a probability above one", replace(`#probability> "0.93"^^<http://www.w3.org/2001/XMLSchema#decimal>`, `#probability> "1.97"^^<http://www.w3.org/2001/XMLSchema#decimal>`), "probability"},
		{"a probability in words", replace(`#probability> "0.9"^^<http://www.w3.org/2001/XMLSchema#decimal>`, `#probability> "maybe"`), "probability"},
		{"a match without its marker", without("<"+match.String()+">", "#marker>"), "ofMarker"},
		{"a decision by a program", replace("ns/prov#wasAssociatedWith> <"+m.id("agent", "V. Okafor").String()+">", "ns/prov#wasAssociatedWith> <"+m.id("program", "musterstone 0").String()+">"), "decidedBy"},
		{"a marker said to be the same as a record", func(_ *testing.T, s string) string {
			return s + "<" + marker.String() + "> <" + owl + "sameAs> <" + record.String() + "> .\n"
		}, "sameAs"},
		{"an enlistment that ends before it begins", replace(`#enlistedEarliest> "1862-08-01"`, `#enlistedEarliest> "1863-08-01"`), "enlistedEarliest"},
		{"a link that no decision made", without("#link-", "prov#wasGeneratedBy>"), "byDecision"},
		{"a link by a decision that does not stand", replace("<"+m.id("decision", "d1").String()+"> <"+MS+`stands> "true"`, "<"+m.id("decision", "d1").String()+"> <"+MS+`stands> "false"`), "byDecision"},
		{"a person without a link", without("#identifiedBy>"), "identifiedBy"},
		{"a rank that is no rank", replace("#rank-first-sergeant>", "#arm-infantry>"), "rank"},
		{"a digest that is none", replace(`#sha256> "0a0a`, `#sha256> "zz0a`), "sha256"},
		{"a token that ends before it starts", replace(`#start> "0"`, `#start> "99"`), "start"},
		{"a code that says not what it means", func(_ *testing.T, s string) string {
			code := "<" + MS + "verdict-perhaps> <"
			return s + code + rdfType + "> <" + skos + "Concept> .\n" + code + skos + "inScheme> <" + MS + "scheme-verdict> .\n" + code + skos + "prefLabel> \"perhaps\"@en .\n" + code + dct + "source> \"nobody\" .\n"
		}, "conceptDefinition"},
		{"a code that says not where it is from", func(_ *testing.T, s string) string {
			code := "<" + MS + "verdict-perhaps> <"
			return s + code + rdfType + "> <" + skos + "Concept> .\n" + code + skos + "inScheme> <" + MS + "scheme-verdict> .\n" + code + skos + "prefLabel> \"perhaps\"@en .\n" + code + skos + "definition> \"It may be.\"@en .\n"
		}, "conceptSource"},
	}
	for _, f := range faults {
		t.Run(f.name, func(t *testing.T) {
			bad := filepath.Join(t.TempDir(), "bad.nt")
			if err := os.WriteFile(bad, []byte(f.edit(t, string(good))), 0o666); err != nil {
				t.Fatal(err)
			}
			got := validate(t, bad)
			if !strings.Contains(got, "https://w3id.org/musterstone/shapes#"+f.shape+" ") {
				t.Errorf("the engine does not name shape %s:\n%s", f.shape, got)
			}
		})
	}
}

// TestOutsideEDTF: another parser takes every uncertain date that is published.
func TestOutsideEDTF(t *testing.T) {
	dir, _ := published(t)
	var dates []string
	for _, f := range []string{"dataset.ttl", "vocabulary.ttl"} {
		all, err := readAll(filepath.Join(dir, f), "")
		if err != nil {
			t.Fatal(err)
		}
		for _, tr := range all {
			if l, ok := tr.Obj.(Literal); ok && l.DataType.String() == EDTF {
				dates = append(dates, l.String())
			}
		}
	}
	if len(dates) < 15 {
		t.Errorf("only %d dates are published: %q", len(dates), dates)
	}
	if refused := node(t, "edtf.mjs", dates...); refused != "" {
		t.Errorf("refused:\n%s", refused)
	}
	if refused := node(t, "edtf.mjs", "abt. 1840"); refused == "" {
		t.Error("the parser refuses nothing")
	}
}

// TestOutsideQuads: other readers find in the N-Quads what the two files of N-Triples hold.
func TestOutsideQuads(t *testing.T) {
	dir, _ := published(t)
	path := filepath.Join(dir, "dataset.nq")
	want := show(everything(t, dir))
	if got := canonical(t, rapper(t, path, "nquads")); got != want {
		t.Errorf("rapper reads %d triples, we %d, or others", strings.Count(got, "\n"), strings.Count(want, "\n"))
	}
	text := node(t, "n3.mjs", path, "application/n-quads")
	var all []Triple
	for q, err := range ReadNQuads(strings.NewReader(text), "n3") {
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, q.Triple)
	}
	if got := show(all); got != want {
		t.Errorf("n3 reads %d triples, we %d, or others", strings.Count(got, "\n"), strings.Count(want, "\n"))
	}
}
